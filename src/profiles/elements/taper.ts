import { z } from 'zod';
import { defineElement, end, extent, start, straight } from '../element.ts';
import { DIMINUTION } from './entasis.ts';

const meaning = 'A straight cone from one diameter to another.';

export const taper = defineElement({
  kind: 'taper',
  label: 'taper',
  meaning,
  schema: z.strictObject({
    element: z.literal('taper').meta({ label: 'taper', description: meaning }),
    ...extent,
    start: start.optional(),
    end: end.optional(),
  }),
  example: { element: 'taper', length: 80, start: 40, end: 30 },
  outline: (_e, { length, start, end = start * DIMINUTION }) => ({
    radius: straight(start, end, length),
    knots: [],
    breaks: [],
  }),
});
