/**
 * The cutting-stock problem with its sticks taken in parts, by column generation (Gilmore & Gomory, "A linear programming
 * approach to the cutting-stock problem", Operations Research 9, 1961, from memory): a small simplex over the patterns known so
 * far, and a knapsack that finds the pattern which its prices say is missing. Gives good patterns and a bound that no whole
 * solution can beat.
 */
import { fillBest } from './nest-knapsack.ts';

/** A stock length in whole units. */
export interface Supply {
  /** Room for pieces, units. */
  readonly room: number;
  /** What using one costs, e.g. its whole length. */
  readonly cost: number;
  /** How many there are; Infinity if more can be bought. */
  readonly quantity: number;
}

/** One way of filling a stick. */
export interface Pattern {
  readonly supply: number;
  readonly counts: Int32Array;
}

export interface Relaxed {
  readonly patterns: readonly Pattern[];
  /** How often each pattern is used, in parts. */
  readonly times: readonly number[];
  /** No whole solution costs less: weak duality, whatever the rounding of the simplex. */
  readonly bound: number;
  /** Whether every demand can be met at all with sticks in parts. */
  readonly feasible: boolean;
}

const EPSILON = 1e-9;
/** Rounds of the simplex for each row before it is broken off; the bound holds all the same. */
const ROUNDS_A_ROW = 60;

/**
 * @param lengths of the kinds of piece, units @param demand pieces of each kind @param most pieces on one stick
 * @param pool patterns known from before, tried before new ones are looked for; new ones are added to it
 */
export function relax(
  lengths: readonly number[],
  demand: readonly number[],
  supplies: readonly Supply[],
  most: number,
  pool: Pattern[] = [],
): Relaxed {
  const kinds = lengths.map((_, i) => i).filter((i) => demand[i]! > 0);
  const limited = supplies.map((_, s) => s).filter((s) => Number.isFinite(supplies[s]!.quantity));
  const m = kinds.length + limited.length;
  const dearest = Math.max(...supplies.map((s) => s.cost), 1);
  // A piece that is not made costs more than any way of making it: a whole stick for itself, many times over.
  const missing = dearest * 1e4;
  const columns: { cost: number; rows: Float64Array; pattern?: Pattern }[] = [];
  const b = Float64Array.from([...kinds.map((i) => demand[i]!), ...limited.map((s) => supplies[s]!.quantity)]);
  const unit = (row: number, sign: number) => {
    const rows = new Float64Array(m);
    rows[row] = sign;
    return rows;
  };
  const basis: number[] = [];
  for (let r = 0; r < m; r++) {
    columns.push({ cost: r < kinds.length ? missing : 0, rows: unit(r, 1) });
    basis.push(r);
  }
  const surplus = kinds.map((_, r) => columns.push({ cost: 0, rows: unit(r, -1) }) - 1);
  // Inverse of the basis, row by row.
  const inverse = Array.from({ length: m }, (_, r) => unit(r, 1));
  const x = b.slice();
  let bound = 0;
  const prices = new Float64Array(m);

  const enter = (column: number): boolean => {
    const { rows } = columns[column]!;
    const d = inverse.map((row) => row.reduce((sum, v, k) => sum + v * rows[k]!, 0));
    let out = -1;
    let least = Infinity;
    for (let r = 0; r < m; r++) {
      if (d[r]! <= EPSILON) continue;
      const ratio = x[r]! / d[r]!;
      // Of equal ratios the lower column leaves (Bland's rule), so that the simplex cannot go round in circles.
      if (ratio < least - EPSILON || (ratio < least + EPSILON && basis[r]! < basis[out]!)) {
        least = Math.min(ratio, least);
        out = r;
      }
    }
    if (out < 0) return false;
    const step = x[out]! / d[out]!;
    const pivot = inverse[out]!.map((v) => v / d[out]!);
    for (let r = 0; r < m; r++) {
      if (r === out) continue;
      x[r] = Math.max(0, x[r]! - step * d[r]!);
      const row = inverse[r]!;
      for (let k = 0; k < m; k++) row[k] = row[k]! - d[r]! * pivot[k]!;
    }
    x[out] = step;
    inverse[out] = pivot;
    basis[out] = column;
    return true;
  };

  const columnOf = (pattern: Pattern): number => {
    const rows = new Float64Array(m);
    kinds.forEach((i, r) => {
      rows[r] = pattern.counts[i]!;
    });
    const row = limited.indexOf(pattern.supply);
    if (row >= 0) rows[kinds.length + row] = 1;
    return columns.push({ cost: supplies[pattern.supply]!.cost, rows, pattern }) - 1;
  };
  const known = pool
    .filter((p) => p.counts.every((c, i) => c <= demand[i]!) && supplies[p.supply]!.quantity > 0)
    .map(columnOf);

  for (let round = 0; round < ROUNDS_A_ROW * m; round++) {
    for (let k = 0; k < m; k++) prices[k] = basis.reduce((sum, c, r) => sum + columns[c]!.cost * inverse[r]![k]!, 0);
    const falling = kinds.findIndex((_, r) => prices[r]! < -EPSILON);
    if (falling >= 0) {
      if (!enter(surplus[falling]!)) break;
      continue;
    }
    const cheap = cheapest(known, columns, prices, -EPSILON * dearest);
    if (cheap !== undefined) {
      if (!enter(cheap)) break;
      continue;
    }
    const values = new Array<number>(lengths.length).fill(0);
    kinds.forEach((i, r) => {
      values[i] = prices[r]!;
    });
    const fillings = supplies.map((s) => fillBest(lengths, values, demand, s.room, most));
    bound = Math.max(
      bound,
      dual(
        prices,
        fillings.map((f) => f.upper),
        b,
        kinds.length,
        supplies,
      ),
    );
    let best = -EPSILON * dearest;
    let chosen = -1;
    supplies.forEach((s, k) => {
      const row = limited.indexOf(k);
      const reduced = s.cost - fillings[k]!.value - (row < 0 ? 0 : prices[kinds.length + row]!);
      if (reduced < best) {
        best = reduced;
        chosen = k;
      }
    });
    if (chosen < 0) {
      // Slack of a limited stock may have to come back.
      const slack = limited.findIndex((_, r) => prices[kinds.length + r]! > EPSILON);
      if (slack < 0 || !enter(kinds.length + slack)) break;
      continue;
    }
    const pattern: Pattern = { supply: chosen, counts: fillings[chosen]!.counts };
    pool.push(pattern);
    const column = columnOf(pattern);
    known.push(column);
    if (!enter(column)) break;
  }
  const used = basis
    .map((c, r) => ({ pattern: columns[c]!.pattern, times: x[r]! }))
    .filter((u): u is { pattern: Pattern; times: number } => u.pattern !== undefined && u.times > EPSILON);
  const feasible = basis.every((c, r) => c >= kinds.length || x[r]! <= 1e-6);
  return { patterns: used.map((u) => u.pattern), times: used.map((u) => u.times), bound, feasible };
}

