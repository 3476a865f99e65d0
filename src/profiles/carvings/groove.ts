import { z } from 'zod';
import { defineCarving, hand, handSign } from '../carving.ts';
import { spiral, spiralCutter } from '../spiral.ts';

const meaning = 'One or more grooves winding about the form, across whatever lies under them.';

export const groove = defineCarving({
  kind: 'groove',
  label: 'spiral groove',
  meaning,
  schema: z.strictObject({
    carving: z.literal('groove').meta({ label: 'spiral groove', description: meaning }),
    ...spiral,
    hand: hand.optional(),
  }),
  example: { carving: 'groove', starts: 1, width: 4, depth: 1.5, turns: 4 },
  runOut: (c, girth) => 2 * c.depth * girth,
  cuts: (c, reach, ground) => spiralCutter(c, [handSign(c.hand)], reach, ground),
});
