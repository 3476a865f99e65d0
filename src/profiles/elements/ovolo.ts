import { z } from 'zod';
import { convexQuadrant, defineElement } from '../element.ts';
import { fromSmaller, leading, leadsTo } from '../quadrant.ts';

const meaning = 'A convex quarter-round from one diameter to another.';

export const ovolo = defineElement({
  kind: 'ovolo',
  label: 'ovolo',
  meaning,
  schema: z.strictObject({
    element: z.literal('ovolo').meta({ label: 'ovolo', description: meaning }),
    ...leading,
  }),
  example: { element: 'ovolo', length: 10 },
  outline(e, joint) {
    const { length, start } = joint;
    return { radius: fromSmaller(length, start, leadsTo(e, joint), convexQuadrant), knots: [], breaks: [] };
  },
});
