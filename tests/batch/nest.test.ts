/** Nesting against published answers, against a general-purpose solver over all patterns, and against its own promises. */
import highsLoader from 'highs';
import { expect, test } from 'vitest';
import { type Nesting, nest, type StockLength, type Wanted } from '../../src/batch/nest.ts';

const plain: Nesting = { gap: 0, lost: 0 };
const wantedOf = (rows: readonly (readonly [length: number, quantity: number])[]): Wanted[] =>
  rows.map(([length, quantity], k) => ({ id: `piece ${k}`, length, quantity }));
const count = (sticks: readonly { times: number }[]) => sticks.reduce((sum, s) => sum + s.times, 0);

/** Even numbers from a seed (the minimal standard generator of Park & Miller 1988). */
function dice(seed: number): (from: number, to: number) => number {
  let state = seed;
  return (from, to) => {
    state = (state * 48271) % 2147483647;
    return from + (state % (to - from + 1));
  };
}

test('cuts the rolls of two textbook examples as well as they can be cut', () => {
  // Chvátal, Linear Programming, ch. 13: 453 raws of 100 inches (from memory).
  const raws = nest(
    wantedOf([
      [45, 97],
      [36, 610],
      [31, 395],
      [14, 211],
    ]),
    [{ name: 'raw', length: 100 }],
    plain,
  );
  expect(count(raws.sticks)).toBe(453);
  expect(raws.optimal).toBe(true);
  // The paper machine of the encyclopaedia's article on the cutting stock problem: 73 rolls of 5600 mm (from memory).
  const mill = nest(
    wantedOf([
      [1380, 22],
      [1520, 25],
      [1560, 12],
      [1710, 14],
      [1820, 18],
      [1880, 18],
      [1930, 20],
      [2000, 10],
      [2050, 12],
      [2100, 14],
      [2140, 16],
      [2150, 18],
      [2200, 20],
    ]),
    [{ name: 'roll', length: 5600 }],
    plain,
  );
  expect(count(mill.sticks)).toBe(73);
  expect(mill.optimal).toBe(true);
});

test('triplets that fill their bins without any waste are found again', () => {
  // The way in which Falkenauer's triplet classes are made (A hybrid grouping genetic algorithm for bin packing, 1996, from
  // memory; own numbers): every bin is three pieces that fill it, so the optimum is known by construction.
  const roll = dice(7);
  const pieces: number[] = [];
  for (let k = 0; k < 15; k++) {
    const a = roll(380, 490);
    const b = roll(250, Math.floor((1000 - a) / 2));
    pieces.push(a, b, 1000 - a - b);
  }
  const found = nest(wantedOf(pieces.map((l) => [l, 1])), [{ name: 'bin', length: 1000 }], plain);
  expect(count(found.sticks)).toBe(15);
  expect(found.optimal).toBe(true);
});

/** Every pattern of a stock length, by plain enumeration. */
function patternsOf(lengths: readonly number[], demand: readonly number[], room: number): number[][] {
  const all: number[][] = [];
  const now = lengths.map(() => 0);
  const go = (k: number, left: number) => {
    if (k === lengths.length) {
      if (now.some((c) => c > 0)) all.push([...now]);
      return;
    }
    for (let c = 0; c <= demand[k]! && c * lengths[k]! <= left + 1e-9; c++) {
      now[k] = c;
      go(k + 1, left - c * lengths[k]!);
    }
    now[k] = 0;
  };
  go(0, room);
  return all;
}

/** Least stock by a general-purpose solver over all patterns. @returns mm */
async function solverOptimum(wanted: readonly Wanted[], stock: readonly StockLength[], how: Nesting): Promise<number> {
  const highs = await highsLoader();
  const lengths = wanted.map((w) => w.length + how.gap);
  const columns = stock.flatMap((s, k) =>
    patternsOf(
      lengths,
      wanted.map((w) => w.quantity),
      s.length - how.lost + how.gap,
    ).map((counts) => ({ k, counts })),
  );
  const sum = (terms: [number, number][]) =>
    terms
      .filter(([c]) => c > 0)
      .map(([c, j]) => `${c} x${j}`)
      .join(' + ');
  const rows = wanted.map((w, i) => `d${i}: ${sum(columns.map((c, j) => [c.counts[i]!, j]))} >= ${w.quantity}`);
  stock.forEach((s, k) => {
    if (s.quantity !== undefined)
      rows.push(`s${k}: ${sum(columns.map((c, j) => [c.k === k ? 1 : 0, j]))} <= ${s.quantity}`);
  });
  const text = `Minimize\n obj: ${sum(columns.map((c, j) => [stock[c.k]!.length, j]))}\nSubject To\n ${rows.join('\n ')}\nGeneral\n ${columns.map((_, j) => `x${j}`).join(' ')}\nEnd\n`;
  const answer = highs.solve(text, { mip_rel_gap: 0 });
  if (answer.Status !== 'Optimal') throw new Error(`the solver says ${answer.Status}`);
  return answer.ObjectiveValue;
}

