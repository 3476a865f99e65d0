/** Enclosing bounds of a carved form over a range of x and all angles: interval arithmetic, split where it is loose. */
import type { Cutter } from './carving.ts';
import type { TurnedOutline } from './outline.ts';
import type { Section } from './section.ts';

/** Bounds may lie this much outside the true range, mm; splitting stops there. */
const LOOSE = 0.01;
const DEEPEST_SPLIT = 10;

/** Index of the first knot > x. */
function after(knots: Float64Array, x: number): number {
  let low = 0;
  let high = knots.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (knots[middle]! > x) high = middle;
    else low = middle + 1;
  }
  return low;
}

/**
 * Bounds of the turned outline inside a range: limits from within at both ends.
 * @returns [smallest, largest] mm, exact, as the outline only rises or only falls between knots
 */
export function outlineBounds(outline: TurnedOutline, x0: number, x1: number): [number, number] {
  let low = Infinity;
  let high = -Infinity;
  const see = (r: number) => {
    if (r < low) low = r;
    if (r > high) high = r;
  };
  see(outline.radius(x0, x0 < outline.length ? 1 : -1));
  for (let k = after(outline.knots, x0); k < outline.knots.length && outline.knots[k]! < x1; k++) {
    see(outline.radius(outline.knots[k]!, -1));
    see(outline.radius(outline.knots[k]!, 1));
  }
  see(outline.radius(x1, x1 > 0 ? -1 : 1));
  return [low, high];
}

/**
 * Bounds of the surface that some cutters leave.
 * @param section the blank's, for pommels @param cutters in order of cutting; @param x0 mm @param x1 mm, ≥ x0, both in [0, length]
 * @returns [smallest, largest] mm over the closed range, both limits at shoulders on its ends included
 */
export function surfaceBounds(
  outline: TurnedOutline,
  section: Section | undefined,
  cutters: readonly Cutter[],
  x0: number,
  x1: number,
): [number, number] {
  let low = Infinity;
  let high = -Infinity;
  const see = ([a, b]: [number, number]) => {
    if (a < low) low = a;
    if (b > high) high = b;
  };
  // What single places reach: a bound this near to it is tight, whatever looser bounds were taken before.
  let reachedLow = Infinity;
  let reachedHigh = -Infinity;
  const reached = ([a, b]: [number, number]) => {
    if (a < reachedLow) reachedLow = a;
    if (b > reachedHigh) reachedHigh = b;
  };
  const cutting = cutters.filter((c) => c.reach.from <= x1 && c.reach.to >= x0);
  /** Bounds over [a, b] inside one piece of one element, whose outline has the radii ra and rb there. */
  const between = (a: number, b: number, ra: number, rb: number, element: number): [number, number] => {
    const r0Low = Math.min(ra, rb);
    const r0High = Math.max(ra, rb);
    const kept = outline.placed[element]!.outline.kept && section;
    let bound: [number, number] = kept ? [Math.min(r0Low, kept.inner), Math.min(r0High, kept.outer)] : [r0Low, r0High];
    for (const c of cutting) bound = c.bounds(a, b, r0Low, r0High, bound[0], bound[1]);
    return bound;
  };
  const at = (x: number, side: -1 | 1, element: number) => {
    const r = outline.radius(x, x === 0 ? 1 : x === outline.length ? -1 : side);
    return between(x, x, r, r, element);
  };
  const split = (a: number, b: number, element: number, depth: number): void => {
    const bound = between(a, b, outline.radius(a, 1), outline.radius(b, -1), element);
    if (cutting.length && depth < DEEPEST_SPLIT) {
      reached(at(a, 1, element));
      reached(at(b, -1, element));
      if (bound[0] < reachedLow - LOOSE || bound[1] > reachedHigh + LOOSE) {
        split(a, (a + b) / 2, element, depth + 1);
        split((a + b) / 2, b, element, depth + 1);
        return;
      }
    }
    see(bound);
  };
  const { knots } = outline;
  // Pieces between knots that touch the closed range: at a joint also the element that only touches it.
  for (let k = Math.max(1, after(knots, x0) - 1); k < knots.length && knots[k - 1]! <= x1; k++) {
    const a = Math.max(x0, knots[k - 1]!);
    const b = Math.min(x1, knots[k]!);
    if (a > b) continue;
    const element = outline.elementAt((knots[k - 1]! + knots[k]!) / 2, 1);
    if (a < b) split(a, b, element, 0);
    else see(at(a, a === knots[k]! ? -1 : 1, element));
  }
  return [low, high];
}
