/** Caliper readings from a table: x, diameter and, where it matters, the angle that was up; a line each. */
import Papa from 'papaparse';
import type { Problem } from '../../shared/problems.ts';
import { MM_PER_INCH, radians } from '../../shared/units.ts';
import type { Reading } from '../cam/match.ts';

const COLUMNS = ['x', 'diameter', 'angle_deg'];
const number = (cell: string): number => (/^[+-]?(\d+\.?\d*|\.\d+)$/.test(cell) ? Number(cell) : Number.NaN);

/**
 * Reads comma-separated values (RFC 4180); where semicolons or tabs part the cells, a comma is a decimal point. A first line of titles may put the columns in another order.
 * @param inch whether lengths are in inches @param length of the form, mm @returns readings in mm and radians, or what is wrong
 */
export function readReadings(
  text: string,
  inch: boolean,
  length: number,
): { readings: Reading[] } | { problems: Problem[] } {
  const problems: Problem[] = [];
  const unit = inch ? MM_PER_INCH : 1;
  let columns = COLUMNS;
  const readings: Reading[] = [];
  const delimiter = [';', '\t'].find((d) => text.includes(d)) ?? ',';
  const lines = Papa.parse<string[]>(text.replace(/^\uFEFF/, ''), { delimiter }).data;
  const wrong = (i: number, message: string, allowed: string) =>
    problems.push({ code: 'wrong-shape', severity: 'refuse', path: `line ${i + 1}`, message, allowed });
  for (const [i, line] of lines.entries()) {
    if (line.every((c) => !c.trim())) continue;
    const cells = line.map((c) => (delimiter === ',' ? c.trim() : c.trim().replace(',', '.')));
    if (!readings.length && columns === COLUMNS && cells.every((c) => /^[a-z_]+$/i.test(c))) {
      columns = cells.map((c) => c.toLowerCase());
      const strange = columns.find((c) => !COLUMNS.includes(c));
      if (strange || !columns.includes('x') || !columns.includes('diameter'))
        wrong(i, strange ? `no column is called ${strange}` : 'x or diameter is missing', COLUMNS.join(', '));
      if (problems.length) break;
      continue;
    }
    const cell = (name: string) => number(cells[columns.indexOf(name)] ?? '');
    const x = cell('x') * unit;
    const diameter = cell('diameter') * unit;
    const angle = (cells[columns.indexOf('angle_deg')] ?? '') === '' ? undefined : cell('angle_deg');
    if (!(x >= 0 && x <= length))
      wrong(
        i,
        `x is ${cells[columns.indexOf('x')]}`,
        `0 to ${Number((length / unit).toFixed(4))}, from the form's face at the chuck`,
      );
    else if (!(diameter > 0))
      wrong(i, `diameter is ${cells[columns.indexOf('diameter')]}`, 'a length across, above zero');
    else if (angle !== undefined && Number.isNaN(angle)) wrong(i, 'the angle is no number', 'degrees, or nothing');
    else readings.push({ x, diameter, ...(angle === undefined ? {} : { theta: radians(angle) }) });
  }
  if (!problems.length && readings.length < 2)
    wrong(
      lines.length - 1,
      `there ${readings.length ? 'is one reading' : 'are no readings'}`,
      'at least two; ten over the length tell more',
    );
  return problems.length ? { problems } : { readings };
}
