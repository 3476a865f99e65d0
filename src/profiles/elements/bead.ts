import { z } from 'zod';
import { mm } from '../../../shared/schema.ts';
import { defineElement, end, extent, halfRound, inside, start, straight } from '../element.ts';

const meaning = 'A half-round standing on the form; it projects by half its length unless given its own rise.';

/** Where a half-round of height `rise` on a line from r0 to r1 is highest: there its slope is the line's, turned round. */
export function crown(length: number, r0: number, r1: number, rise: number): number {
  const k = (r1 - r0) / (2 * rise);
  return (length / 2) * (1 + k / Math.hypot(1, k));
}

export const bead = defineElement({
  kind: 'bead',
  label: 'bead',
  meaning,
  schema: z.strictObject({
    element: z.literal('bead').meta({ label: 'bead', description: meaning }),
    ...extent,
    start: start.optional(),
    end: end.optional(),
    rise: mm({
      label: 'rise',
      description: 'How far its crown stands above its feet; left out, half its length.',
      min: 0.05,
      max: 200,
      step: 0.25,
    }).optional(),
  }),
  example: { element: 'bead', length: 10 },
  outline(e, { length, start, end = start, girth }) {
    const rise = e.rise === undefined ? length / 2 : e.rise * girth;
    const foot = straight(start, end, length);
    return {
      radius: (u) => foot(u) + rise * halfRound((2 * u) / length - 1),
      knots: inside(length, crown(length, start, end, rise)),
      breaks: [],
    };
  },
});
