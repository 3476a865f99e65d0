import { z } from 'zod';
import { mm } from '../../../shared/schema.ts';
import { defineElement, end, extent, halfRound, inside, start, straight } from '../element.ts';
import { crown } from './bead.ts';

const meaning = 'A half-round hollow; it is half as deep as it is long unless given its own depth.';

export const cove = defineElement({
  kind: 'cove',
  label: 'cove',
  meaning,
  schema: z.strictObject({
    element: z.literal('cove').meta({ label: 'cove', description: meaning }),
    ...extent,
    start: start.optional(),
    end: end.optional(),
    depth: mm({
      label: 'depth',
      description: 'How far its bottom lies below its lips; left out, half its length.',
      min: 0.05,
      max: 200,
      step: 0.25,
    }).optional(),
  }),
  example: { element: 'cove', length: 16 },
  outline(e, { length, start, end = start, girth }) {
    const depth = e.depth === undefined ? length / 2 : e.depth * girth;
    const lip = straight(start, end, length);
    return {
      radius: (u) => lip(u) - depth * halfRound((2 * u) / length - 1),
      knots: inside(length, crown(length, start, end, -depth)),
      breaks: [],
    };
  },
});
