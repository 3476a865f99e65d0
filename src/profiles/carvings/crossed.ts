import { z } from 'zod';
import { defineCarving } from '../carving.ts';
import { spiral, spiralCutter } from '../spiral.ts';

const meaning = 'Grooves of both hands that cross in a lozenge pattern, as on a knurled knob.';

export const crossed = defineCarving({
  kind: 'crossed',
  label: 'crossed grooves',
  meaning,
  schema: z.strictObject({
    carving: z.literal('crossed').meta({ label: 'crossed grooves', description: meaning }),
    ...spiral,
  }),
  example: { carving: 'crossed', starts: 12, width: 3, depth: 1, section: 'vee', turns: 0.25 },
  runOut: (c, girth) => 2 * c.depth * girth,
  cuts: (c, reach, ground) => spiralCutter(c, [1, -1], reach, ground),
});
