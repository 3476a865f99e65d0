/**
 * The best filling of one stick: bounded knapsack by depth-first search in the order of value for length, cut off by the
 * bound that lets the next piece be taken in parts (Dantzig's bound; Gilmore & Gomory 1963 search patterns this way; Martello
 * & Toth, Knapsack Problems, ch. 3, all from memory). Work is bounded: beyond `NODES` places looked at, the best so far is
 * returned with an upper bound that still holds.
 */

export interface Filling {
  /** Pieces of each kind. */
  readonly counts: Int32Array;
  /** Worth of the filling. */
  readonly value: number;
  /** No filling is worth more; equal to value if the search came to its end. */
  readonly upper: number;
}

/** Places looked at before the search is broken off. */
const NODES = 60_000;
const EPSILON = 1e-9;

/**
 * @param lengths of the kinds, whole units > 0 @param values of one piece each; kinds worth nothing are left out
 * @param limits most pieces of each kind @param capacity whole units @param most pieces altogether
 */
export function fillBest(
  lengths: readonly number[],
  values: readonly number[],
  limits: readonly number[],
  capacity: number,
  most = Infinity,
): Filling {
  const order = lengths
    .map((_, i) => i)
    .filter((i) => values[i]! > EPSILON && limits[i]! > 0 && lengths[i]! <= capacity)
    .sort((a, b) => values[b]! / lengths[b]! - values[a]! / lengths[a]! || lengths[b]! - lengths[a]! || a - b);
  const n = order.length;
  const now = new Int32Array(n);
  let best = 0;
  let bestCounts = new Int32Array(n);
  let nodes = 0;
  let broken = false;
  /** Worth of what may still be added from kind k on, the last piece in parts. */
  const bound = (k: number, room: number): number => {
    let sum = 0;
    for (let m = k; m < n; m++) {
      const i = order[m]!;
      const all = limits[i]! * lengths[i]!;
      if (all >= room) return sum + (values[i]! * room) / lengths[i]!;
      sum += limits[i]! * values[i]!;
      room -= all;
    }
    return sum;
  };
  const root = bound(0, capacity);
  const search = (k: number, room: number, left: number, value: number): void => {
    if (value > best + EPSILON) {
      best = value;
      bestCounts = now.slice();
    }
    if (k === n || broken || left === 0) return;
    if (++nodes > NODES) {
      broken = true;
      return;
    }
    const i = order[k]!;
    for (let c = Math.min(limits[i]!, Math.floor(room / lengths[i]!), left); c >= 0; c--) {
      const worth = value + c * values[i]!;
      const rest = room - c * lengths[i]!;
      // With fewer of the densest kind the bound only falls: nothing better follows.
      if (worth + bound(k + 1, rest) <= best + EPSILON) {
        if (worth > best + EPSILON) {
          now[k] = c;
          best = worth;
          bestCounts = now.slice();
          now[k] = 0;
        }
        break;
      }
      now[k] = c;
      search(k + 1, rest, left - c, worth);
      now[k] = 0;
      if (broken) return;
    }
  };
  search(0, capacity, most, 0);
  const counts = new Int32Array(lengths.length);
  order.forEach((i, k) => {
    counts[i] = bestCounts[k]!;
  });
  return { counts, value: best, upper: broken ? Math.max(best, root) : best };
}
