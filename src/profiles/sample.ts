/** Samples a surface along x to a chord tolerance, for drawings. */
import { SAME_X } from '../../shared/tolerances.ts';
import { TURN } from '../../shared/units.ts';
import type { Side, Surface } from './field.ts';

/** Angles looked at in one symmetry sector of a section that is not round. */
const LOOKS = 24;
const SHORTEST = 1e-4;

export interface Positions {
  /** Ascending, mm; a shoulder stands twice. */
  x: Float64Array;
  /** Limit to take there: −1 and +1 at the two of a shoulder, else 0. */
  side: Int8Array;
}

/**
 * Positions between which the surface stays within a tolerance of straight lines, looked at along its own turning:
 * both ends, every break, and as many between as the curvature asks.
 * @param tolerance mm @param longest largest step, mm
 */
export function ringPositions(surface: Surface, tolerance: number, longest = Infinity): Positions {
  const around = Array.from({ length: LOOKS }, (_, j) => (j * TURN) / (LOOKS * surface.symmetry));
  let angles = around;
  const look = (x: number, side: Side) => {
    const turned = surface.turning(x);
    return angles.map((a) => surface.radius(x, a + turned, side));
  };
  const xs: number[] = [];
  const sides: Side[] = [];
  const put = (x: number, side: Side) => {
    xs.push(x);
    sides.push(side);
  };
  const between = (a: number, ra: number[], b: number, rb: number[]): void => {
    const middle = (a + b) / 2;
    const rm = look(middle, 0);
    // A quarter as well: an S-shaped stretch passes through its chord's middle.
    const quarters = [0.25, 0.75].map((t) => look(a + (b - a) * t, 0));
    const off = (r: number[], t: number) =>
      r.reduce((most, v, j) => Math.max(most, Math.abs(v - (ra[j]! + (rb[j]! - ra[j]!) * t))), 0);
    const flat =
      off(rm, 0.5) <= tolerance && off(quarters[0]!, 0.25) <= tolerance && off(quarters[1]!, 0.75) <= tolerance;
    if ((flat && b - a <= longest) || b - a < SHORTEST) return;
    between(a, ra, middle, rm);
    put(middle, 0);
    between(middle, rm, b, rb);
  };
  const stops = [{ x: surface.from, kind: 'edge' }, ...surface.breaks, { x: surface.to, kind: 'edge' }];
  stops.forEach(({ x, kind }, i) => {
    if (i) {
      const a = stops[i - 1]!.x;
      const inset = Math.min(SAME_X, (x - a) / 4);
      angles = surface.isRound(a + inset, x - inset) ? [0] : around;
      between(a, look(a, 1), x, look(x, -1));
    }
    if (kind === 'shoulder') {
      put(x, -1);
      put(x, 1);
    } else put(x, 0);
  });
  return { x: Float64Array.from(xs), side: Int8Array.from(sides) };
}

export interface OutlineDrawing extends Positions {
  /** Largest and smallest radius of the section at each position, mm. */
  most: Float64Array;
  least: Float64Array;
}

/**
 * The half outline for a drawing: largest and smallest radius along x.
 * @param tolerance mm @param longest largest step, mm
 */
export function outlineDrawing(surface: Surface, tolerance: number, longest?: number): OutlineDrawing {
  const positions = ringPositions(surface, tolerance, longest);
  const most = new Float64Array(positions.x.length);
  const least = new Float64Array(positions.x.length);
  positions.x.forEach((x, i) => {
    const side = positions.side[i] as Side;
    const turned = surface.turning(x);
    const angles = surface.isRound(x, x)
      ? [0]
      : [
          ...Array.from({ length: 2 * LOOKS }, (_, j) => turned + (j * TURN) / (2 * LOOKS * surface.symmetry)),
          ...surface.creases(x, side),
        ];
    const radii = angles.map((theta) => surface.radius(x, theta, side));
    most[i] = Math.max(...radii);
    least[i] = Math.min(...radii);
  });
  return { ...positions, most, least };
}