/** Workshop instances: pegs to balusters, one to three lengths of stock, some of them scarce. */
const instances = Array.from({ length: 10 }, (_, n) => {
  const roll = dice(100 + n);
  const wanted = wantedOf(Array.from({ length: roll(4, 6) }, () => [roll(140, 420), roll(3, 30)] as const));
  const stock: StockLength[] = [{ name: 'long', length: 1100 }];
  if (n % 2) stock.push({ name: 'short', length: 650 });
  if (n % 3 === 0) stock.push({ name: 'offcut', length: 480 + 10 * n, quantity: 4 });
  return { n: n + 1, wanted, stock, how: { gap: 8, lost: 60 + n } };
});

test.each(instances)(
  'uses within 3 % of the stock that a solver needs at least, instance $n',
  async ({ wanted, stock, how }) => {
    const mine = nest(wanted, stock, how);
    const best = await solverOptimum(wanted, stock, how);
    expect(mine.left).toEqual([]);
    expect(mine.stockLength).toBeGreaterThanOrEqual(best - 1e-6);
    expect(mine.stockLength).toBeLessThanOrEqual(1.03 * best);
    // The bound is one: no more than the true optimum, and worth stating.
    expect(mine.bound).toBeLessThanOrEqual(best + 1e-6);
    expect(mine.bound).toBeGreaterThan(0.97 * best);
    if (mine.optimal) expect(mine.stockLength).toBeCloseTo(best, 6);
  },
);

test('every piece is made once, every stick holds what is on it with its gaps, and no rack is overdrawn', () => {
  for (const { wanted, stock, how } of instances) {
    const { sticks } = nest(wanted, stock, { ...how, most: 5 });
    wanted.forEach((w, i) => {
      expect(sticks.reduce((sum, s) => sum + s.times * s.pieces.filter((p) => p === i).length, 0)).toBe(w.quantity);
    });
    for (const s of sticks) {
      const length = s.pieces.reduce((sum, p) => sum + wanted[p]!.length, 0);
      expect(s.used).toBeCloseTo(length, 9);
      expect(s.pieces.length).toBeLessThanOrEqual(5);
      expect(length + (s.pieces.length - 1) * how.gap + how.lost).toBeLessThanOrEqual(stock[s.stock]!.length + 1e-6);
    }
    stock.forEach((s, k) => {
      expect(count(sticks.filter((x) => x.stock === k))).toBeLessThanOrEqual(s.quantity ?? Infinity);
    });
  }
});

test('says which pieces are too long and which find no stock', () => {
  const wanted = wantedOf([
    [500, 2],
    [100, 30],
  ]);
  const found = nest(wanted, [{ name: 'rack', length: 450, quantity: 3 }], { gap: 10, lost: 20 });
  expect(found.left).toContainEqual({ wanted: 0, quantity: 2, why: 'too-long' });
  const made = found.sticks.reduce((sum, s) => sum + s.times * s.pieces.length, 0);
  expect(made).toBe(12);
  expect(found.left).toContainEqual({ wanted: 1, quantity: 18, why: 'no-stock' });
  expect(found.optimal).toBe(false);
});

test('the same pieces nest the same way, and a number that is none is the caller’s fault', () => {
  const { wanted, stock, how } = instances[5]!;
  expect(nest(wanted, stock, how)).toEqual(nest(wanted, stock, how));
  expect(() => nest([{ id: 'x', length: Number.NaN, quantity: 1 }], stock, how)).toThrow(RangeError);
  expect(() => nest([{ id: 'x', length: 10, quantity: 1.5 }], stock, how)).toThrow(RangeError);
  expect(nest([], stock, how).sticks).toEqual([]);
});
