import { z } from 'zod';
import { concaveQuadrant, convexQuadrant, crease, defineElement } from '../element.ts';
import { fromSmaller, leading, leadsTo } from '../quadrant.ts';

const meaning = 'A cyma reversa: its thicker half round, its thinner half hollow, along the axis at both ends.';

/** Two quadrants that meet square to the axis: half-way up the hollow one ends and the round one begins. */
const reversa = (s: number) => (s <= 0.5 ? concaveQuadrant(2 * s) / 2 : (1 + convexQuadrant(2 * s - 1)) / 2);

export const reverseOgee = defineElement({
  kind: 'reverse-ogee',
  label: 'reverse ogee',
  meaning,
  schema: z.strictObject({
    element: z.literal('reverse-ogee').meta({ label: 'reverse ogee', description: meaning }),
    ...leading,
  }),
  example: { element: 'reverse-ogee', length: 10 },
  outline(e, joint) {
    const { length, start } = joint;
    return {
      radius: fromSmaller(length, start, leadsTo(e, joint), reversa),
      knots: [length / 2],
      breaks: [crease(length / 2)],
    };
  },
});
