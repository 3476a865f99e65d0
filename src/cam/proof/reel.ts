/** A job's motions in one row, and where the bit stands at any time. Plain data: it crosses between threads. */

/** All motions of all programs one after another; index k is a motion, places are those at its end. */
export interface Reel {
  readonly count: number;
  /** Seconds from the start of the job at which each motion begins; one more entry, the end of all. */
  readonly start: Float64Array;
  /** mm, mm above the rotary centre, radians (unwrapped within a program). NaN until first told. */
  readonly x: Float64Array;
  readonly r: Float64Array;
  readonly theta: Float64Array;
  readonly rapid: Uint8Array;
  /** 0 while the spindle stands. */
  readonly rpm: Float64Array;
  /** Number of the bit, counted over all programs in their order. */
  readonly bit: Uint8Array;
  /** Number of the stretch that the motion belongs to. */
  readonly stretch: Uint16Array;
  readonly line: Int32Array;
  /** Stages in order of cutting: a new stretch begins where stage or file changes. */
  readonly stretches: readonly {
    readonly file: string;
    readonly stage: string;
    readonly from_s: number;
    readonly to_s: number;
  }[];
  /** First motion of each program. */
  readonly files: readonly { readonly file: string; readonly from: number }[];
}

/** Where things stand at one moment. */
export interface Moment {
  /** The motion under way. */
  readonly motion: number;
  readonly x: number;
  readonly r: number;
  readonly theta: number;
}

/** @param t s, held within the job @returns place of the tip, straight between the ends of the motion as the control moves it */
export function momentAt(reel: Reel, t: number): Moment {
  let lo = 0;
  let hi = Math.max(0, reel.count - 1);
  while (lo < hi) {
    const mid = (lo + hi + 1) >> 1;
    if (reel.start[mid]! <= t) lo = mid;
    else hi = mid - 1;
  }
  const span = reel.start[lo + 1]! - reel.start[lo]!;
  const share = span > 0 ? Math.min(1, Math.max(0, (t - reel.start[lo]!) / span)) : 1;
  const between = (column: Float64Array): number => {
    const to = column[lo]!;
    const from = lo > 0 && reel.files.every((f) => f.from !== lo) ? column[lo - 1]! : to;
    return Number.isNaN(from) ? to : from + (to - from) * share;
  };
  return { motion: lo, x: between(reel.x), r: between(reel.r), theta: between(reel.theta) };
}
