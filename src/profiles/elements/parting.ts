import { z } from 'zod';
import { defineElement, extent, start } from '../element.ts';

const meaning =
  'Waste between two pieces on one stick: it stands thick while they are cut and is turned down to its neck last, to be sawn there.';

export const parting = defineElement({
  kind: 'parting',
  label: 'parting groove',
  meaning,
  schema: z.strictObject({
    element: z.literal('parting').meta({ label: 'parting groove', description: meaning }),
    ...extent,
    start: start.optional(),
  }),
  example: { element: 'parting', length: 8, start: 12 },
  outline: (_e, { start }) => ({ radius: () => start, knots: [], breaks: [] }),
});
