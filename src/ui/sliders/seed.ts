/** What a part of the document begins as when a hand adds it: valid by its schema, natural where something is known. Pure. */
import type { z } from 'zod';
import { metaOf } from '../../../shared/schema.ts';
import { catalogAt } from '../../part/catalog-at.ts';
import { bare, choicesOf, typeOf } from '../../part/walk.ts';
import { entriesOf } from './fields.ts';

interface Def {
  type: string;
  values?: unknown[];
  shape?: Record<string, z.ZodType>;
  items?: z.ZodType[];
  element?: z.ZodType;
  options?: z.ZodType[];
}

/** Steps above its lower end at which a number begins that nothing is known of. */
const STEPS_IN = 10;

/** @param schema of the place @returns a value that it takes, lengths in mm; only what cannot be left out is written */
export function seedOf(schema: z.ZodType): unknown {
  const catalog = catalogAt(schema);
  if (catalog) return catalog.rows[0]!.id;
  const at = bare(schema);
  const def = (at as unknown as { def: Def }).def;
  switch (typeOf(at)) {
    case 'object':
      return Object.fromEntries(
        Object.entries(def.shape!)
          // What takes nothing may be left out: it has a default, or none is needed.
          .filter(([, member]) => !member.safeParse(undefined).success)
          .map(([key, member]) => [key, seedOf(member)]),
      );
    case 'tuple':
      return def.items!.map(seedOf);
    case 'array':
      return Array.from({ length: entriesOf(at).least }, () => seedOf(def.element!));
    case 'union':
      return seedOf(def.options![0]!);
    case 'literal':
      return def.values![0];
    case 'enum':
      return choicesOf(at)[0];
    case 'boolean':
      return false;
    case 'number':
    case 'int': {
      const { min = 0, max = Infinity, step = 1 } = metaOf(schema) ?? {};
      return Number(Math.min(max, Math.max(min, 0) + STEPS_IN * step).toFixed(6));
    }
    default:
      return 'unnamed';
  }
}

/**
 * One more entry for a list: between the last two where they are groups of numbers (readings stay in their order), else another
 * one like the last.
 * @param entries at least one @returns the new list
 */
export function oneMore(entries: readonly unknown[]): unknown[] {
  const [a, b] = entries.slice(-2);
  if (entries.length >= 2 && isGroup(a) && isGroup(b)) {
    const between = Object.fromEntries(
      Object.entries(b).map(([key, value]) => {
        const before = a[key];
        const both = typeof value === 'number' && typeof before === 'number';
        return [key, both ? Number(((value + before) / 2).toFixed(6)) : value];
      }),
    );
    return [...entries.slice(0, -1), between, b];
  }
  return [...entries, JSON.parse(JSON.stringify(entries.at(-1)))];
}

const isGroup = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
