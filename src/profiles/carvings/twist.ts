import { z } from 'zod';
import { mm } from '../../../shared/schema.ts';
import { TURN } from '../../../shared/units.ts';
import { defineCarving, hand, handSign, range, turns } from '../carving.ts';

const meaning =
  'Turns everything angular in its range about the axis, like a wrung cloth; what lies beyond stays turned.';

export const twist = defineCarving({
  kind: 'twist',
  label: 'twist',
  meaning,
  schema: z.strictObject({
    carving: z.literal('twist').meta({ label: 'twist', description: meaning }),
    ...range,
    turns,
    hand: hand.optional(),
    ease: mm({
      label: 'ease',
      description: 'Length at either end over which the twist sets in; left out, an eighth of its range.',
      min: 0,
      max: 1000,
      step: 1,
    }).optional(),
  }),
  example: { carving: 'twist', turns: 0.5 },
  turns(c, { from, to }) {
    const length = to - from;
    const ease = Math.min(c.ease ?? length / 8, length / 2);
    const total = handSign(c.hand) * c.turns * TURN;
    const rate = total / (length - ease);
    // The rate grows evenly over the ease, so the angle is a parabola, a line, a parabola.
    return (x) => {
      const u = x - from;
      if (u <= 0) return 0;
      if (u >= length) return total;
      if (u < ease) return (rate * u * u) / (2 * ease);
      if (u > length - ease) return total - (rate * (length - u) ** 2) / (2 * ease);
      return rate * (u - ease / 2);
    };
  },
  bends(c, { from, to }) {
    const ease = Math.min(c.ease ?? (to - from) / 8, (to - from) / 2);
    return [from, from + ease, to - ease, to].map((x) => ({ x, kind: 'edge' }));
  },
});
