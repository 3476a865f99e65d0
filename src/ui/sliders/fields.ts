/** From the schema to rows of the panel: what can be set at a place of the document, with its words and limits. Pure. */
import type { z } from 'zod';
import { type FieldMeta, metaOf, type Unit } from '../../../shared/schema.ts';
import { catalogAt } from '../../part/catalog-at.ts';
import { partSchema } from '../../part/document.ts';
import { choicesOf, decided, schemaAt, typeOf, valueAt } from '../../part/walk.ts';
import type { Path, Raw } from '../state/contract.ts';

export interface Choice {
  value: string;
  label: string;
}

/** One row of the panel. */
export interface FieldRow {
  path: Path;
  kind: 'number' | 'choice' | 'flag' | 'text' | 'row';
  label: string;
  description: string;
  unit?: Unit;
  step: number;
  min: number;
  max: number;
  /** Whether it may be left out, so that it is what is natural. */
  optional: boolean;
  /** What stands for it when the document leaves it out. */
  default?: unknown;
  choices: Choice[];
}

export interface FieldGroup {
  title: string;
  description: string;
  path: Path;
  rows: FieldRow[];
  /** Given for a list: what one more entry would be, and whether the entries are shown. */
  list?: { add: unknown; removable: boolean };
}

interface Def {
  type: string;
  innerType?: z.ZodType;
  defaultValue?: unknown;
  options?: z.ZodType[];
  shape?: Record<string, z.ZodType>;
  items?: z.ZodType[];
  element?: z.ZodType;
}
const defOf = (schema: z.ZodType): Def => (schema as unknown as { def: Def }).def;

/** What wrappers say: may it be left out, and what stands for it then. */
function wrapping(schema: z.ZodType): { optional: boolean; default?: unknown } {
  let at: z.ZodType | undefined = schema;
  while (at) {
    const def = defOf(at);
    if (def.type === 'default' || def.type === 'prefault') return { optional: false, default: def.defaultValue };
    if (def.type === 'optional') return { optional: true };
    at = def.innerType;
  }
  return { optional: false };
}

/** Longer lists are for a table, not for sliders. */
const LONGEST_LIST = 24;
/** Names that a document has but no hand sets here. */
const HIDDEN = ['id', 'source', '$schema', 'cavetto'];

const about = (meta: FieldMeta | undefined, key: string) => ({
  label: meta?.label ?? key,
  description: meta?.description ?? '',
});

/** The row of one member, if it is a plain value. */
function rowAt(schema: z.ZodType, value: unknown, path: Path): FieldRow | undefined {
  const meta = metaOf(schema);
  const base = {
    ...about(meta, String(path.at(-1))),
    ...wrapping(schema),
    path,
    step: meta?.step ?? 1,
    min: meta?.min ?? -Infinity,
    max: meta?.max ?? Infinity,
    choices: [],
    ...(meta?.unit ? { unit: meta.unit } : {}),
  };
  const catalog = catalogAt(schema);
  if (catalog) {
    const choices = catalog.rows.map((r) => ({ value: r.id, label: r.label }));
    return typeof value === 'object' && value !== null ? undefined : { ...base, kind: 'row', choices };
  }
  switch (typeOf(schema)) {
    case 'number':
    case 'int':
      return { ...base, kind: 'number' };
    case 'boolean':
      return { ...base, kind: 'flag' };
    case 'string':
      return { ...base, kind: 'text' };
    case 'enum':
      return { ...base, kind: 'choice', choices: choicesOf(schema).map((c) => ({ value: c, label: c })) };
    default:
      return undefined;
  }
}

/**
 * All that can be set at a place: its plain members first, then a group for each member that has members.
 * @param raw the document as written @param path of a group, a list or a single value in it
 * @param only members wanted of that group; left out, all
 */
export function fieldsAt(raw: Raw, path: Path, only?: readonly string[]): FieldGroup[] {
  const schema = schemaAt(partSchema, raw, path);
  if (!schema) return [];
  const value = valueAt(raw, path);
  const meta = metaOf(schema);
  const own: FieldGroup = { ...titled(meta, path), path, rows: [] };
  const single = path.length ? rowAt(schema, value, path) : undefined;
  if (single) return [{ ...own, rows: [single] }];
  const shape = decided(schema, value ?? {});
  const def = shape && defOf(shape);
  const below: FieldGroup[] = [];
  const add = (key: string | number, member: z.ZodType) => {
    const at = [...path, key];
    const row = rowAt(member, valueAt(raw, at), at);
    if (row) own.rows.push(row);
    else if (valueAt(raw, at) !== undefined || (typeOf(member) === 'object' && !wrapping(member).optional))
      below.push(...fieldsAt(raw, at));
  };
  if (def?.type === 'object') {
    for (const [key, member] of Object.entries(def.shape!)) {
      if (HIDDEN.includes(key) || typeOf(member) === 'literal' || (only && !only.includes(key))) continue;
      add(key, member);
    }
  } else if (def?.type === 'tuple') for (const [i, member] of def.items!.entries()) add(i, member);
  else if (def?.type === 'array' && Array.isArray(value)) {
    own.list = { add: value.at(-1), removable: value.length > 1 };
    if (value.length <= LONGEST_LIST) for (const i of value.keys()) add(i, def.element!);
    return [own, ...below.map((g, i) => ({ ...g, title: `${g.title || own.title} ${i + 1}` }))];
  }
  return own.rows.length || path.length ? [own, ...below] : below;
}

const titled = (meta: FieldMeta | undefined, path: Path) => ({
  title: meta?.label ?? (typeof path.at(-1) === 'number' ? '' : String(path.at(-1) ?? '')),
  description: meta?.description ?? '',
});

/** Of each line one member at most: the hand that sets one takes the other out. */
const ALTERNATIVES = [
  ['length', 'share'],
  ['depth', 'deep'],
  ['over', 'from'],
  ['over', 'to'],
];

/** Members that must go when this one is set. @param group the group as written */
export function alternativesTo(key: string | number, group: unknown): string[] {
  const present = (k: string) => typeof group === 'object' && group !== null && k in group;
  return ALTERNATIVES.filter((pair) => pair.includes(String(key)))
    .map(([a, b]) => (a === key ? b! : a!))
    .filter(present);
}

/** Steps that a slider can tell apart; beyond them it shows only the part around its value. */
const FINEST = 800;

/**
 * The stretch that a slider shows: all of it if it is short, else up to twice the value, rounded up.
 * @param value where it stands, in the row's unit
 */
export function handRange(row: Pick<FieldRow, 'min' | 'max' | 'step'>, value: number): { from: number; to: number } {
  const { min, max, step } = row;
  if ((max - min) / step <= FINEST) return { from: min, to: max };
  const wanted = Math.max(Math.abs(value) * 2, 20 * step);
  const power = 10 ** Math.floor(Math.log10(wanted));
  const to = Math.min(max, ([1, 2, 5, 10].find((m) => m * power >= wanted) ?? 10) * power);
  return { from: min < 0 ? Math.max(min, -to) : min, to };
}
