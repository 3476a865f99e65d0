/**
 * The rays that carry the proof: rows along x, evenly turned columns, and on each ray the part's own radius below which
 * no bit may reach. Rows stand on every break of the part; a row on a shoulder counts to its lower side, and a few rows stand just inside
 * the wall, so that a bit that shaves the wall is seen and one that only slides along it is not.
 */
import { TURN, wrapTurn } from '../../../shared/units.ts';
import type { Side } from '../../profiles/field.ts';
import { stockRadius } from './stock.ts';
import type { ProofJob } from './verdict.ts';

export const OUTSIDE = 0;
export const FORM = 1;
export const STUB = 2;

export interface Grid {
  readonly xs: Float64Array;
  /** Length along x that a row stands for, mm; they sum to the blank's length. */
  readonly width: Float64Array;
  /** Columns; column j stands at 2π·j/columns. */
  readonly columns: number;
  /** OUTSIDE, FORM or STUB for each row. */
  readonly region: Uint8Array;
  /** Radius below which nothing may be taken, mm; 0 where there is no part. Index row·columns + column. */
  readonly part: Float32Array;
  /** Radius of the blank by column, mm. */
  readonly stock: Float32Array;
  /** Angles (radians, [0, 2π)) and radii of the part's arrises on each row. */
  readonly arrises: readonly (Float64Array | undefined)[];
  /** Largest part radius on the row, arrises included, mm. */
  readonly partTop: Float64Array;
  /** On rows of a wall, whose rays count to its lower side: its edge, on which a bit may rest. */
  readonly edges: readonly (Edge | undefined)[];
  /** First row with x at or beyond start + k·step, for quick search. */
  readonly finder: { readonly start: number; readonly step: number; readonly first: Int32Array };
}

/** The higher side of a wall, mm: by column, and the largest. */
export interface Edge {
  readonly radii: Float32Array;
  readonly top: number;
}

/** How fine the rays stand. */
export interface Fineness {
  /** Wanted distance of rows and, at the part's surface, of columns, mm. */
  readonly cell: number;
  /** Most rays. */
  readonly most: number;
  /** Tolerance whose shares place the rows just inside a wall, mm; 0 for none. */
  readonly tolerance: number;
}

/** Shares of the tolerance at which rows stand inside a wall. */
const WALL_ROWS = [0.25, 0.5, 0.75, 1, 1.5, 2.5, 5];
/** Rows nearer than this are one, mm. */
export const SAME_ROW = 1e-4;
/** Rows in the grip and beyond stubs, mm apart: nothing is to be cut there. */
const GRIP_CELL = 1;
/** Largest number of angular features whose columns are aligned with them. */
const MOST_ALIGNED = 48;

const gcd = (a: number, b: number): number => (b ? gcd(b, a % b) : a);
const lcm = (a: number, b: number): number => (a / gcd(a, b)) * b;

