/** Integrals of a surface by Gauss–Legendre panels that never cross an arris or a break. */
import { SAME_X } from '../../shared/tolerances.ts';
import { TURN } from '../../shared/units.ts';
import type { Side, Surface } from '../profiles/field.ts';

/** Points a panel; the rule is exact for polynomials of degree 15. */
const ORDER = 8;
/** Widest panel around, radians. */
const PANEL = TURN / 32;
/** Panels between two breaks at the least, and their greatest length, mm. */
const PIECES = 12;
const LONGEST = 8;

/** Nodes in (−1, 1) and weights of the Gauss–Legendre rule: roots of the Legendre polynomial by Newton's method. */
function gauss(n: number): { node: number; weight: number }[] {
  return Array.from({ length: n }, (_, i) => {
    let t = Math.cos((Math.PI * (i + 0.75)) / (n + 0.5));
    let slope = 1;
    for (let step = 0; step < 50; step++) {
      let [p, before] = [1, 0];
      for (let k = 1; k <= n; k++) [p, before] = [((2 * k - 1) * t * p - (k - 1) * before) / k, p];
      slope = (n * (t * p - before)) / (t * t - 1);
      const d = p / slope;
      t -= d;
      if (Math.abs(d) < 1e-15) break;
    }
    return { node: t, weight: 2 / ((1 - t * t) * slope * slope) };
  });
}
const RULE = gauss(ORDER);

/** One point of a rule: where, and what it counts for. */
export interface Sample {
  at: number;
  weight: number;
}

function panels(from: number, to: number, count: number): Sample[] {
  const half = (to - from) / count / 2;
  const out: Sample[] = [];
  for (let k = 0; k < count; k++)
    for (const { node, weight } of RULE) out.push({ at: from + half * (2 * k + 1 + node), weight: half * weight });
  return out;
}

/** Angles (radians) and weights that integrate over one turn of the section at x, split at its arrises. */
export function around(surface: Surface, x: number, side: Side = 0): Sample[] {
  const cuts = surface.creases(x, side);
  if (cuts.length === 0) return panels(0, TURN, Math.ceil(TURN / PANEL));
  return cuts.flatMap((c, k) => {
    const to = k + 1 < cuts.length ? cuts[k + 1]! : cuts[0]! + TURN;
    return to - c < 1e-12 ? [] : panels(c, to, Math.ceil((to - c) / PANEL));
  });
}

/** Area of the section at x. @param side which section at a shoulder @returns mm² */
export function sectionArea(surface: Surface, x: number, side: Side = 0): number {
  const samples = around(surface, x, side);
  const r = new Float64Array(samples.length);
  surface.ring(
    x,
    Float64Array.from(samples, (s) => s.at),
    r,
    side,
  );
  return samples.reduce((sum, s, k) => sum + (s.weight * r[k]! * r[k]!) / 2, 0);
}

/** Volume of a surface between its ends, ∫ ½ r² dθ dx, without holes. @returns mm³ */
export function surfaceVolume(surface: Surface): number {
  const cuts = [surface.from, ...surface.breaks.map((b) => b.x), surface.to];
  let volume = 0;
  for (let i = 0; i + 1 < cuts.length; i++) {
    const [a, b] = [cuts[i]!, cuts[i + 1]!];
    if (b - a <= SAME_X) continue;
    const round = surface.isRound(a + SAME_X / 4, b - SAME_X / 4);
    for (const { at, weight } of panels(a, b, Math.max(PIECES, Math.ceil((b - a) / LONGEST))))
      volume += weight * (round ? Math.PI * surface.radius(at, 0) ** 2 : sectionArea(surface, at));
  }
  return volume;
}
