import { z } from 'zod';
import { choice, count, deg, mm } from '../../../shared/schema.ts';
import { TURN } from '../../../shared/units.ts';
import { type Cutter, defineCarving, fromNearest, hand, helix, range, runOut, turns, type Wrong } from '../carving.ts';
import { guideLine } from '../guide.ts';
import { BOTH_TOLD, pitch, turnsOf } from '../pitch.ts';
import { depthShare, depthShares } from '../reach.ts';

const meaning = 'Barley twist: one to six round strands winding about the form.';

/** Over the angle φ of a strand: a wave (1 − cos φ)/2 deep, or a rope 1 − |cos φ/2| deep with a sharp valley. */
export const lobes = defineCarving({
  kind: 'lobes',
  label: 'barley twist',
  meaning,
  schema: z.strictObject({
    carving: z.literal('lobes').meta({ label: 'barley twist', description: meaning }),
    ...range,
    starts: count({ label: 'strands', description: 'How many strands wind side by side.', min: 1, max: 6, step: 1 }),
    depth: mm({
      label: 'depth',
      description: 'How deep the hollows lie below the crowns.',
      min: 0.05,
      max: 100,
      step: 0.25,
    }),
    shape: choice(['wave', 'rope'], {
      label: 'shape',
      description: 'Round hollows like round crowns, or round strands with a sharp valley; left out, wave.',
    }).optional(),
    turns: turns.optional(),
    pitch: pitch.optional(),
    hand: hand.optional(),
    turned: deg({
      label: 'turned',
      description: 'Angle of the first crown at its start, from the top flat of the blank.',
      min: -360,
      max: 360,
      step: 1,
    }).optional(),
    ...runOut,
  }),
  example: { carving: 'lobes', starts: 2, depth: 5, turns: 3 },
  runOut: (c, girth) => 2 * c.depth * girth,
  cuts(c, reach, ground): Cutter | Wrong {
    if (c.turns !== undefined && c.pitch !== undefined) return BOTH_TOLD;
    const step = TURN / c.starts;
    const rope = c.shape === 'rope';
    const depth = c.depth * ground.girth;
    const own = helix({ ...c, turns: turnsOf(c, reach) }, reach);
    const turning = (x: number) => own(x) + ground.twist(x);
    let turned = 0;
    let deep = 0;
    return {
      reach,
      symmetry: c.starts,
      turning,
      screws: true,
      at(x, side) {
        deep = depth * depthShare(reach, x, side);
        turned = turning(x);
        return deep > 0;
      },
      cut(r, theta) {
        const phase = fromNearest(theta - turned, step) * c.starts;
        return r - deep * (rope ? 1 - Math.cos(phase / 2) : (1 - Math.cos(phase)) / 2);
      },
      bounds: (x0, x1, _r0Low, _r0High, least, most) => [least - depth * depthShares(reach, x0, x1)[1], most],
      creases: () => (rope ? Array.from({ length: c.starts }, (_, k) => turned + (k + 0.5) * step) : []),
      guides: !rope
        ? []
        : Array.from({ length: c.starts }, (_, k) => ({
            kind: 'groove' as const,
            label: `valley ${k + 1}`,
            line: guideLine(reach.from, reach.to, (x) => turning(x) + (k + 0.5) * step),
            width: 2 * depth,
            depth,
            bottomRadius: 0,
          })),
    };
  },
});
