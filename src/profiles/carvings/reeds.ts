import { z } from 'zod';
import { count, mm } from '../../../shared/schema.ts';
import { TURN } from '../../../shared/units.ts';
import { around, type Cutter, defineCarving, fromNearest, helix, range, runOut, type Wrong } from '../carving.ts';
import { guideLine } from '../guide.ts';
import { depthShare, depthShares } from '../reach.ts';

const meaning = 'Rounded ribs side by side along the form, with a sharp valley between them.';

/** Depth at which neighbouring circles touch as full half-rounds; deeper, the surface would hang over. */
function halfRoundDepth(count: number, r0: number): number {
  const half = TURN / count / 2;
  return r0 * (1 - Math.cos(half) / (1 + Math.sin(half)));
}

/** A reed is an arc through its crown on the form and the two valleys beside it; half-round where it leaves them square to the chord. */
export const reeds = defineCarving({
  kind: 'reeds',
  label: 'reeds',
  meaning,
  schema: z.strictObject({
    carving: z.literal('reeds').meta({ label: 'reeds', description: meaning }),
    ...range,
    count: count({ label: 'count', description: 'How many around.', min: 3, max: 96, step: 1 }),
    depth: mm({
      label: 'depth',
      description: 'How deep the valleys lie below the crowns; left out, as deep as makes the reeds half-round.',
      min: 0.05,
      max: 100,
      step: 0.25,
    }).optional(),
    ...around,
    ...runOut,
  }),
  example: { carving: 'reeds', count: 12, depth: 2 },
  runOut: (c, girth, r0) => 2 * (c.depth === undefined ? halfRoundDepth(c.count, r0) : c.depth * girth),
  cuts(c, reach, ground): Cutter | Wrong {
    const step = TURN / c.count;
    const cosHalf = Math.cos(step / 2);
    const sinHalf = Math.sin(step / 2);
    const deepest = (r0: number) => halfRoundDepth(c.count, r0);
    const fixed = c.depth === undefined ? undefined : c.depth * ground.girth;
    const [low, high] = ground.outlineBounds(reach.from, reach.to);
    if (fixed !== undefined && fixed > deepest(low))
      return {
        at: 'depth',
        message: `${c.count} reeds on a diameter of ${(2 * low).toFixed(2)} mm are half-round before they are ${fixed.toFixed(2)} mm deep`,
        allowed: `at most ${(Math.floor(deepest(low) * 100) / 100).toFixed(2)} mm, or fewer reeds`,
      };
    const depthOn = (r0: number) => fixed ?? deepest(r0);
    const own = helix(c, reach);
    const turning = (x: number) => own(x) + ground.twist(x);
    let r0 = 0;
    let turned = 0;
    let arc = 0;
    let centre = 0;
    return {
      reach,
      symmetry: c.count,
      turning,
      at(x, side, outline) {
        const share = depthShare(reach, x, side);
        if (share <= 0) return false;
        r0 = outline;
        turned = turning(x);
        const valley = r0 - depthOn(r0) * share;
        const fall = r0 - valley * cosHalf;
        const aside = valley * sinHalf;
        arc = (fall * fall + aside * aside) / (2 * fall);
        centre = r0 - arc;
        return true;
      },
      cut(r, theta) {
        const off = fromNearest(theta - turned, step);
        const left = centre * Math.cos(off) + Math.sqrt(Math.max(0, arc * arc - (centre * Math.sin(off)) ** 2));
        return left < r0 ? r - (r0 - left) : r;
      },
      bounds(x0, x1, _r0Low, r0High, least, most) {
        return [least - depthOn(r0High) * depthShares(reach, x0, x1)[1], most];
      },
      creases: () => Array.from({ length: c.count }, (_, k) => turned + (k + 0.5) * step),
      guides: Array.from({ length: c.count }, (_, k) => ({
        kind: 'groove' as const,
        label: `valley ${k + 1}`,
        line: guideLine(reach.from, reach.to, (x) => turning(x) + (k + 0.5) * step),
        width: (low + high) * sinHalf,
        depth: depthOn((low + high) / 2),
        bottomRadius: 0,
      })),
    };
  },
});
