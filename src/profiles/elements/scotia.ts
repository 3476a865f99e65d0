import { z } from 'zod';
import { choice, mm, ratio } from '../../../shared/schema.ts';
import { defineElement, end, extent, halfRound, start } from '../element.ts';

const meaning = 'A hollow of two quarter-rounds, a small one and a large one whose edge stands further out.';
/** The small quadrant takes a third of the height, the large one the rest (Nicholson, The Mechanic's Companion). */
const SMALL = 1 / 3;

export const scotia = defineElement({
  kind: 'scotia',
  label: 'scotia',
  meaning,
  schema: z.strictObject({
    element: z.literal('scotia').meta({ label: 'scotia', description: meaning }),
    ...extent,
    start: start.optional(),
    end: end.optional(),
    large: choice(['chuck', 'tail'], {
      label: 'large side',
      description: 'Which end the large quarter-round is at; left out, the chuck side.',
    }).optional(),
    split: ratio({
      label: 'small share',
      description: 'Share of its length that the small quarter-round takes; left out, a third.',
      min: 0.1,
      max: 0.5,
      step: 0.01,
    }).optional(),
    depth: mm({
      label: 'depth',
      description: 'How far its bottom lies below the thinner edge; left out, the radius of the small quarter-round.',
      min: 0.05,
      max: 200,
      step: 0.25,
    }).optional(),
  }),
  example: { element: 'scotia', length: 15, start: 40 },
  outline(e, { length, start, end, girth }) {
    const small = (e.split ?? SMALL) * length;
    const atChuck = e.large === 'tail' ? small : length - small;
    const atTail = length - atChuck;
    const depth = e.depth === undefined ? small : e.depth * girth;
    // With one edge given, the quarter-rounds are true and the other edge follows; with two, they are stretched to meet both.
    const bottom = end === undefined ? start - (depth + Math.max(0, atChuck - atTail)) : Math.min(start, end) - depth;
    const last = end ?? bottom + depth + Math.max(0, atTail - atChuck);
    return {
      radius(u) {
        const [edge, w] = u < atChuck ? [start, (atChuck - u) / atChuck] : [last, (u - atChuck) / atTail];
        return edge - (edge - bottom) * halfRound(w);
      },
      knots: [atChuck],
      breaks: [],
    };
  },
});
