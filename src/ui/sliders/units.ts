/** Numbers of a row between document, hand and eye. Pure. */
import { MM_PER_INCH } from '../../../shared/units.ts';
import { isLength } from '../../part/inch.ts';
import { handStep, plain, type ShownUnits, typedLength } from '../measure.ts';
import type { FieldRow } from './fields.ts';

const SIGNS: Record<string, string> = {
  deg: '°',
  percent: '%',
  rpm: 'rpm',
  N: 'N',
  W: 'W',
  Nm: 'Nm',
  turns: 'turns',
  s: 's',
  h: 'h',
};

/** What stands behind the number. */
export function unitSign(row: Pick<FieldRow, 'unit'>, shown: ShownUnits): string {
  if (row.unit === 'mm') return shown === 'mm' ? 'mm' : 'in';
  if (row.unit === 'mm/min') return shown === 'mm' ? 'mm/min' : 'in/min';
  return SIGNS[row.unit ?? ''] ?? '';
}

const factor = (row: Pick<FieldRow, 'unit'>, shown: ShownUnits): number =>
  row.unit && isLength(row.unit) && shown === 'inch' ? MM_PER_INCH : 1;

/** The step a hand takes, in the row's own unit (mm). */
export const rowStep = (row: Pick<FieldRow, 'unit' | 'step'>, shown: ShownUnits): number =>
  row.unit === 'mm' ? handStep(row.step, shown) : row.step;

/** @param value in the row's own unit @returns the number to read */
export function rowText(row: Pick<FieldRow, 'unit' | 'step'>, value: number, shown: ShownUnits): string {
  const digits = Math.max(0, Math.min(6, Math.ceil(-Math.log10(row.step) - 1e-9)));
  return plain(value / factor(row, shown), factor(row, shown) === 1 ? Math.max(digits, row.unit === 'mm' ? 2 : 0) : 4);
}

/** @returns the typed number in the row's own unit, or undefined if it is none */
export function rowTyped(row: Pick<FieldRow, 'unit'>, text: string, shown: ShownUnits): number | undefined {
  if (row.unit === 'mm') return typedLength(text.replace(/^ø/, ''), shown);
  // Its own unit may stand behind the number, nothing else; the empty text would count as nought.
  const sign = unitSign(row, shown);
  const all = text.trim().replace(',', '.');
  const digits = (sign && all.endsWith(sign) ? all.slice(0, -sign.length) : all).trim();
  const value = Number(digits);
  return digits && Number.isFinite(value) ? value * factor(row, shown) : undefined;
}

/** What a row's number may be, in words. @returns '' where it has no limits */
export function limitsText(row: Pick<FieldRow, 'unit' | 'step' | 'min' | 'max'>, shown: ShownUnits): string {
  const sign = unitSign(row, shown);
  const least = rowText(row, row.min, shown);
  const most = rowText(row, row.max, shown);
  const words = Number.isFinite(row.min)
    ? Number.isFinite(row.max)
      ? `${least} to ${most}`
      : `${least} or more`
    : Number.isFinite(row.max)
      ? `${most} or less`
      : '';
  return words && sign ? `${words} ${sign}` : words;
}

/**
 * What becomes of a typed number: taken, or refused with the sentence that says why. A number beyond the limits is never moved
 * to them in silence, except by what the shown digits round off.
 * @returns `value` in the row's own unit, or `refused`
 */
export function typedRow(
  row: Pick<FieldRow, 'unit' | 'step' | 'min' | 'max'>,
  text: string,
  shown: ShownUnits,
): { value: number } | { refused: string } {
  const number = rowTyped(row, text, shown);
  const limits = limitsText(row, shown);
  const told = text.trim().slice(0, 24) || 'Nothing';
  if (number === undefined) return { refused: `${told} is no number${limits ? `: ${limits}` : ''}` };
  const value = Math.min(row.max, Math.max(row.min, number));
  if (rowText(row, value, shown) !== rowText(row, number, shown))
    return { refused: `${told} is out of limits: ${limits}` };
  return { value };
}