/** Of some columns the one that lowers the cost most for each unit; undefined where none does by more than a hair. */
function cheapest(
  among: readonly number[],
  columns: readonly { readonly cost: number; readonly rows: Float64Array }[],
  prices: Float64Array,
  hair: number,
): number | undefined {
  let best = hair;
  let chosen: number | undefined;
  for (const c of among) {
    const { cost, rows } = columns[c]!;
    let reduced = cost;
    for (let r = 0; r < rows.length; r++) reduced -= prices[r]! * rows[r]!;
    if (reduced < best) {
      best = reduced;
      chosen = c;
    }
  }
  return chosen;
}

/**
 * A bound from any prices: they are scaled until no pattern of a stock that can be bought is worth more than it costs
 * (Farley 1990, from memory); a limited stock whose patterns are worth more than it costs pays the difference for each stick.
 */
function dual(
  prices: Float64Array,
  worth: readonly number[],
  b: Float64Array,
  kinds: number,
  supplies: readonly Supply[],
): number {
  let scale = 1;
  supplies.forEach((s, k) => {
    if (!Number.isFinite(s.quantity) && worth[k]! > 0) scale = Math.min(scale, s.cost / worth[k]!);
  });
  let sum = 0;
  for (let r = 0; r < kinds; r++) sum += scale * Math.max(0, prices[r]!) * b[r]!;
  supplies.forEach((s, k) => {
    if (Number.isFinite(s.quantity)) sum += s.quantity * Math.min(0, s.cost - scale * worth[k]!);
  });
  return sum;
}
