import { z } from 'zod';
import { mm } from '../../../shared/schema.ts';
import { defineElement, extent, start } from '../element.ts';

const meaning = 'A narrow flat band that sets two shapes apart.';

export const fillet = defineElement({
  kind: 'fillet',
  label: 'fillet',
  meaning,
  schema: z.strictObject({
    element: z.literal('fillet').meta({ label: 'fillet', description: meaning }),
    ...extent,
    start: start.optional(),
    rise: mm({
      label: 'rise',
      description: 'How far the band stands above what comes before it; below zero it is sunk.',
      min: -100,
      max: 100,
      step: 0.25,
    }).optional(),
  }),
  example: { element: 'fillet', length: 3, rise: 1.5 },
  outline: ({ rise = 0 }, { start, girth }) => ({ radius: () => start + rise * girth, knots: [], breaks: [] }),
});
