/** Knobs name places by number (`form[3].length`): when entries of a list come, go or move, the names follow them. Pure. */
import { partSchema } from '../../part/document.ts';
import { takesAt } from '../../part/knobs.ts';
import { pathText, placeOf } from '../../part/place.ts';
import { schemaAt } from '../../part/walk.ts';
import type { Raw } from '../state/contract.ts';

interface RawKnob {
  sets?: unknown;
}

/**
 * Keeps every knob on the entries that it set; a place whose entry is gone, or is of a kind that has no such member, leaves
 * its knob, and a knob without places leaves the document.
 * @param draft already changed @param where new number of an entry by its old one; undefined where it is gone
 */
export function knobsFollow(
  draft: Raw,
  list: 'form' | 'carvings',
  where: (index: number) => number | undefined = (k) => k,
): void {
  if (!Array.isArray(draft.knobs)) return;
  const left = (draft.knobs as RawKnob[]).filter((knob) => {
    if (!Array.isArray(knob.sets)) return true;
    const sets = knob.sets.flatMap((written: unknown) => {
      const place = typeof written === 'string' ? placeOf(written) : undefined;
      if (place?.[0] !== list || typeof place[1] !== 'number') return [written];
      const index = where(place[1]);
      if (index === undefined) return [];
      const now = [list, index, ...place.slice(2)];
      const schema = schemaAt(partSchema, draft, now);
      return schema && takesAt(schema) ? [pathText(now)] : [];
    });
    if (sets.length === knob.sets.length && sets.every((s, i) => s === (knob.sets as unknown[])[i])) return true;
    knob.sets = sets;
    return sets.length > 0;
  });
  if (left.length === draft.knobs.length) return;
  if (left.length) draft.knobs = left;
  else delete draft.knobs;
}
