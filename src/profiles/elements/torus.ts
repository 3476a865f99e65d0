import { z } from 'zod';
import { mm } from '../../../shared/schema.ts';
import { defineElement, end, extent, halfRound, start } from '../element.ts';

const meaning = 'The large half-round of a base, its crown in the middle whatever diameters it stands between.';

/** Two quadrants back to back: over equal feet a half-round, over unequal ones the lower foot has the taller quadrant. */
export const torus = defineElement({
  kind: 'torus',
  label: 'torus',
  meaning,
  schema: z.strictObject({
    element: z.literal('torus').meta({ label: 'torus', description: meaning }),
    ...extent,
    start: start.optional(),
    end: end.optional(),
    rise: mm({
      label: 'rise',
      description: 'How far its crown stands above its thicker foot; left out, half its length.',
      min: 0.05,
      max: 200,
      step: 0.25,
    }).optional(),
  }),
  example: { element: 'torus', length: 20 },
  outline(e, { length, start, end = start, girth }) {
    const crown = Math.max(start, end) + (e.rise === undefined ? length / 2 : e.rise * girth);
    return {
      radius(u) {
        const w = (2 * u) / length - 1;
        const foot = w < 0 ? start : end;
        return foot + (crown - foot) * halfRound(w);
      },
      knots: [length / 2],
      breaks: [],
    };
  },
});
