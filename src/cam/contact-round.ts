/** Contact on round stretches: one dimension, kept in a table of straight lines whose error is checked as they are made. */
import { CONTACT_LINE } from '../../shared/tolerances.ts';
import type { Grid } from './contact-grid.ts';

/** Length of a cell, mm. */
const CELL = 0.25;
const NOT_ROUND = 1;
const TABLE = 2;

export class RoundTable {
  private readonly start: number;
  private readonly state: Uint8Array;
  /** Of each cell: knots (2ᵏ + 1 values, NaN between knots that no straight line joins). */
  private readonly lines: Float64Array[] = [];
  private readonly grid: Grid;
  private readonly R: number;
  private readonly exact: (x: number) => number;

  /** @param grid samples @param R bit's radius, mm @param exact the answer at x (mm), searched */
  constructor(grid: Grid, R: number, exact: (x: number) => number) {
    this.grid = grid;
    this.R = R;
    this.exact = exact;
    const { pieces } = grid;
    this.start = pieces[0]!.x0 - R;
    const cells = Math.ceil((pieces.at(-1)!.x1 + R - this.start) / CELL) + 1;
    this.state = new Uint8Array(pieces.some((p) => p.round) ? cells : 0);
  }

  /** @param x mm @returns the answer, mm; NaN where the bit stands over anything that is not round, or over nothing */
  at(x: number): number {
    const q = (x - this.start) / CELL;
    const c = Math.floor(q);
    if (!(c >= 0 && c < this.state.length)) return Number.NaN;
    let state = this.state[c]!;
    if (state === 0) state = this.make(c);
    if (state === NOT_ROUND) return Number.NaN;
    const line = this.lines[c]!;
    const n = line.length / 2;
    const s = (q - c) * n;
    const i = Math.min(n - 1, Math.floor(s));
    const a = line[2 * i]!;
    return Number.isNaN(a) ? this.exact(x) : a + (line[2 * i + 1]! - a) * (s - i);
  }

  private make(c: number): number {
    const { grid, R } = this;
    const x0 = this.start + c * CELL;
    const x1 = x0 + CELL;
    const i = grid.first(x0 - R);
    let round = i < grid.pieces.length && grid.pieces[i]!.x0 <= x1 + R;
    for (let k = i; round && k < grid.pieces.length && grid.pieces[k]!.x0 <= x1 + R; k++)
      if (!grid.pieces[k]!.round) round = false;
    if (!round) {
      this.state[c] = NOT_ROUND;
      return NOT_ROUND;
    }
    for (let n = 1; ; n *= 2) {
      const line = new Float64Array(2 * n);
      let open = 0;
      for (let k = 0; k < n; k++) {
        const at = (t: number) => this.exact(x0 + (CELL * (k + t)) / n);
        const a = at(0);
        const b = at(1);
        const straight = [0.25, 0.5, 0.75].every((t) => Math.abs(at(t) - a - (b - a) * t) <= CONTACT_LINE);
        line[2 * k] = straight ? a : Number.NaN;
        line[2 * k + 1] = b;
        if (!straight) open++;
      }
      if (open === 0 || n >= 32) {
        this.lines[c] = line;
        this.state[c] = TABLE;
        return TABLE;
      }
    }
  }
}
