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
  const value = Number(
    text
      .trim()
      .replace(',', '.')
      .replace(/[^\d.eE+-]+$/, ''),
  );
  return text.trim() && Number.isFinite(value) ? value * factor(row, shown) : undefined;
}
