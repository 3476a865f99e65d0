/**
 * Fewer blocks for the same path: a one-sided tube around the lowest allowed tip, compared at equal θ.
 *
 * A block moves x, r and θ in proportion, so between two blocks r is a straight line over θ, and the deviation that the
 * work sees is the difference of r at the same θ. From each kept point the range of slopes is narrowed sample by sample
 * so that the line stays within [low, low + tolerance]; the block ends at the last sample that leaves a slope to choose
 * (swing filter with a maximum error, Elmeleegy et al. 2009). O(samples), never below `low`.
 *
 * Straight chords over the points in space (the usual polyline thinning) need about 1.6 times as many blocks at the same
 * tolerance on a fluted part, and are wrong besides: 0.30 mm of sagitta over 20° at 20 mm that the turning work never sees.
 */

/** Samples of a path, all of one length; x and θ are linear over `run` between knots. */
export interface Samples {
  /** What the path runs over, strictly growing: θ itself for spirals, the length along a stroke for strokes. */
  readonly run: Float64Array;
  /** Radians. */
  readonly theta: Float64Array;
  /** mm. */
  readonly x: Float64Array;
  /** Lowest tip radius allowed there, mm. */
  readonly low: Float64Array;
  /** 1 where the ratio of x to θ (to `run`) changes: such a sample is always kept. */
  readonly knot: Uint8Array;
}

export interface Thinning {
  /** How far above `low` the path may run, mm; at least two quanta. */
  readonly tolerance: number;
  /** What a block may take that would else be shorter than `shortest`, mm ≥ tolerance. */
  readonly widest: number;
  /** Length over the work below which the control cannot keep up, mm; 0 if it always can. */
  readonly shortest: number;
  /** Step of the control's last decimal, mm: kept radii are multiples of it. */
  readonly quantum: number;
  /** Largest turn of one block, radians. */
  readonly turn: number;
}

/** The samples that were kept, ascending, and the tip radius at each. */
export interface Thinned {
  readonly index: Int32Array;
  readonly r: Float64Array;
}

/** Numerical slack of the comparisons, mm: far below any control's decimals. */
const NOISE = 1e-10;

/**
 * Thins a path.
 * @returns at every sample s of `samples`: low[s] ≤ path(run[s]) ≤ low[s] + widest, and ≤ low[s] + tolerance in every
 *   block that is not lengthened for the control's sake; first, last and knot samples are kept
 * @throws RangeError if the tolerance is below two quanta, or neighbouring samples turn further than `turn`
 */
export function thin(samples: Samples, thinning: Thinning): Thinned {
  const { run, theta, x, low, knot } = samples;
  const { tolerance, widest, shortest, quantum, turn } = thinning;
  if (!(tolerance >= 2 * quantum)) throw new RangeError(`tolerance ${tolerance} is below two steps of ${quantum}`);
  const n = run.length;
  const index: number[] = [];
  const radii: number[] = [];
  const upTo = (value: number) => Math.ceil(value / quantum - 1e-7) * quantum;
  const within = (a: number, b: number): number => {
    const first = upTo(a);
    if (first > b + NOISE) return Number.NaN;
    const middle = upTo((a + b) / 2);
    return middle <= b + NOISE ? middle : first;
  };
  const keep = (i: number, r: number) => {
    index.push(i);
    radii.push(r);
  };
  if (n === 0) return { index: new Int32Array(0), r: new Float64Array(0) };

  /** The furthest end of a block from sample k at radius v, and the radius there. */
  const extend = (k: number, v: number, room: number, enough: number): { end: number; r: number; length: number } => {
    let steepest = Infinity;
    let flattest = -Infinity;
    let end = -1;
    let r = v;
    let length = 0;
    let reached = 0;
    for (let m = k + 1; m < n; m++) {
      const d = run[m] - run[k];
      if (!(d > 0)) throw new RangeError(`the run does not grow at sample ${m}`);
      if (Math.abs(theta[m] - theta[k]) > turn) break;
      flattest = Math.max(flattest, (low[m] - v) / d);
      steepest = Math.min(steepest, (low[m] + room - v) / d);
      if (flattest > steepest + NOISE / d) break;
      length += Math.hypot(x[m] - x[m - 1], low[m] - low[m - 1], low[m] * (theta[m] - theta[m - 1]));
      const value = within(Math.max(low[m], v + flattest * d), Math.min(low[m] + room, v + steepest * d));
      if (!Number.isNaN(value)) {
        end = m;
        r = value;
        reached = length;
        if (reached >= enough) break;
      }
      if (knot[m]) break;
    }
    if (end < 0) throw new RangeError(`samples ${k} and ${k + 1} are more than the largest turn apart`);
    return { end, r, length: reached };
  };

  let k = 0;
  let v = within(low[0], low[0] + tolerance);
  let room = tolerance;
  keep(0, v);
  while (k < n - 1) {
    // A point kept in a widened block may lie above the narrow tube: then the next block is widened as well.
    room = v > low[k] + tolerance + NOISE ? widest : tolerance;
    let block = extend(k, v, room, Infinity);
    if (block.length < shortest && widest > room && !knot[block.end]) {
      const longer = extend(k, v, widest, shortest);
      if (longer.length > block.length) block = longer;
    }
    k = block.end;
    v = block.r;
    keep(k, v);
  }
  return { index: Int32Array.from(index), r: Float64Array.from(radii) };
}
