/** The turned outline of a whole form: its elements in a row, without carvings. */
import { SAME_X } from '../../shared/tolerances.ts';
import type { Break } from './field.ts';
import type { PlacedElement } from './layout.ts';

export interface TurnedOutline {
  readonly placed: readonly PlacedElement[];
  readonly length: number;
  /** Radius at x in [0, length]; `side` chooses the limit at a joint or step. @returns mm */
  radius(x: number, side: -1 | 1): number;
  /** Index of the element at x; at a joint `side` chooses. */
  elementAt(x: number, side: -1 | 1): number;
  /** Ascending, 0 and length included: between neighbours the outline is smooth and only rises or only falls. */
  readonly knots: Float64Array;
  readonly breaks: readonly Break[];
}

/** @param placed elements in order, at least one @param length of the whole form, mm */
export function turnedOutline(placed: readonly PlacedElement[], length: number): TurnedOutline {
  const froms = Float64Array.from(placed, (p) => p.from);
  let last = 0;
  const elementAt = (x: number, side: -1 | 1): number => {
    let i = last;
    if (!(x > froms[i]! && x < placed[i]!.to)) {
      let high = placed.length;
      i = 0;
      while (high - i > 1) {
        const middle = (i + high) >> 1;
        if (froms[middle]! < x || (froms[middle]! === x && side > 0)) i = middle;
        else high = middle;
      }
      last = i;
    }
    return i;
  };
  const radius = (x: number, side: -1 | 1): number => {
    const p = placed[elementAt(x, side)]!;
    return x === p.to ? p.outline.radius(p.to - p.from, -1) : p.outline.radius(x - p.from, x === p.from ? 1 : side);
  };
  const breaks = placed.flatMap((p) => p.outline.breaks.map((b) => ({ ...b, x: p.from + b.x })));
  const knots = [0, ...placed.flatMap((p) => [...p.outline.knots.map((u) => p.from + u), p.to])];
  for (const p of placed.slice(0, -1)) {
    const kind = jointKind(radius, p.to);
    if (kind) breaks.push({ x: p.to, kind });
  }
  breaks.sort((a, b) => a.x - b.x);
  return { placed, length, radius, elementAt, knots: Float64Array.from(knots).sort(), breaks };
}

/** Radii nearer than this at a joint meet: rounding of the elements' own arithmetic, mm. */
const MEETS = 1e-9;
/** Slopes nearer than this at a joint are one: over 1 mm the outline would leave the tangent by a tenth of a micrometre. */
const SAME_SLOPE = 1e-4;
const PROBE = 1e-4;

/** What a joint is, by the limits and one-sided slopes (extrapolated from two chords) on its two sides. */
function jointKind(radius: TurnedOutline['radius'], x: number): 'shoulder' | 'crease' | undefined {
  if (Math.abs(radius(x, -1) - radius(x, 1)) > MEETS) return 'shoulder';
  const slope = (side: -1 | 1) => {
    const chord = (h: number) => (radius(x + side * h, side) - radius(x, side)) / (side * h);
    return 2 * chord(PROBE / 2) - chord(PROBE);
  };
  return Math.abs(slope(-1) - slope(1)) > SAME_SLOPE ? 'crease' : undefined;
}

const RANK = { shoulder: 0, crease: 1, edge: 2 };

/** Sorts breaks, drops the ends of the form, and keeps of those at one place the strongest. */
export function mergeBreaks(breaks: readonly Break[], length: number): Break[] {
  const merged: Break[] = [];
  for (const b of [...breaks].sort((a, c) => a.x - c.x || RANK[a.kind] - RANK[c.kind])) {
    if (b.x <= SAME_X || b.x >= length - SAME_X) continue;
    const before = merged.at(-1);
    if (!before || b.x - before.x > SAME_X) merged.push(b);
    else if (RANK[b.kind] < RANK[before.kind]) merged[merged.length - 1] = b;
  }
  return merged;
}
