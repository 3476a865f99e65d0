/** Small change of the line's pages. */
import type { Limit, PriceRow } from '../price-list.ts';

export const LIMIT_WORDS: Readonly<Record<Limit, string>> = { wood: 'wood', time: 'bench', hands: 'hands' };

/** All quantity breaks of a list, ascending. */
export const breaksOf = (rows: readonly PriceRow[]): number[] =>
  [...new Set(rows.flatMap((r) => r.breaks.map((c) => c.quantity)))].sort((a, b) => a - b);

/** `3 h 05 min` or `12 min`, from s. */
export function hoursText(seconds: number): string {
  const minutes = Math.round(seconds / 60);
  return minutes < 60 ? `${minutes} min` : `${Math.floor(minutes / 60)} h ${String(minutes % 60).padStart(2, '0')} min`;
}

/** `1 piece`, `40 pieces`. */
export const counted = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;
