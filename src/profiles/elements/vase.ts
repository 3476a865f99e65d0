import { z } from 'zod';
import { ratio } from '../../../shared/schema.ts';
import { defineElement, diameter, end, extent, halfWave, start } from '../element.ts';

const meaning = 'A soft swelling: from its foot to a belly and in again to its neck, without an edge.';
/** Where the belly is if it is not told, as a share of the length. */
export const BELLY_AT = 0.35;

export const vase = defineElement({
  kind: 'vase',
  label: 'vase',
  meaning,
  schema: z.strictObject({
    element: z.literal('vase').meta({ label: 'vase', description: meaning }),
    ...extent,
    start: start.optional(),
    end: end.optional(),
    belly: diameter(
      'belly',
      'Diameter where it is thickest; left out, half its length more than its thicker end.',
    ).optional(),
    at: ratio({
      label: 'belly at',
      description: 'Where the belly is, as a share of its length from the chuck side; left out, 0.35.',
      min: 0.05,
      max: 0.95,
      step: 0.01,
    }).optional(),
  }),
  example: { element: 'vase', length: 60, start: 22, end: 18, belly: 44 },
  outline(e, { length, start, end = start, girth }) {
    const belly = e.belly === undefined ? Math.max(start, end) + length / 4 : (e.belly / 2) * girth;
    const at = (e.at ?? BELLY_AT) * length;
    return {
      radius: (u) =>
        u < at
          ? start + (belly - start) * halfWave(u / at)
          : end + (belly - end) * halfWave((length - u) / (length - at)),
      knots: [at],
      breaks: [],
    };
  },
});
