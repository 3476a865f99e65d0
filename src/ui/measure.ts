/** Lengths between what is held (mm), what the document writes (its own unit) and what the person reads (mm or inch). */
import { inches, MM_PER_INCH } from '../../shared/units.ts';
import type { Raw } from './state/contract.ts';

export type ShownUnits = 'mm' | 'inch';

/** Length of the document's unit, mm. */
export const documentUnit = (raw: Raw): number => (raw.units === 'inch' ? MM_PER_INCH : 1);

/**
 * A length in a unit, the last bits rounded off.
 * @param mm length @param unit length of the unit, mm @returns to a millionth of a mm; in inches finer, so that what was set in mm comes back from them
 */
export const inUnit = (mm: number, unit: number): number => Number((mm / unit).toFixed(unit === 1 ? 6 : 12));

/** A length as the document writes it. @param mm length @returns number in the document's unit */
export const toDocument = (raw: Raw, mm: number): number => inUnit(mm, documentUnit(raw));

/** @param step of the schema, mm @returns the step that a hand takes in the shown unit, mm: in inches a 64th, or thousandths */
export function handStep(step: number, shown: ShownUnits): number {
  if (shown === 'mm') return step;
  const parts = step >= 0.25 ? 64 : step >= 0.05 ? 200 : 1000;
  return MM_PER_INCH / parts;
}

/** The nearest step, inside limits. @returns `value` on the grid of `step`, then clamped */
export function snapped(value: number, step: number, min = -Infinity, max = Infinity): number {
  const on = step > 0 ? Math.round(value / step) * step : value;
  return Number(Math.min(max, Math.max(min, on)).toFixed(6));
}

/** Decimals worth showing for a step. */
const decimals = (step: number): number => Math.max(0, Math.min(4, Math.ceil(-Math.log10(step) - 1e-9)));

/** A number without trailing zeros. @param digits at most so many after the point */
export const plain = (value: number, digits: number): string => String(Number(value.toFixed(digits)));

/** A length to read, without its unit. @param mm length @param step mm, sets the decimals */
export const lengthNumber = (mm: number, shown: ShownUnits, step = 0.1): string =>
  shown === 'mm' ? plain(mm, Math.max(1, decimals(step))) : plain(inches(mm), 3);

/** A length to read, with its unit. */
export const lengthText = (mm: number, shown: ShownUnits, step?: number): string =>
  `${lengthNumber(mm, shown, step)} ${shown === 'mm' ? 'mm' : 'in'}`;

/**
 * Reads a typed number: decimals with point or comma, fractions (`3/8`, `1 3/8`), and a unit of its own (`mm`, `in`, `"`).
 * @param shown unit where none is typed @returns mm, or undefined if it is no number
 */
export function typedLength(text: string, shown: ShownUnits): number | undefined {
  const found = text
    .trim()
    .replace(',', '.')
    .match(/^([+-]?\d*\.?\d+)?(?:\s*(\d+)\s*\/\s*(\d+))?\s*(mm|in|inch|")?$/);
  if (!found) return undefined;
  const [, whole, over, under, unit] = found;
  // `3/8` alone: the pattern takes the 3 for the whole part only if a blank stands between.
  if (whole === undefined && over === undefined) return undefined;
  const value = Number(whole ?? 0) + (over === undefined ? 0 : Number(over) / Number(under));
  if (!Number.isFinite(value)) return undefined;
  const inch = unit ? unit !== 'mm' : shown === 'inch';
  return inch ? value * MM_PER_INCH : value;
}
