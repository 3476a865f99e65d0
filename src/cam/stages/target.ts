/**
 * How low a bit may go while it leaves wood for the bit after it: contact of a bit grown sideways, raised by what is left.
 * Kept as rows of x with as many angles as the form needs there; between them it runs straight, and since the bit is grown
 * by at least the distance between the points, a straight line between two of them never goes below the true contact.
 */
import type { Bit } from '../../../shared/catalog.ts';
import { CLEARANCE } from '../../../shared/tolerances.ts';
import { TURN } from '../../../shared/units.ts';
import { keepOutHeight } from '../link.ts';
import { turnedSpans } from '../work.ts';
import type { StageContext } from './context.ts';

/** Distance of rows along x, and of angles round carved work, mm. */
const SPACING = 0.4;
const SPACING_AROUND = 0.8;
/** What a bit is grown by at the least where the work is round, and where it is carved: the distance between points. */
const GROWN_ROUND = SPACING;
const GROWN_CARVED = Math.hypot(SPACING, SPACING_AROUND);

/** The bit made wider on all sides; its profile only moves outward. */
function grown(bit: Bit, by: number): Bit {
  const diameter = bit.diameter + 2 * by;
  if (bit.kind === 'vee') return { ...bit, diameter, tipDiameter: bit.tipDiameter + 2 * by };
  return bit.kind === 'flat' ? { ...bit, diameter } : { ...bit, diameter, tipRadius: bit.tipRadius + by };
}

const known = new WeakMap<StageContext, Map<string, Target>>();

/** The target of a bit and what it leaves, made once for a plan: corners and roughing share theirs. @param leave mm */
export function targetOf(ctx: StageContext, bit: Bit, leave: number): Target {
  let mine = known.get(ctx);
  if (!mine) {
    mine = new Map();
    known.set(ctx, mine);
  }
  const key = `${JSON.stringify(bit)} ${leave}`;
  let target = mine.get(key);
  if (!target) {
    target = new Target(ctx, bit, leave);
    mine.set(key, target);
  }
  return target;
}

interface Row {
  /** Radii over one period, mm; one value where the work is round. */
  readonly radii: Float64Array;
  readonly period: number;
  readonly highest: number;
  /** Angle of the first of them, radians: along a screw all rows are one, turned. */
  readonly turn: number;
}

export class Target {
  readonly from: number;
  readonly to: number;
  readonly dx: number;
  /** Number of rows; x = from + row·dx. */
  readonly count: number;
  private readonly ctx: StageContext;
  private readonly bit: Bit;
  private readonly leave: number;
  private readonly roundBit: Bit;
  private readonly carvedBit: Bit;
  private readonly rows: (Row | undefined)[];
  /** The carved row that was worked out last, and its place: what follows on the same screw need not be. */
  private latest: { readonly x: number; readonly floor: number; readonly row: Row } | undefined;

  /** @param leave wood left over the work, mm ≥ 0, in the bit's direction and at least as much beside its walls */
  constructor(ctx: StageContext, bit: Bit, leave: number) {
    const spans = turnedSpans(ctx.job);
    this.ctx = ctx;
    this.bit = bit;
    this.leave = leave;
    this.roundBit = grown(bit, Math.max(leave, GROWN_ROUND));
    this.carvedBit = grown(bit, Math.max(leave, GROWN_CARVED));
    this.from = spans[0]?.from ?? 0;
    this.to = spans.at(-1)?.to ?? 0;
    const n = Math.max(1, Math.ceil((this.to - this.from) / SPACING));
    this.dx = (this.to - this.from) / n || SPACING;
    this.count = n + 1;
    this.rows = new Array(this.count);
  }

  /** x of a row. @returns mm */
  x(row: number): number {
    return this.from + row * this.dx;
  }

  /** Lowest radius that the tip may take at (x, θ). @returns mm */
  at(x: number, theta: number): number {
    const k = Math.min(this.count - 1, Math.max(0, (x - this.from) / this.dx));
    const i = Math.min(this.count - 2, Math.floor(k));
    const s = k - i;
    const a = along(this.row(i), theta);
    return s === 0 ? a : a + (along(this.row(i + 1), theta) - a) * s;
  }

  /** Largest of `at` over all angles at a row. @returns mm */
  highest(row: number): number {
    return this.row(row).highest;
  }

  /** Smallest of `at` over all angles at a row. @returns mm */
  lowest(row: number): number {
    let low = Infinity;
    for (const r of this.row(row).radii) low = Math.min(low, r);
    return low;
  }

  /** Whether the work does not depend on θ at a row. */
  isRound(row: number): boolean {
    return this.row(row).radii.length === 1;
  }

  /** @param around what the bit may touch to either side, mm */
  private sameScrew(a: number, b: number, around: number): boolean {
    const { work } = this.ctx;
    return work.isScrew?.(Math.min(a, b) - around, Math.max(a, b) + around) ?? false;
  }

  private row(i: number): Row {
    const known = this.rows[i];
    if (known) return known;
    const { ctx, bit } = this;
    const { work, job } = ctx;
    const x = this.x(i);
    const Q = this.carvedBit.diameter / 2 + SPACING;
    const floor = job.keepOut.length > 0 ? keepOutHeight(job, bit, x - this.dx, x + this.dx) + CLEARANCE : 0;
    let row: Row;
    if (work.isRound(Math.max(work.from, x - Q), Math.min(work.to, x + Q))) {
      const r = Math.max(floor, ctx.contact(this.roundBit).lowest(x, 0) + this.leave);
      row = { radii: Float64Array.of(r), period: TURN, highest: r, turn: 0 };
    } else if (this.latest?.floor === floor && this.sameScrew(this.latest.x, x, Q)) {
      const turn = work.turning(x) - work.turning(this.latest.x);
      row = { ...this.latest.row, turn };
    } else {
      const inside = x - Q >= 0 && x + Q <= job.field.length;
      const order = inside ? job.field.symmetry : work.symmetry;
      const period = Number.isFinite(order) && order > 1 ? TURN / order : TURN;
      const around = work.bounds(Math.max(work.from, x - Q), Math.min(work.to, x + Q))[1];
      const n = Math.max(8, Math.ceil((around * period) / SPACING_AROUND));
      const thetas = Float64Array.from({ length: n }, (_, j) => (j * period) / n);
      const radii = new Float64Array(n);
      ctx.contact(this.carvedBit).along(new Float64Array(n).fill(x), thetas, radii);
      let highest = 0;
      for (let j = 0; j < n; j++) {
        radii[j] = Math.max(floor, radii[j]! + this.leave);
        highest = Math.max(highest, radii[j]!);
      }
      row = { radii, period, highest, turn: 0 };
      this.latest = { x, floor, row };
    }
    this.rows[i] = row;
    return row;
  }
}

function along(row: Row, theta: number): number {
  const n = row.radii.length;
  if (n === 1) return row.radii[0]!;
  const turns = (theta - row.turn) / row.period;
  const k = (turns - Math.floor(turns)) * n;
  const j = Math.min(n - 1, Math.floor(k));
  const a = row.radii[j]!;
  return a + (row.radii[(j + 1) % n]! - a) * (k - j);
}
