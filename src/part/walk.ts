/** Goes along a schema and a value side by side: which declaration stands for which place in a document. */
import type { z } from 'zod';
import { metaOf } from '../../shared/schema.ts';

/** The parts of a schema's definition that are walked. */
interface Def {
  type: string;
  innerType?: z.ZodType;
  in?: z.ZodType;
  shape?: Record<string, z.ZodType>;
  element?: z.ZodType;
  items?: z.ZodType[];
  valueType?: z.ZodType;
  options?: z.ZodType[];
  discriminator?: string;
  values?: unknown[];
  entries?: Record<string, string>;
}
const defOf = (schema: z.ZodType): Def => (schema as unknown as { def: Def }).def;

/** Takes wrappers (optional, default, pipes) off a schema. */
export function bare(schema: z.ZodType): z.ZodType {
  let at = schema;
  for (;;) {
    const inner = defOf(at).innerType ?? defOf(at).in;
    if (!inner) return at;
    at = inner;
  }
}

const isGroup = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** Of a union, the alternative that a value means: by its discriminator, else by its bare type. */
function alternative(schema: z.ZodType, value: unknown): z.ZodType | undefined {
  const { options = [], discriminator } = defOf(schema);
  if (discriminator) {
    const tag = isGroup(value) ? value[discriminator] : undefined;
    return options.map(bare).find((o) => {
      const own = defOf(o).shape?.[discriminator];
      return own && (defOf(bare(own)).values ?? []).includes(tag);
    });
  }
  const wanted = Array.isArray(value)
    ? ['array', 'tuple']
    : isGroup(value)
      ? ['object', 'record', 'union']
      : [typeof value, 'enum'];
  return options.map(bare).find((o) => wanted.includes(defOf(o).type));
}

/** The schema with wrappers off and unions decided by the value; undefined where no alternative fits. */
export function decided(schema: z.ZodType, value: unknown): z.ZodType | undefined {
  let at: z.ZodType | undefined = bare(schema);
  while (at && defOf(at).type === 'union') {
    const next = alternative(at, value);
    at = next && bare(next);
  }
  return at;
}

/** The declaration of one member of a group or list. @returns undefined where the schema knows none */
export function member(schema: z.ZodType, value: unknown, key: PropertyKey): z.ZodType | undefined {
  const at = decided(schema, value);
  if (!at) return undefined;
  const def = defOf(at);
  if (def.type === 'object') return Object.hasOwn(def.shape!, key) ? def.shape![key as string] : undefined;
  if (def.type === 'array') return def.element;
  if (def.type === 'tuple') return def.items?.[Number(key)];
  if (def.type === 'record') return def.valueType;
  return undefined;
}

/** The declaration at a path. @param path keys from the root @returns undefined where the schema knows none */
export function schemaAt(root: z.ZodType, value: unknown, path: readonly PropertyKey[]): z.ZodType | undefined {
  let schema: z.ZodType | undefined = root;
  let at: unknown = value;
  for (const key of path) {
    schema = schema && member(schema, at, key);
    at = valueAt(at, [key]);
  }
  return schema;
}

/** What stands at a path; undefined if nothing does. */
export function valueAt(value: unknown, path: readonly PropertyKey[]): unknown {
  let at = value;
  for (const key of path)
    at = typeof at === 'object' && at !== null ? (at as Record<PropertyKey, unknown>)[key] : undefined;
  return at;
}

/** The keys that a group may have at this place; empty if it is no group. */
export function knownKeys(schema: z.ZodType, value: unknown): string[] {
  const at = decided(schema, value);
  return at && defOf(at).shape ? Object.keys(defOf(at).shape!) : [];
}

/** The names that a choice allows; empty if it is no choice. */
export const choicesOf = (schema: z.ZodType): string[] => Object.values(defOf(bare(schema)).entries ?? {});

/** The bare type's name: object, array, number, string, boolean, enum … */
export const typeOf = (schema: z.ZodType): string => defOf(bare(schema)).type;

/**
 * Rewrites every number in a value by its declared unit, leaving the rest as it is (also what the schema does not know).
 * @param change gets the number and its unit @returns a new value of the same shape
 */
export function mapNumbers(
  schema: z.ZodType | undefined,
  value: unknown,
  change: (n: number, unit: string) => number,
): unknown {
  if (!schema) return value;
  if (typeof value === 'number') {
    const own = decided(schema, value);
    const unit = (own && metaOf(own)?.unit) ?? metaOf(schema)?.unit;
    return unit ? change(value, unit) : value;
  }
  if (Array.isArray(value)) return value.map((v, i) => mapNumbers(member(schema, value, i), v, change));
  if (isGroup(value))
    return Object.fromEntries(
      Object.entries(value).map(([k, v]) => [k, mapNumbers(member(schema, value, k), v, change)]),
    );
  return value;
}
