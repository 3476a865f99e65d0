/** Numbers as a table writes them: with a decimal point or a decimal comma, recognised and said, never guessed. */
import type { Problem } from '../../shared/problems.ts';
import { cellPath, type Separator, tableProblem } from './line-text.ts';

export type Decimal = 'point' | 'comma';

/** A cell in which numbers are expected. */
export interface NumberCell {
  readonly line: number;
  readonly column: number;
  readonly title: string;
  readonly text: string;
}

const MARKED = /\d[\d.,]*[.,]\d+|[.,]\d+/g;

/** Whether a number with one mark can only have it for a decimal: 1,5 and 0,125 can; 1,500 may be fifteen hundred. */
const decided = (token: string): boolean => !/^[1-9]\d{0,2}[.,]\d{3}$/.test(token);

/**
 * Finds the mark that a table's numbers have.
 * @param cells those in which numbers are expected @param separator between the table's columns @param told by the caller
 * @returns the mark and what to say of it, or the cell that leaves it open
 */
export function decimalOf(
  cells: readonly NumberCell[],
  separator: Separator,
  told?: Decimal,
): { decimal: Decimal; said: string[] } | { problems: Problem[] } {
  const tokens = cells.flatMap((cell) => [...cell.text.matchAll(MARKED)].map((m) => ({ cell, token: m[0] })));
  const wrong = ({ cell }: { cell: NumberCell }, message: string, allowed: string) => ({
    problems: [tableProblem('table-cell', cellPath(cell.line, cell.column, cell.title), message, allowed)],
  });
  const grouped = tokens.find((t) => (t.token.match(/[.,]/g) ?? []).length > 1);
  if (grouped) return wrong(grouped, `"${grouped.token}" has more than one mark`, 'no marks between thousands');
  const points = tokens.filter((t) => t.token.includes('.'));
  const commas = tokens.filter((t) => t.token.includes(','));
  if (told) {
    const other = (told === 'comma' ? points : commas)[0];
    if (other) return wrong(other, `"${other.token}" has no decimal ${told}`, `decimal ${told}s, as --decimal says`);
    return { decimal: told, said: [] };
  }
  if (points.length && commas.length)
    return wrong(
      commas[0]!,
      `"${commas[0]!.token}" has a comma, "${points[0]!.token}" in line ${points[0]!.cell.line} a point`,
      'one decimal mark in the whole table',
    );
  const marked = commas.length ? commas : points;
  const open = !marked.some((t) => decided(t.token));
  // In a table separated by commas a point is the decimal mark; elsewhere it may stand between thousands.
  if (marked.length && open && !(points.length && separator === 'comma')) {
    const mark = commas.length ? 'comma' : 'point';
    return wrong(
      marked[0]!,
      `"${marked[0]!.token}" may be a decimal or thousands`,
      `say --decimal ${mark}, or write thousands without a mark`,
    );
  }
  if (!commas.length) return { decimal: 'point', said: [] };
  const { cell, token } = commas.find((t) => decided(t.token))!;
  return {
    decimal: 'comma',
    said: [`Its numbers have decimal commas (${cellPath(cell.line, cell.column, cell.title)}: ${token}).`],
  };
}

/** The pattern of one number. @returns source of a regular expression without groups */
export const numberPattern = (decimal: Decimal): string =>
  decimal === 'comma' ? '[+\\-]?(?:\\d+(?:,\\d+)?|,\\d+)' : '[+\\-]?(?:\\d+(?:\\.\\d+)?|\\.\\d+)';

/** @param text one number, whole @returns NaN if it is none */
export function numberIn(text: string, decimal: Decimal): number {
  if (!new RegExp(`^${numberPattern(decimal)}$`).test(text)) return Number.NaN;
  return Number(text.replace(',', '.'));
}
