import { z } from 'zod';
import { choice, count, mm, ratio } from '../../../shared/schema.ts';
import { SAME_X } from '../../../shared/tolerances.ts';
import { radians, TURN } from '../../../shared/units.ts';
import { around, type Cutter, defineCarving, fromNearest, helix, range, runOut, type Wrong } from '../carving.ts';
import { guideLine } from '../guide.ts';
import { depthShare, depthShares } from '../reach.ts';

const meaning = 'Hollows side by side along the form, each as wide as the land between them allows.';
/** Depth of a flute for its width where neither is told: half of a half-round. */
const SHALLOW = 0.25;

/**
 * A half-round or half-ellipse would hang over at its edges, where its walls stand square to its width and not along the
 * radius; no bit that points at the axis cuts that. So its walls lean out from the radius by at least this much.
 */
const LEAN = radians(3);
/** Share of a flute's half width at which its edge is looked at from inside. */
const JUST_INSIDE = 1e-6;
const SIN_LEAN = Math.sin(LEAN);

/** Half the angle that a flute takes, radians. */
const halfWidth = (c: { count: number; land?: number | undefined }) => TURN / c.count / 2 / (1 + (c.land ?? 0));

/** Depth of a flute's middle below a round surface of radius r0; told for its width, it counts from the chord. */
function depthOf(
  c: { count: number; land?: number | undefined; depth?: number | undefined; deep?: number | undefined },
  girth: number,
  r0: number,
): number {
  if (c.depth !== undefined) return c.depth * girth;
  const half = halfWidth(c);
  return (c.deep ?? SHALLOW) * 2 * r0 * Math.sin(half) + r0 * (1 - Math.cos(half));
}

