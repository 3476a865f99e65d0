import { z } from 'zod';
import { mm } from '../../../shared/schema.ts';
import { crease, defineElement, end, extent, start, straight } from '../element.ts';

const meaning = 'A vee cut around the form; it is half as deep as it is long unless given its own depth.';

export const vee = defineElement({
  kind: 'vee',
  label: 'vee',
  meaning,
  schema: z.strictObject({
    element: z.literal('vee').meta({ label: 'vee', description: meaning }),
    ...extent,
    start: start.optional(),
    end: end.optional(),
    depth: mm({
      label: 'depth',
      description: 'How far its bottom lies below its lips; left out, half its length, which makes a right angle.',
      min: 0.05,
      max: 200,
      step: 0.25,
    }).optional(),
  }),
  example: { element: 'vee', length: 4 },
  outline(e, { length, start, end = start, girth }) {
    const depth = e.depth === undefined ? length / 2 : e.depth * girth;
    const lip = straight(start, end, length);
    return {
      radius: (u) => lip(u) - depth * (1 - Math.abs((2 * u) / length - 1)),
      knots: [length / 2],
      breaks: [crease(length / 2)],
    };
  },
});
