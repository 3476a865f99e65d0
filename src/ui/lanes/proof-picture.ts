/** The unrolled surface as a picture: x across, θ down. What is left, what is gouged, what no bit reaches. Pure. */

import { TURN } from '../../../shared/units.ts';
import type { LeftOver } from '../../cam/proof/verdict.ts';

export type Mark = 'clean' | 'left' | 'gouged' | 'unreachable';

/** Rest from which wood counts as left, shares of the tolerance. */
const LEFT_SHARE = 2;

/** What a cell of the surface is. @param rest mm, negative is gouged @param tolerance deepest gouge allowed, mm */
export function markOf(rest: number, unreachable: number, tolerance: number): Mark {
  if (rest < -tolerance) return 'gouged';
  if (unreachable > tolerance) return 'unreachable';
  return rest > LEFT_SHARE * tolerance ? 'left' : 'clean';
}

export interface Spot {
  x: number;
  theta: number;
  rest: number;
  unreachable: number;
  mark: Mark;
}

/** Index of the x nearest to a place; xs ascending. */
export function nearestIndex(xs: ArrayLike<number>, x: number): number {
  let low = 0;
  let high = xs.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (xs[middle]! <= x) low = middle;
    else high = middle;
  }
  return x - xs[low]! <= xs[high]! - x ? low : high;
}

/** @param x mm @param share of the turn, 0…1 from the top of the lane @returns undefined outside the form or without a proof */
export function spotAt(left: LeftOver, x: number, share: number, tolerance: number): Spot | undefined {
  const { xs, thetas } = left;
  if (!xs.length || !thetas || x < xs[0]! || x > xs.at(-1)!) return undefined;
  const i = nearestIndex(xs, x);
  const j = Math.min(thetas - 1, Math.max(0, Math.floor(share * thetas)));
  const rest = left.rest[i * thetas + j]!;
  const unreachable = left.unreachable[i * thetas + j]!;
  return { x: xs[i]!, theta: (j * TURN) / thetas, rest, unreachable, mark: markOf(rest, unreachable, tolerance) };
}

/** Colours of the marks, 0…255. `none` is what lies outside the form. */
export type Inks = Record<Mark, readonly [number, number, number]>;

/**
 * Paints the picture. Gouged cells are dotted, unreachable ones hatched, what is left is lined and shaded by its height: not by
 * colour alone.
 * Of all cells under a pixel the worst one shows.
 * @param out RGBA, width × height × 4 @param from, to mm at its two sides
 */
export function paint(
  left: LeftOver,
  out: Uint8ClampedArray,
  width: number,
  height: number,
  range: { from: number; to: number },
  tolerance: number,
  inks: Inks,
): void {
  const { xs, thetas } = left;
  if (!xs.length || !thetas) return;
  const perPixel = (range.to - range.from) / width;
  for (let px = 0; px < width; px++) {
    const x0 = range.from + px * perPixel;
    const x1 = x0 + perPixel;
    if (x1 < xs[0]! || x0 > xs.at(-1)!) continue;
    const first = nearestIndex(xs, x0);
    const last = Math.max(first, nearestIndex(xs, x1));
    for (let py = 0; py < height; py++) {
      const j0 = Math.floor((py * thetas) / height);
      const j1 = Math.max(j0, Math.ceil(((py + 1) * thetas) / height) - 1);
      let low = Infinity;
      let high = -Infinity;
      let unreachable = 0;
      for (let i = first; i <= last; i++)
        for (let j = j0; j <= j1; j++) {
          const rest = left.rest[i * thetas + j]!;
          low = Math.min(low, rest);
          high = Math.max(high, rest);
          unreachable = Math.max(unreachable, left.unreachable[i * thetas + j]!);
        }
      const rest = low < -tolerance ? low : high;
      const mark = markOf(rest, unreachable, tolerance);
      const hatch = (px + py) % 8 < 4;
      const dot = px % 4 < 2 && py % 4 < 2;
      const pattern = mark === 'gouged' ? (dot ? 1 : 0.75) : mark === 'unreachable' ? (hatch ? 1 : 0.35) : 1;
      const height01 = Math.min(1, Math.max(0, rest / (6 * tolerance)));
      const alpha =
        mark === 'clean'
          ? 0.35 + 0.4 * Math.min(1, Math.max(0, rest / (LEFT_SHARE * tolerance)))
          : mark === 'left'
            ? (py % 5 < 3 ? 1 : 0.55) * (0.45 + 0.55 * height01)
            : pattern;
      const at = (py * width + px) * 4;
      const ink = inks[mark];
      out[at] = ink[0];
      out[at + 1] = ink[1];
      out[at + 2] = ink[2];
      out[at + 3] = 255 * alpha;
    }
  }
}
