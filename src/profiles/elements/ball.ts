import { z } from 'zod';
import { defineElement, end, extent, inside, start } from '../element.ts';

const meaning = 'Part of a true sphere: the one that passes through the diameters at its two ends.';

export const ball = defineElement({
  kind: 'ball',
  label: 'ball',
  meaning,
  schema: z.strictObject({
    element: z.literal('ball').meta({ label: 'ball', description: meaning }),
    ...extent,
    start: start.optional(),
    end: end.optional(),
  }),
  example: { element: 'ball', length: 36, start: 14 },
  outline(_e, { length, start, end = start }) {
    // Equal distance of its middle from both rims.
    const middle = (length * length + end * end - start * start) / (2 * length);
    return {
      // From the rim that is nearer, so that it meets either rim exactly.
      radius: (u) =>
        2 * u < length
          ? Math.sqrt(start * start + u * (2 * middle - u))
          : Math.sqrt(end * end + (length - u) * (length + u - 2 * middle)),
      knots: inside(length, middle),
      breaks: [],
    };
  },
});
