import { z } from 'zod';
import { concaveQuadrant, defineElement } from '../element.ts';
import { fromSmaller, leading, leadsTo } from '../quadrant.ts';

const meaning = 'A concave quarter-round from one diameter to another.';

export const cavetto = defineElement({
  kind: 'cavetto',
  label: 'cavetto',
  meaning,
  schema: z.strictObject({
    element: z.literal('cavetto').meta({ label: 'cavetto', description: meaning }),
    ...leading,
  }),
  example: { element: 'cavetto', length: 10 },
  outline(e, joint) {
    const { length, start } = joint;
    return { radius: fromSmaller(length, start, leadsTo(e, joint), concaveQuadrant), knots: [], breaks: [] };
  },
});
