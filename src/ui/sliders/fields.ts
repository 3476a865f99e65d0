/** From the schema to rows of the panel: what can be set at a place of the document, with its words and limits. Pure. */
import type { z } from 'zod';
import { type FieldMeta, metaOf, type Unit } from '../../../shared/schema.ts';
import { catalogAt } from '../../part/catalog-at.ts';
import { partSchema } from '../../part/document.ts';
import { bare, choicesOf, decided, schemaAt, typeOf, valueAt } from '../../part/walk.ts';
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
  /** Given where the whole group may be left out: whether the document has it. */
  optional?: { present: boolean };
  /** Given for a row of one's own where a catalog has rows too: the id to go back to. */
  catalogRow?: string;
  /** Given for an entry of a list: whether the list may lose it. */
  entry?: { removable: boolean };
  /** Given for a list: how many entries it has, how many it may have, and whether they are too many to show. */
  list?: { length: number; least: number; most: number; hidden: boolean };
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
    const there = valueAt(raw, at);
    const row = rowAt(member, there, at);
    if (row) {
      own.rows.push(row);
      return;
    }
    const mayGo = wrapping(member).optional;
    const absent: FieldGroup = { ...titled(metaOf(member), at), path: at, rows: [] };
    const groups = there === undefined && mayGo ? [absent] : fieldsAt(raw, at);
    const catalog = catalogAt(member);
    below.push(
      ...groups.map((g, i) => ({
        ...g,
        ...(i === 0 && mayGo ? { optional: { present: there !== undefined } } : {}),
        ...(i === 0 && catalog ? { catalogRow: catalogRowOf(catalog.rows, there) } : {}),
      })),
    );
  };
  if (def?.type === 'object') {
    for (const [key, member] of Object.entries(def.shape!)) {
      if (HIDDEN.includes(key) || typeOf(member) === 'literal' || (only && !only.includes(key))) continue;
      add(key, member);
    }
  } else if (def?.type === 'tuple') for (const [i, member] of def.items!.entries()) add(i, member);
  else if (def?.type === 'array') {
    const entries = Array.isArray(value) ? value : [];
    const { least, most } = entriesOf(shape!);
    const hidden = entries.length > LONGEST_LIST;
    own.list = { length: entries.length, least, most, hidden };
    if (!hidden) for (const i of entries.keys()) add(i, def.element!);
    // Entries share the label of their list: their number tells them apart.
    own.rows = own.rows.map((r) => ({ ...r, label: `${r.label} ${Number(r.path.at(-1)) + 1}` }));
    const removable = entries.length > least;
    const numbered = (g: FieldGroup): FieldGroup =>
      g.path.length === path.length + 1
        ? { ...g, title: `${g.title || own.title} ${Number(g.path.at(-1)) + 1}`, entry: { removable } }
        : g;
    return [own, ...below.map(numbered)];
  }
  return own.rows.length || path.length ? [own, ...below] : below;
}

/** Least and greatest number of entries of a list. */
export function entriesOf(schema: z.ZodType): { least: number; most: number } {
  const checks = (bare(schema) as unknown as { def: { checks?: { _zod: { def: ListCheck } }[] } }).def.checks ?? [];
  const limits = checks.map((c) => c._zod.def);
  return {
    least: limits.find((l) => l.check === 'min_length')?.minimum ?? 0,
    most: limits.find((l) => l.check === 'max_length')?.maximum ?? Infinity,
  };
}
interface ListCheck {
  check: string;
  minimum?: number;
  maximum?: number;
}

/** The catalog's row that a row of one's own came from, else the first. */
function catalogRowOf(rows: readonly { id: string }[], own: unknown): string {
  const id = String((own as { id?: unknown } | undefined)?.id ?? '').replace(/^own-/, '');
  return rows.find((r) => r.id === id)?.id ?? rows[0]!.id;
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
