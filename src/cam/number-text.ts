/**
 * Numbers as program text. RS-274 knows digits with one point and no exponents (NISTIR 6556 §3.3.2.1), so a number is
 * never written as JavaScript would by itself.
 */

/** Below this share of the last decimal a number counts as already round: it only comes from binary fractions. */
const FUZZ = 1e-6;

/** @param value finite @param decimals digits after the point at the most @returns plain digits, no trailing zeros, no −0 */
export function plainNumber(value: number, decimals: number): string {
  if (!Number.isFinite(value) || Math.abs(value) >= 1e15) throw new Error(`not a number for a program: ${value}`);
  const digits = value.toFixed(decimals);
  const short = digits.includes('.') ? digits.replace(/\.?0+$/, '') : digits;
  return short === '-0' ? '0' : short;
}

/** Nearest number with so many decimals, exactly as its text reads back. */
export const roundNearest = (value: number, decimals: number): number => Number(plainNumber(value, decimals));

/** Next number with so many decimals that is not below. */
export function roundUp(value: number, decimals: number): number {
  const scale = 10 ** decimals;
  return roundNearest(Math.ceil(value * scale - FUZZ) / scale, decimals);
}

/** Next number with so many decimals that is not above. */
export const roundDown = (value: number, decimals: number): number => -roundUp(-value, decimals) || 0;

/** Characters that a line may hold (NISTIR 6556 §3.3). */
export const LINE_LENGTH = 256;

/** A comment on a line of its own: plain ASCII, no nested brackets, within a line's length (NISTIR 6556 §3.3.4). */
export function comment(text: string): string {
  const plain = text
    .normalize('NFKD')
    .replace(/[\u2013\u2014\u2212]/g, '-')
    .replace(/[\u2018\u2019]/g, "'")
    .replace(/\u00b0/g, ' deg')
    .replace(/\(/g, '[')
    .replace(/\)/g, ']')
    .replace(/[^\x20-\x7e]/g, '')
    .replace(/\s+/g, ' ')
    .trim();
  return `(${plain.slice(0, LINE_LENGTH - 2)})`;
}
