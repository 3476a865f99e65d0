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
  const look = (x: number, side: Side): Float64Array => {
    const turned = surface.turning(x);
    const radii = new Float64Array(angles.length);
    for (let j = 0; j < radii.length; j++) radii[j] = surface.radius(x, angles[j]! + turned, side);
    return radii;
  };
  const xs: number[] = [];
  const sides: Side[] = [];
  const put = (x: number, side: Side) => {
    xs.push(x);
    sides.push(side);
  };
  const off = (r: Float64Array, ra: Float64Array, rb: Float64Array, t: number): number => {
    let most = 0;
    for (let j = 0; j < r.length; j++) most = Math.max(most, Math.abs(r[j]! - (ra[j]! + (rb[j]! - ra[j]!) * t)));
    return most;
  };
  const between = (a: number, ra: Float64Array, b: number, rb: Float64Array, rm: Float64Array): void => {
    // Quarters as well: an S-shaped stretch passes through its chord's middle. They are the middles of the two halves.
    const low = look(a + (b - a) * 0.25, 0);
    const high = look(a + (b - a) * 0.75, 0);
    const flat =
      off(rm, ra, rb, 0.5) <= tolerance && off(low, ra, rb, 0.25) <= tolerance && off(high, ra, rb, 0.75) <= tolerance;
    if ((flat && b - a <= longest) || b - a < SHORTEST) return;
    const middle = (a + b) / 2;
    between(a, ra, middle, rm, low);
    put(middle, 0);
    between(middle, rm, b, rb, high);
  };
  const stops = [{ x: surface.from, kind: 'edge' }, ...surface.breaks, { x: surface.to, kind: 'edge' }];
  stops.forEach(({ x, kind }, i) => {
    if (i) {
      const a = stops[i - 1]!.x;
      const inset = Math.min(SAME_X, (x - a) / 4);
      angles = surface.isRound(a + inset, x - inset) ? [0] : around;
      between(a, look(a, 1), x, look(x, -1), look((a + x) / 2, 0));
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
  const even = new Float64Array(2 * LOOKS);
  const radii = new Float64Array(2 * LOOKS);
  positions.x.forEach((x, i) => {
    const side = positions.side[i] as Side;
    const turned = surface.turning(x);
    most[i] = least[i] = surface.radius(x, turned, side);
    if (surface.isRound(x, x)) return;
    const take = (r: number) => {
      most[i] = Math.max(most[i]!, r);
      least[i] = Math.min(least[i]!, r);
    };
    for (let j = 0; j < even.length; j++) even[j] = turned + (j * TURN) / (2 * LOOKS * surface.symmetry);
    surface.ring(x, even, radii, side);
    radii.forEach(take);
    for (const crease of surface.creases(x, side)) take(surface.radius(x, crease, side));
  });
  return { ...positions, most, least };
}
