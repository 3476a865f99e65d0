import { z } from 'zod';
import { defineElement, extent, start } from '../element.ts';

const meaning = 'A straight round length of one diameter.';

export const cylinder = defineElement({
  kind: 'cylinder',
  label: 'cylinder',
  meaning,
  schema: z.strictObject({
    element: z.literal('cylinder').meta({ label: 'cylinder', description: meaning }),
    ...extent,
    start: start.optional(),
  }),
  example: { element: 'cylinder', length: 40, start: 40 },
  outline: (_e, { start }) => ({ radius: () => start, knots: [], breaks: [] }),
});
