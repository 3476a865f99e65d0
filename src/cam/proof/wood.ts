/**
 * The wood that is still there, as intervals along rays from the rotary axis. Nearly every ray holds one interval from the
 * axis to its outermost wood; where a bit tunnels (slots have parallel walls, rays spread) a ray holds several.
 */
import { TURN } from '../../../shared/units.ts';
import { type Grid, rowFrom } from './grid.ts';

/** Columns whose largest radius is kept together. */
export const RUN = 8;
export const SEVERAL = 1;
export const IN_HOLE = 2;
/**
 * Pieces thinner than this are dust and fall off, mm. Not less than what the cutter calls a touch: a flake below that would
 * hang in the air for good and be met as wood by a later pass.
 */
const DUST = 1e-3;

export class Wood {
  readonly grid: Grid;
  /** Outermost wood of every ray, mm; 0 for none. */
  readonly outer: Float32Array;
  /** SEVERAL where the ray holds more than one interval, IN_HOLE where a hole of the part passes. */
  readonly flags: Uint8Array;
  /** Bound of `outer` over RUN neighbouring columns, never too low. */
  readonly runTop: Float32Array;
  /** Bound of `outer` over a row, never too low. */
  readonly rowTop: Float32Array;
  readonly runs: number;
  /** Intervals [from, to, …] ascending of the rays flagged SEVERAL. */
  readonly pieces = new Map<number, readonly number[]>();

  constructor(grid: Grid) {
    this.grid = grid;
    const n = grid.xs.length;
    const m = grid.columns;
    this.outer = new Float32Array(n * m);
    for (let i = 0; i < n; i++) this.outer.set(grid.stock, i * m);
    this.flags = new Uint8Array(n * m);
    this.runs = m / RUN;
    this.runTop = new Float32Array(n * this.runs);
    this.rowTop = new Float32Array(n);
    for (let i = 0; i < n; i++) this.refreshRow(i);
  }

  /** Makes the bounds of a row tight again. */
  refreshRow(row: number): void {
    for (let b = 0; b < this.runs; b++) this.refreshRun(row, b);
    this.tightenRow(row);
  }

  /** Takes the row's bound from those of its runs. */
  tightenRow(row: number): void {
    let top = 0;
    const base = row * this.runs;
    for (let b = base; b < base + this.runs; b++) if (this.runTop[b]! > top) top = this.runTop[b]!;
    this.rowTop[row] = top;
  }

  refreshRun(row: number, run: number): void {
    let top = 0;
    const base = row * this.grid.columns + run * RUN;
    for (let k = base; k < base + RUN; k++) if (this.outer[k]! > top) top = this.outer[k]!;
    this.runTop[row * this.runs + run] = top;
  }

  /** Intervals of a ray, ascending. */
  intervals(ray: number): readonly number[] {
    return this.pieces.get(ray) ?? (this.outer[ray]! > 0 ? [0, this.outer[ray]!] : []);
  }

  /**
   * Takes [a, b] out of a ray.
   * @returns ∫ρ dρ over what was there, mm²: half of (b² − a²)
   */
  take(ray: number, a: number, b: number): number {
    const old = this.intervals(ray);
    const left: number[] = [];
    let moment = 0;
    for (let k = 0; k < old.length; k += 2) {
      const lo = old[k]!;
      const hi = old[k + 1]!;
      const from = Math.max(lo, a);
      const to = Math.min(hi, b);
      if (to <= from) {
        left.push(lo, hi);
        continue;
      }
      moment += (to * to - from * from) / 2;
      if (from - lo > DUST) left.push(lo, from);
      if (hi - to > DUST) left.push(to, hi);
    }
    if (moment === 0) return 0;
    this.outer[ray] = left.length ? left[left.length - 1]! : 0;
    if (left.length > 2 || (left.length === 2 && left[0]! > 0)) {
      this.flags[ray]! |= SEVERAL;
      this.pieces.set(ray, left);
    } else if (this.flags[ray]! & SEVERAL) {
      this.flags[ray]! &= ~SEVERAL;
      this.pieces.delete(ray);
    }
    return moment;
  }

  /**
   * Bound of the wood's radius over x in [x0, x1] and every angle, never too low.
   * @returns mm; 0 where the range lies outside the blank
   */
  topAlong(x0: number, x1: number): number {
    let top = 0;
    const to = Math.min(this.grid.xs.length, rowFrom(this.grid, x1) + 1);
    for (let i = Math.max(0, rowFrom(this.grid, x0) - 1); i < to; i++) if (this.rowTop[i]! > top) top = this.rowTop[i]!;
    return x1 < this.grid.xs[0]! || x0 > this.grid.xs[this.grid.xs.length - 1]! ? 0 : top;
  }

  /** Makes the row bounds over [x0, x1] follow the bounds of their runs. */
  tightenAlong(x0: number, x1: number): void {
    const to = Math.min(this.grid.xs.length, rowFrom(this.grid, x1) + 1);
    for (let i = Math.max(0, rowFrom(this.grid, x0) - 1); i < to; i++) this.tightenRow(i);
  }

  /** As topAlong, over angles within `half` radians of `theta` only. */
  topWithin(x0: number, x1: number, theta: number, half: number): number {
    const m = this.grid.columns;
    const step = TURN / m;
    const from = Math.floor((theta - half) / step / RUN);
    const to = Math.min(from + this.runs - 1, Math.floor((theta + half) / step / RUN + 1));
    let top = 0;
    const rows = Math.min(this.grid.xs.length, rowFrom(this.grid, x1) + 1);
    for (let i = Math.max(0, rowFrom(this.grid, x0) - 1); i < rows; i++) {
      if (this.rowTop[i]! <= top) continue;
      for (let b = from; b <= to; b++) {
        const r = this.runTop[i * this.runs + (((b % this.runs) + this.runs) % this.runs)]!;
        if (r > top) top = r;
      }
    }
    return top;
  }

  /** Volume of all wood, mm³. */
  volume(): number {
    const m = this.grid.columns;
    let sum = 0;
    for (let i = 0; i < this.grid.xs.length; i++) {
      let moment = 0;
      for (let k = i * m; k < (i + 1) * m; k++) {
        if (this.flags[k]! & SEVERAL) {
          const p = this.pieces.get(k)!;
          for (let q = 0; q < p.length; q += 2) moment += (p[q + 1]! ** 2 - p[q]! ** 2) / 2;
        } else moment += this.outer[k]! ** 2 / 2;
      }
      sum += (moment * this.grid.width[i]! * TURN) / m;
    }
    return sum;
  }
}
