/** Changes of a document, offered with what is wrong: applied to it, and brought into its own units. */
import type { Change, Problem } from '../../shared/problems.ts';
import { type Part, partSchema } from './document.ts';
import { lengthsToInches } from './inch.ts';
import { valueAt } from './walk.ts';

type Key = string | number;
type Group = { [key: Key]: unknown };

/** The keys of a path as problems write it: `form[3].length` → form, 3, length. */
export const keysOf = (path: string): Key[] =>
  (path.match(/[^.[\]]+/g) ?? []).map((key) => (/^\d+$/.test(key) ? Number(key) : key));

/**
 * A document with a change made.
 * @param document as it is written, or a whole part @param change in the same units
 * @returns a copy; groups on the way are made where they are missing, `null` takes a place out
 */
export function applyChange<T>(document: T, change: Change): T {
  const copy = structuredClone(document);
  for (const { path, value } of change.set) {
    const keys = keysOf(path);
    let at = copy as Group;
    for (const [i, key] of keys.slice(0, -1).entries()) {
      if (typeof at[key] !== 'object' || at[key] === null) at[key] = typeof keys[i + 1] === 'number' ? [] : {};
      at = at[key] as Group;
    }
    const last = keys.at(-1)!;
    if (value === null) delete at[last];
    else at[last] = structuredClone(value);
  }
  return copy;
}

/** The part with a change made, checked again. @returns undefined where that would be no valid part */
export function changedPart(part: Part, change: Change): Part | undefined {
  const checked = partSchema.safeParse(applyChange(part, change));
  return checked.success ? checked.data : undefined;
}

/** A change in mm as the document of a part would have it written. */
function asWritten(part: Part, change: Change): Change {
  if (part.units !== 'inch') return change;
  const written = lengthsToInches(partSchema, applyChange(part, change));
  const set = change.set.map((e) => ({ ...e, value: e.value === null ? null : valueAt(written, keysOf(e.path)) }));
  return { ...change, set };
}

/** Problems with their changes in the units of the part's own document, ready to be applied to it. */
export const inDocumentUnits = (part: Part, problems: readonly Problem[]): Problem[] =>
  problems.map((p) => (p.changes ? { ...p, changes: p.changes.map((c) => asWritten(part, c)) } : p));
