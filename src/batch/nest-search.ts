/** Whole sticks: fillings one after the other, by rule for a first answer and by search where few pieces are left. */

import type { Pattern, Supply } from './nest-columns.ts';
import { fillBest } from './nest-knapsack.ts';

/** Sticks filled, and what they cost; undefined where the sticks do not reach. */
export interface Whole {
  readonly sticks: readonly Pattern[];
  readonly cost: number;
}

/** Places looked at by the search over few pieces before it is broken off. */
const NODES = 40_000;

const total = (counts: ArrayLike<number>): number => {
  let sum = 0;
  for (let i = 0; i < counts.length; i++) sum += counts[i]!;
  return sum;
};

/**
 * Stick after stick, each filled as full as can be from what is left, on the stock that then wastes the least share of itself.
 * Exhaustive repetition: good fillings first, odd remainders last.
 */
export function fillInTurn(
  lengths: readonly number[],
  demand: readonly number[],
  supplies: readonly Supply[],
  most: number,
): Whole | undefined {
  const left = [...demand];
  const stock = supplies.map((s) => s.quantity);
  const sticks: Pattern[] = [];
  let cost = 0;
  while (total(left) > 0) {
    let best: { pattern: Pattern; share: number } | undefined;
    supplies.forEach((s, k) => {
      if (stock[k]! < 1) return;
      // Long pieces are the hard ones: a hair more for their length makes the search take them first.
      const worth = lengths.map((l) => l * (1 + (1e-3 * l) / Math.max(1, s.room)));
      const { counts } = fillBest(lengths, worth, left, s.room, most);
      const used = counts.reduce((sum, c, i) => sum + c * lengths[i]!, 0);
      if (used === 0) return;
      const share = used / s.cost;
      if (!best || share > best.share + 1e-12) best = { pattern: { supply: k, counts }, share };
    });
    if (!best) return undefined;
    sticks.push(best.pattern);
    stock[best.pattern.supply]!--;
    cost += supplies[best.pattern.supply]!.cost;
    best.pattern.counts.forEach((c, i) => {
      left[i]! -= c;
    });
  }
  return { sticks, cost };
}

/**
 * Every way of filling, for few pieces: the longest piece that is left goes on the next stick, with every combination that leaves no room
 * for a further piece. Cut off where the length that is left must cost more than the best known.
 * @param below only what costs less than this counts @returns the cheapest, and whether all was looked at
 */
export function searchAll(
  lengths: readonly number[],
  demand: readonly number[],
  supplies: readonly Supply[],
  most: number,
  below: number,
): { whole: Whole | undefined; all: boolean } {
  const order = lengths.map((_, i) => i).sort((a, b) => lengths[b]! - lengths[a]! || a - b);
  const left = [...demand];
  const stock = supplies.map((s) => s.quantity);
  // The cheapest that a unit of length can be had for.
  const rate = Math.min(...supplies.map((s) => (s.room > 0 ? s.cost / s.room : Infinity)));
  const cheapest = Math.min(...supplies.map((s) => s.cost));
  let limit = below;
  let best: Whole | undefined;
  let nodes = 0;
  const sticks: Pattern[] = [];
  const need = () => {
    const length = left.reduce((sum, c, i) => sum + c * lengths[i]!, 0);
    return length > 0 ? Math.max(cheapest, length * rate) : 0;
  };
  const place = (cost: number): void => {
    if (nodes > NODES) return;
    const first = order.find((i) => left[i]! > 0);
    if (first === undefined) {
      best = { sticks: sticks.slice(), cost };
      limit = cost;
      return;
    }
    supplies.forEach((s, k) => {
      if (stock[k]! < 1 || s.room < lengths[first]!) return;
      stock[k]!--;
      const counts = new Int32Array(lengths.length);
      const fill = (at: number, room: number, count: number): void => {
        if (++nodes > NODES || cost + s.cost >= limit - 1e-9) return;
        const next = order.findIndex((i, q) => q >= at && left[i]! > 0 && lengths[i]! <= room);
        if (next < 0 || count === most) {
          if (cost + s.cost + need() >= limit - 1e-9) return;
          sticks.push({ supply: k, counts: counts.slice() });
          place(cost + s.cost);
          sticks.pop();
          return;
        }
        const i = order[next]!;
        const can = Math.min(left[i]!, Math.floor(room / lengths[i]!), most - count);
        const least = i === first && count === 0 ? 1 : 0;
        for (let c = can; c >= least; c--) {
          left[i]! -= c;
          counts[i]! += c;
          fill(next + 1, room - c * lengths[i]!, count + c);
          left[i]! += c;
          counts[i]! -= c;
        }
      };
      fill(0, s.room, 0);
      stock[k]!++;
    });
  };
  if (need() < limit - 1e-9) place(0);
  return { whole: best, all: nodes <= NODES };
}
