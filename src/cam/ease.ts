/**
 * Slower where the part is slender: shares of the feed, station by station, at which bending stays within the finish tolerance
 * and stress well below strength. Force falls with the chip, and the chip with the feed; below EASE_LEAST the edge rubs instead
 * of cutting (common practice, no source), and layers get thinner instead.
 */

/** Shares of the full feed along x; between stations the smaller one holds. */
export interface Ease {
  /** Ascending, mm. */
  readonly xs: Float64Array;
  readonly roughing: Float64Array;
  readonly finishing: Float64Array;
  /** Share of the step-down for roughing's thin part: where even the slowest feed would bend or break it. */
  readonly stepDown: Float64Array;
}

export type EaseOf = 'roughing' | 'finishing' | 'stepDown';

/** No feed is slowed to less than this share, and no layer thinned. */
export const EASE_LEAST = 0.4;
/** Shares are rounded down to steps, so that neighbouring blocks keep one feed. */
const STEP = 0.1;

/** @param need share that would be just enough @returns 1 where that is more than enough, else a tidy share ≥ EASE_LEAST */
export const easeFor = (need: number): number =>
  need >= 1 ? 1 : Math.max(EASE_LEAST, Number((Math.floor(need / STEP + 1e-9) * STEP).toFixed(6)));

/** The share that holds at x; 1 without an ease. @param x mm */
export function easeAt(ease: Ease | undefined, of: EaseOf, x: number): number {
  if (!ease) return 1;
  const { xs } = ease;
  const row = ease[of];
  const i = cellOf(xs, x);
  if (x <= xs[i]!) return row[i]!;
  return x >= xs[i + 1]! ? row[i + 1]! : Math.min(row[i]!, row[i + 1]!);
}

/** The least share on the way from one place to another, either way round. @param from, to mm */
export function easeOver(ease: Ease | undefined, of: EaseOf, from: number, to: number): number {
  if (!ease) return 1;
  const [a, b] = from < to ? [from, to] : [to, from];
  let least = Math.min(easeAt(ease, of, a), easeAt(ease, of, b));
  for (let i = cellOf(ease.xs, a) + 1; i < ease.xs.length && ease.xs[i]! < b; i++)
    least = Math.min(least, ease[of][i]!);
  return least;
}

/** Index of the last station at or before x; 0 before the first, the last but one after the last. */
function cellOf(xs: Float64Array, x: number): number {
  let low = 0;
  let high = xs.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (xs[middle]! <= x) low = middle;
    else high = middle;
  }
  return low;
}
