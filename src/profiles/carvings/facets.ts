import { z } from 'zod';
import { count, mm } from '../../../shared/schema.ts';
import { TURN } from '../../../shared/units.ts';
import { around, type Cutter, defineCarving, fromNearest, helix, range, runOut, type Wrong } from '../carving.ts';
import { depthShare, depthShares } from '../reach.ts';

const meaning = 'Flats around the form, as on an octagonal leg or a file handle.';

/** Distance of a flat from the axis where the form has radius r0; at most r0. */
function flatOn(
  c: { flats: number; depth?: number | undefined; across?: number | undefined },
  girth: number,
  r0: number,
): number {
  if (c.across !== undefined) return Math.min(r0, (c.across / 2) * girth);
  return c.depth === undefined ? r0 * Math.cos(TURN / c.flats / 2) : r0 - c.depth * girth;
}

/** A flat lies at one distance from the axis and takes what stands beyond it. */
export const facets = defineCarving({
  kind: 'facets',
  label: 'facets',
  meaning,
  schema: z.strictObject({
    carving: z.literal('facets').meta({ label: 'facets', description: meaning }),
    ...range,
    flats: count({ label: 'flats', description: 'How many around.', min: 1, max: 48, step: 1 }),
    depth: mm({
      label: 'depth',
      description:
        'How deep the middle of a flat lies; left out with `across`, as deep as brings the arrises to the form.',
      min: 0.05,
      max: 100,
      step: 0.25,
    }).optional(),
    across: mm({
      label: 'across flats',
      description: 'In place of a depth: twice the distance of a flat from the axis, the same all along.',
      min: 0.5,
      max: 600,
      step: 0.5,
    }).optional(),
    ...around,
    ...runOut,
  }),
  example: { carving: 'facets', flats: 8 },
  runOut: (c, girth, r0) => 2 * (r0 - flatOn(c, girth, r0)),
  cuts(c, reach, ground): Cutter | Wrong {
    const { girth } = ground;
    if (c.depth !== undefined && c.across !== undefined)
      return {
        at: 'across',
        message: 'facets have a depth or a size across flats, not both',
        allowed: 'leave one out',
      };
    if (c.depth === undefined && c.across === undefined && c.flats < 3)
      return {
        at: 'depth',
        message: 'one or two flats meet no neighbour',
        allowed: 'give a depth or a size across flats',
      };
    const step = TURN / c.flats;
    const cosHalf = c.flats < 3 ? 0 : Math.cos(step / 2);
    const [low, high] = ground.outlineBounds(reach.from, reach.to);
    const fixed = c.across === undefined ? undefined : (c.across / 2) * girth;
    if (fixed !== undefined && fixed >= high)
      return {
        at: 'across',
        message: `flats ${(2 * fixed).toFixed(2)} mm across cut nothing: the form is at most ${(2 * high).toFixed(2)} mm thick there`,
        allowed: 'a smaller size across flats',
      };
    const depth = (c.depth ?? 0) * girth;
    const full = (r0: number) => flatOn(c, girth, r0);
    if (full(low) <= 0)
      return {
        at: 'depth',
        message: `flats ${depth} mm deep pass the axis of a form ${(2 * low).toFixed(2)} mm thick`,
        allowed: `less than ${low.toFixed(2)} mm`,
      };
    const flatAt = (r0: number, share: number) => r0 + share * (full(r0) - r0);
    const own = helix(c, reach);
    const turning = (x: number) => own(x) + ground.twist(x);
    let r0 = 0;
    let turned = 0;
    let flat = 0;
    return {
      reach,
      symmetry: c.flats,
      turning,
      at(x, side, outline) {
        const share = depthShare(reach, x, side);
        if (share <= 0) return false;
        r0 = outline;
        turned = turning(x);
        flat = flatAt(r0, share);
        return flat < r0;
      },
      cut(r, theta) {
        const cos = Math.cos(fromNearest(theta - turned, step));
        return r * cos > flat ? flat / cos : r;
      },
      bounds(x0, x1, r0Low, r0High, least, most) {
        const [shallow, deep] = depthShares(reach, x0, x1);
        const outermost = cosHalf > 0 ? flatAt(r0High, shallow) / cosHalf : Infinity;
        return [Math.min(least, flatAt(r0Low, deep)), Math.min(most, outermost)];
      },
      creases() {
        // Rounding must not split an arris that lies on the form into two.
        const half = flat > r0 * cosHalf * (1 + 1e-12) ? Math.acos(flat / r0) : undefined;
        return Array.from({ length: c.flats }, (_, k) =>
          half === undefined ? [turned + (k + 0.5) * step] : [turned + k * step - half, turned + k * step + half],
        ).flat();
      },
      guides: [],
    };
  },
});
