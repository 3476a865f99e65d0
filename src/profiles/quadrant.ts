/** What the mouldings share that lead from one diameter to another as far out as they are long. */
import { choice, mm } from '../../shared/schema.ts';
import { end, extent, type Joint, start } from './element.ts';

export const leading = {
  ...extent,
  start: start.optional(),
  end: end.optional(),
  goes: choice(['out', 'in'], {
    label: 'goes',
    description: 'Where no end is given: out to a larger diameter towards the tail, or in to a smaller; left out, out.',
  }).optional(),
  projection: mm({
    label: 'projection',
    description: 'Where no end is given: how far it goes out or in; left out, as far as it is long.',
    min: 0.05,
    max: 300,
    step: 0.25,
  }).optional(),
};

/** Radius at the tail-side end of a moulding that is as far out as it is long unless told otherwise. @returns mm */
export function leadsTo(
  e: { goes?: 'out' | 'in' | undefined; projection?: number | undefined },
  { length, start, end, girth }: Joint,
): number {
  if (end !== undefined) return end;
  const projection = e.projection === undefined ? length : e.projection * girth;
  return start + (e.goes === 'in' ? -projection : projection);
}

/**
 * Radius along a moulding told from its smaller to its larger end.
 * @param profile height 0…1 over s = 0…1, s = 0 at the smaller end
 */
export function fromSmaller(length: number, r0: number, r1: number, profile: (s: number) => number) {
  return r1 >= r0
    ? (u: number) => r0 + (r1 - r0) * profile(u / length)
    : (u: number) => r1 + (r0 - r1) * profile((length - u) / length);
}