/** Lays out the rays of a job. @throws never for a valid job */
export function layGrid(job: ProofJob, fine: Fineness): Grid {
  const { field, blank, stubs } = job;
  const between = stubs.between ?? [];
  const from = blank.from;
  const to = blank.to;
  const symmetry = Number.isFinite(field.symmetry) && field.symmetry > 1 ? Math.round(field.symmetry) : 1;
  // Columns fall on the corners of the blank and, by symmetry, on arrises that do not turn.
  const flats = blank.section === 'polygon' ? 2 * blank.sides : 8;
  const unit = lcm(lcm(8, flats <= MOST_ALIGNED ? flats : 8), symmetry <= MOST_ALIGNED ? 2 * symmetry : 1);
  const fineLength = Math.max(1, Math.min(to, stubs.tail.to) - Math.max(from, stubs.chuck.from));
  const girth = TURN * Math.max(1, field.maxRadius);
  const cell = Math.max(fine.cell, Math.sqrt((fineLength * girth) / fine.most));
  const columns = Math.max(64, Math.ceil(girth / cell / unit) * unit);

  const probe = Float64Array.from({ length: 32 }, (_, j) => (TURN * (j + 0.37)) / 32);
  const low = new Float64Array(32);
  const high = new Float64Array(32);
  const marks: number[] = [from, to];
  const walls: number[] = [];
  const mark = (x: number) => {
    if (x > from + SAME_ROW && x < to - SAME_ROW) marks.push(x);
  };
  /** Rows beside a wall at x; `minus` and `plus` say on which side the part is higher. */
  const wall = (x: number, minus: boolean, plus: boolean) => {
    walls.push(x);
    for (const share of WALL_ROWS) {
      if (minus) mark(x - share * fine.tolerance);
      if (plus) mark(x + share * fine.tolerance);
    }
  };
  for (const b of field.breaks) {
    mark(b.x);
    if (b.kind !== 'shoulder') continue;
    field.ring(b.x, probe, low, -1);
    field.ring(b.x, probe, high, 1);
    if (fine.tolerance > 0)
      wall(
        b.x,
        low.some((r, j) => r > high[j]!),
        low.some((r, j) => r < high[j]!),
      );
  }
  for (const k of field.kept) {
    mark(k.from);
    mark(k.to);
  }
  for (const s of [stubs.chuck, stubs.tail, ...between])
    if (s.to > s.from) {
      mark(s.from);
      mark(s.to);
    }
  for (const [x, inwards] of [
    [field.from, 1],
    [field.to, -1],
  ] as const) {
    mark(x);
    if (fine.tolerance > 0) wall(x, inwards < 0, inwards > 0);
  }
  marks.sort((a, b) => a - b);
  const fixed = marks.filter((x, i) => i === 0 || x - marks[i - 1]! > SAME_ROW);
  if (fixed.length > 1) fixed[fixed.length - 1] = to;
  const rows: number[] = [];
  for (let i = 0; i + 1 < fixed.length; i++) {
    const a = fixed[i]!;
    const b = fixed[i + 1]!;
    const mid = (a + b) / 2;
    const gripped = mid < Math.min(field.from, stubs.chuck.from) || mid > Math.max(field.to, stubs.tail.to);
    const n = Math.max(1, Math.ceil((b - a) / (gripped ? Math.max(GRIP_CELL, cell) : cell) - 1e-9));
    for (let k = 0; k < n; k++) rows.push(a + ((b - a) * k) / n);
  }
  rows.push(to);
  const xs = Float64Array.from(rows);
  const n = xs.length;
  const width = xs.map((x, i) => {
    const a = i === 0 ? x : (x + xs[i - 1]!) / 2;
    const b = i === n - 1 ? x : (x + xs[i + 1]!) / 2;
    return b - a;
  });

  const thetas = Float64Array.from({ length: columns }, (_, j) => (TURN * j) / columns);
  const period = columns % symmetry === 0 ? columns / symmetry : columns;
  const shortThetas = thetas.subarray(0, period);
  const lower = new Float64Array(period);
  const upper = new Float64Array(period);
  const part = new Float32Array(n * columns);
  const region = new Uint8Array(n);
  const partTop = new Float64Array(n);
  const arrises: (Float64Array | undefined)[] = [];
  const edges: (Edge | undefined)[] = [];
  const isWall = (x: number) => walls.some((w) => Math.abs(w - x) <= SAME_ROW);
  const stubAt = (x: number) =>
    [stubs.chuck, stubs.tail].find((s) => s.to > s.from && x >= s.from - SAME_ROW && x <= s.to + SAME_ROW)?.radius ?? 0;
  for (let i = 0; i < n; i++) {
    const x = xs[i]!;
    const base = i * columns;
    const within = x >= field.from - SAME_ROW && x <= field.to + SAME_ROW;
    const atEnd = Math.abs(x - field.from) <= SAME_ROW || Math.abs(x - field.to) <= SAME_ROW;
    const stub = stubAt(x);
    arrises.push(undefined);
    edges.push(undefined);
    if (!within) {
      region[i] = stub > 0 ? STUB : OUTSIDE;
      part.fill(stub, base, base + columns);
      partTop[i] = stub;
      continue;
    }
    const side: Side = 0;
    if (isWall(x)) {
      field.ring(x, shortThetas, upper, side);
      const radii = new Float32Array(columns);
      for (let j = 0; j < columns; j += period) radii.set(upper, j);
      edges[i] = { radii, top: upper.reduce((most, r) => Math.max(most, r), 0) };
    }
    if (field.isRound(x, x)) {
      let r = field.radius(x, 0, side);
      if (isWall(x)) r = Math.min(field.radius(x, 0, -1), field.radius(x, 0, 1));
      if (atEnd) r = Math.min(r, stub);
      part.fill(r, base, base + columns);
    } else {
      field.ring(x, shortThetas, lower, isWall(x) ? -1 : side);
      if (isWall(x)) {
        field.ring(x, shortThetas, upper, 1);
        for (let j = 0; j < period; j++) lower[j] = Math.min(lower[j]!, upper[j]!);
      }
      if (atEnd) for (let j = 0; j < period; j++) lower[j] = Math.min(lower[j]!, stub);
      for (let j = 0; j < columns; j += period) part.set(lower, base + j);
      if (!atEnd && !isWall(x)) {
        const angles = field.creases(x);
        if (angles.length)
          arrises[i] = Float64Array.from(
            angles.map(wrapTurn).flatMap((a) => [a, Math.min(field.radius(x, a - 1e-7), field.radius(x, a + 1e-7))]),
          );
      }
    }
    // A parting groove is waste: below its neck nothing may be cut, above it nothing is asked for.
    const parting = between.some((s) => x >= s.from - SAME_ROW && x <= s.to + SAME_ROW);
    region[i] = parting || (atEnd && stub > 0) ? STUB : atEnd ? OUTSIDE : FORM;
    let top = 0;
    for (let k = base; k < base + columns; k++) if (part[k]! > top) top = part[k]!;
    const edge = arrises[i];
    if (edge) for (let k = 1; k < edge.length; k += 2) top = Math.max(top, edge[k]!);
    partTop[i] = top;
  }
  return {
    xs,
    width,
    columns,
    region,
    part,
    stock: Float32Array.from(thetas, (t) => stockRadius(blank, t)),
    arrises,
    partTop,
    edges,
    finder: finderOf(xs, cell),
  };
}

function finderOf(xs: Float64Array, step: number): Grid['finder'] {
  const start = xs[0]!;
  const count = Math.ceil((xs[xs.length - 1]! - start) / step) + 2;
  const first = new Int32Array(count);
  let i = 0;
  for (let k = 0; k < count; k++) {
    while (i < xs.length && xs[i]! < start + k * step) i++;
    first[k] = i;
  }
  return { start, step, first };
}

/** First row with x at or beyond the given one. @returns 0…rows */
export function rowFrom(grid: Grid, x: number): number {
  const { start, step, first } = grid.finder;
  const k = Math.floor((x - start) / step);
  if (k < 0) return 0;
  if (k >= first.length) return grid.xs.length;
  let i = first[k]!;
  while (i < grid.xs.length && grid.xs[i]! < x) i++;
  return i;
}
