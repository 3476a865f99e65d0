/**
 * Exact fractions for money: no sum of a price list hangs on how a computer keeps decimals. A number that comes in counts
 * as the decimal that it shows, to a millionth; from there on nothing is rounded until `cents`.
 */

export interface Exact {
  readonly top: bigint;
  /** > 0 */
  readonly bottom: bigint;
}

const MILLION = 1e6;

/** @param value finite, |value| < 9e9 @returns the decimal nearest to it with six places @throws RangeError for anything else */
export function exact(value: number): Exact {
  const millionths = Math.round(value * MILLION);
  if (!Number.isSafeInteger(millionths)) throw new RangeError(`got ${value}, expected a number below 9e9`);
  return { top: BigInt(millionths), bottom: BigInt(MILLION) };
}

export const plus = (...terms: readonly Exact[]): Exact =>
  terms.reduce((a, b) => ({ top: a.top * b.bottom + b.top * a.bottom, bottom: a.bottom * b.bottom }));

export const times = (...factors: readonly Exact[]): Exact =>
  factors.reduce((a, b) => ({ top: a.top * b.top, bottom: a.bottom * b.bottom }));

/** @throws RangeError if the divisor is not above zero */
export function over(a: Exact, b: Exact): Exact {
  if (b.top <= 0n) throw new RangeError('expected a divisor above zero');
  return { top: a.top * b.bottom, bottom: a.bottom * b.top };
}

/** 1 − a. */
export const rest = (a: Exact): Exact => ({ top: a.bottom - a.top, bottom: a.bottom });

/** Whole cents, a half upward. @param amount in whole units of the currency, at least zero */
export function cents(amount: Exact): number {
  return Number((200n * amount.top + amount.bottom) / (2n * amount.bottom));
}

/** Whole cents as an amount again. */
export const ofCents = (whole: number): Exact => ({ top: BigInt(whole), bottom: 100n });

/** Nearest number, for what is not money. */
export const near = (a: Exact): number => Number((a.top * BigInt(MILLION)) / a.bottom) / MILLION;

/** `1234.50` from whole cents; never a comma, never a grouping: the same in every country. */
export function moneyText(whole: number): string {
  const digits = String(Math.abs(whole)).padStart(3, '0');
  return `${whole < 0 ? '-' : ''}${digits.slice(0, -2)}.${digits.slice(-2)}`;
}
