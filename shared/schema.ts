/**
 * Words for schema fields: each parameter is declared once, with its limits, default, unit, label, step and meaning;
 * the slider, the command line, the JSON Schema and the fuzz domain all read that one declaration.
 */
import { z } from 'zod';

export type Unit =
  | 'mm'
  | 'deg'
  | 'turns'
  | 'count'
  | 'ratio'
  | 'rpm'
  | 'mm/min'
  | 'N'
  | 'W'
  | 'Nm'
  | 'percent'
  | 'money'
  | 's'
  | 'h';

/** What every parameter says of itself. */
export interface About {
  /** Short name shown beside the slider. */
  label: string;
  /** One sentence: what it does to the part. */
  description: string;
}

export interface Numeric extends About {
  min: number;
  max: number;
  step: number;
  default?: number;
}

/** The metadata that a schema field carries (read back with `metaOf`). */
export interface FieldMeta extends About {
  unit?: Unit;
  step?: number;
  min?: number;
  max?: number;
}

function numeric(unit: Unit, n: Numeric, whole = false) {
  const base = whole ? z.int() : z.number();
  const limited = base.min(n.min).max(n.max);
  return limited.meta({ label: n.label, description: n.description, unit, step: n.step, min: n.min, max: n.max });
}

/** A length in mm, with limits. */
export const mm = (n: Numeric) => numeric('mm', n);
/** An angle in degrees, with limits. */
export const deg = (n: Numeric) => numeric('deg', n);
/** A whole number, with limits. */
export const count = (n: Numeric) => numeric('count', n, true);
/** A plain ratio, with limits. */
export const ratio = (n: Numeric) => numeric('ratio', n);
/** A number of any other unit, with limits. */
export const quantity = (unit: Unit, n: Numeric) => numeric(unit, n);
/** One of a few named choices. */
export const choice = <const T extends readonly [string, ...string[]]>(values: T, about: About) =>
  z.enum(values).meta({ label: about.label, description: about.description });
/** Yes or no. */
export const flag = (about: About) => z.boolean().meta({ label: about.label, description: about.description });
/** A line of text with something in it. */
export const text = (max: number, about: About) =>
  z.string().min(1, { abort: true }).max(max).regex(/\S/).meta({ label: about.label, description: about.description });

/** The metadata of a field, looked up through optional/default wrappers; undefined if it declares none. */
export function metaOf(schema: z.ZodType): FieldMeta | undefined {
  let at: z.ZodType | undefined = schema;
  while (at) {
    const meta = z.globalRegistry.get(at) as FieldMeta | undefined;
    if (meta?.label) return meta;
    at = (at as unknown as { def: { innerType?: z.ZodType } }).def.innerType;
  }
  return undefined;
}