export const flutes = defineCarving({
  kind: 'flutes',
  label: 'flutes',
  meaning,
  schema: z.strictObject({
    carving: z.literal('flutes').meta({ label: 'flutes', description: meaning }),
    ...range,
    count: count({ label: 'count', description: 'How many around.', min: 1, max: 96, step: 1 }),
    section: choice(['round', 'elliptic', 'vee'], {
      label: 'section',
      description: 'Shape across: an arc of a circle, half an ellipse, or a vee; left out, round.',
    }).optional(),
    depth: mm({
      label: 'depth',
      description: 'How deep its middle lies below the surface.',
      min: 0.05,
      max: 100,
      step: 0.25,
    }).optional(),
    deep: ratio({
      label: 'depth for width',
      description:
        'In place of a depth: depth below its two edges over its width; 0.5 is a half-round. Left out, 0.25.',
      min: 0.02,
      max: 0.5,
      step: 0.01,
    }).optional(),
    land: ratio({
      label: 'land',
      description:
        'Width of the strip left between two flutes over the width of a flute; 0, the default, leaves an arris.',
      min: 0,
      max: 20,
      step: 0.05,
    }).optional(),
    ...around,
    ...runOut,
  }),
  example: { carving: 'flutes', count: 12, depth: 1.5, land: 0.25 },
  runOut: (c, girth, r0) => 2 * depthOf(c, girth, r0),
  cuts(c, reach, ground): Cutter | Wrong {
    const { count, section = 'round' } = c;
    const step = TURN / count;
    const full = halfWidth(c);
    const fullSin = Math.sin(full);
    const fullCos = Math.cos(full);
    const fixed = c.depth === undefined ? undefined : c.depth * ground.girth;
    if (full >= TURN / 4 - 1e-9)
      return { at: 'land', message: 'a flute this wide goes half around', allowed: 'more flutes or more land' };
    const depthOn = (r0: number) => depthOf(c, ground.girth, r0);
    const own = helix(c, reach);
    const turning = (x: number) => own(x) + ground.twist(x);
    const [low, high] = ground.outlineBounds(reach.from, reach.to);
    const chord = high * (1 - fullCos);
    if (fixed !== undefined && fixed < chord + SAME_X)
      return {
        at: 'depth',
        message: `flutes as wide as these would bulge at a depth of ${fixed.toFixed(2)} mm`,
        allowed: `at least ${(Math.ceil(chord * 100) / 100).toFixed(2)} mm, more flutes, or more land`,
      };

    if (section === 'round' && fixed !== undefined && fixed > low * (1 - fullCos + fullSin))
      return {
        at: 'depth',
        message: `flutes as wide as these are half-round before they are ${fixed.toFixed(2)} mm deep`,
        allowed: `at most ${(Math.floor(low * (1 - fullCos + fullSin) * 100) / 100).toFixed(2)} mm, fewer flutes, or less land`,
      };

    let r0 = 0;
    let turned = 0;
    let half = 0;
    let floor = 0;
    // Of an arc: bottom radius over arc radius (0: flat floor). Of an ellipse: half width, depth, height of its middle.
    let q = 0;
    let b = 0;
    let s = 0;
    let middle = 0;
    let veeNormal = 0;
    /** Radius of its hollow at an angle from its middle: the nearer crossing of the ray. */
    const bottom = (off: number): number => {
      const sin = Math.sin(off);
      const cos = Math.cos(off);
      if (section === 'round')
        return (floor * (q + 2)) / ((q + 1) * cos + Math.sqrt(Math.max(0, 1 - ((q + 1) * sin) ** 2)));
      if (section === 'vee') return floor / (cos - veeNormal * sin);
      const A = (sin / b) ** 2 + (cos / s) ** 2;
      const B = (middle * cos) / (s * s);
      const C = (middle / s) ** 2 - 1;
      return (B - Math.sqrt(Math.max(0, B * B - A * C))) / A;
    };
    /** Radius of the leaning wall through its edge. */
    const wall = (off: number): number => (r0 * SIN_LEAN) / Math.sin(half + LEAN - off);
    /** Angle at which its hollow gives way to its wall; undefined where it comes up to its edge by itself. */
    const foot = (): number | undefined => {
      let [low, high] = [0, half * (1 - JUST_INSIDE)];
      if (wall(high) <= bottom(high)) return undefined;
      for (let i = 0; i < 60; i++) {
        const between = (low + high) / 2;
        if (wall(between) < bottom(between)) low = between;
        else high = between;
      }
      return (low + high) / 2;
    };
    return {
      reach,
      symmetry: count,
      turning,
      at(x, side, outline) {
        const share = depthShare(reach, x, side);
        if (share <= 0) return false;
        r0 = outline;
        turned = turning(x);
        const depth = depthOn(r0);
        floor = r0 - depth * share;
        if (section === 'round') {
          // The same arc all along its run-out, only lifted, as one bit leaves it.
          const sagitta = depth - r0 * (1 - fullCos);
          const curvature = (2 * sagitta) / ((r0 * fullSin) ** 2 + sagitta ** 2);
          q = floor * curvature;
          if (share === 1) half = full;
          else if (curvature < 1e-9) half = Math.acos(Math.min(1, floor / r0));
          else {
            const arc = 1 / curvature;
            const centre = floor + arc;
            half = Math.acos(Math.min(1, (r0 * r0 + centre * centre - arc * arc) / (2 * r0 * centre)));
          }
        } else {
          half = full * share;
          b = r0 * Math.sin(half);
          middle = r0 * Math.cos(half);
          s = middle - floor;
          veeNormal = s / b;
        }
        return true;
      },
      cut(r, theta) {
        const off = Math.abs(fromNearest(theta - turned, step));
        if (off >= half) return r;
        const left = Math.max(bottom(off), wall(off));
        return left < r0 ? r - (r0 - left) : r;
      },
      bounds(x0, x1, _r0Low, r0High, low, high) {
        const [, most] = depthShares(reach, x0, x1);
        return [low - depthOn(r0High) * most, high];
      },
      creases() {
        const at: number[] = [];
        const meets = foot();
        for (let k = 0; k < count; k++) {
          at.push(turned + k * step - half, turned + k * step + half);
          if (section === 'vee') at.push(turned + k * step);
          if (meets !== undefined) at.push(turned + k * step - meets, turned + k * step + meets);
        }
        return at;
      },
      guides: Array.from({ length: count }, (_, k) => {
        const depth = depthOn((low + high) / 2);
        const r = (low + high) / 2;
        const sagitta = depth - r * (1 - fullCos);
        const halfChord = r * fullSin;
        return {
          kind: 'flute' as const,
          label: `flute ${k + 1}`,
          line: guideLine(reach.from, reach.to, (x) => turning(x) + k * step),
          width: 2 * halfChord,
          depth,
          bottomRadius:
            section === 'vee'
              ? 0
              : section === 'round'
                ? (halfChord ** 2 + sagitta ** 2) / (2 * sagitta)
                : halfChord ** 2 / sagitta,
        };
      }),
    };
  },
});
