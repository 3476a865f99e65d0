import { z } from 'zod';
import { concaveQuadrant, convexQuadrant, defineElement } from '../element.ts';
import { fromSmaller, leading, leadsTo } from '../quadrant.ts';

const meaning = 'A cyma recta: its thicker half hollow, its thinner half round, square to the axis at both ends.';

/** Two quadrants that meet along the axis: half-way up the round one ends and the hollow one begins. */
const recta = (s: number) => (s <= 0.5 ? convexQuadrant(2 * s) / 2 : (1 + concaveQuadrant(2 * s - 1)) / 2);

export const ogee = defineElement({
  kind: 'ogee',
  label: 'ogee',
  meaning,
  schema: z.strictObject({
    element: z.literal('ogee').meta({ label: 'ogee', description: meaning }),
    ...leading,
  }),
  example: { element: 'ogee', length: 10 },
  outline(e, joint) {
    const { length, start } = joint;
    return { radius: fromSmaller(length, start, leadsTo(e, joint), recta), knots: [length / 2], breaks: [] };
  },
});
