/** Small change of the line's pages. */
import { overCorners } from '../../cam/blank.ts';
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

/** How thick a form is at its thickest: `ø 42 mm`, or `59.4 mm across the corners` where it keeps the corners of its stock. */
export const thickText = (
  blank: Parameters<typeof overCorners>[0],
  radius: number,
  length: (mm: number) => string,
): string => (overCorners(blank, radius) ? `${length(2 * radius)} across the corners` : `ø ${length(2 * radius)}`);

/** `1 piece`, `40 pieces`. */
export const counted = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;
