/** Rows of a line on the page: made by hand, in steps, in pairs; and what is wrong with each. Pure. */
import type { Problem } from '../../../shared/problems.ts';
import type { MadeVariant, Variant } from '../../batch/line.ts';
import { lineOf } from '../../batch/line-table.ts';
import { silhouetteOf } from '../../batch/silhouette.ts';
import { writePart } from '../../part.ts';
import { resolvePart } from '../../resolve.ts';
import { snapped } from '../measure.ts';
import type { Raw } from '../state/contract.ts';
import { isNumber, type LineColumn } from './columns.ts';

export interface LineRow {
  readonly id: number;
  readonly name: string;
  readonly quantity: string;
  /** By column, as a table's cells; an empty one leaves the document as it is. */
  readonly cells: Readonly<Record<string, string>>;
}
export type NewRow = Omit<LineRow, 'id'>;

export interface RowCheck {
  readonly variant?: Variant;
  /** Everything that decides about its files; the same text, the same files. */
  readonly key: string;
  readonly silhouette: MadeVariant['silhouette'];
  /** Row and column stand in each problem's path. */
  readonly problems: readonly Problem[];
}

/** A name for a row: the part's, and what the row has otherwise. @param taken names that are given already */
export function nameFor(
  part: string,
  columns: readonly LineColumn[],
  cells: LineRow['cells'],
  taken: readonly string[],
): string {
  const words = columns
    .filter((c) => cells[c.id] !== undefined && cells[c.id] !== '' && cells[c.id] !== c.now)
    .map((c) => cells[c.id]!);
  const name = [part, ...words].join(' ');
  for (let k = 1; ; k++) {
    const tried = k === 1 ? name : `${name} (${k})`;
    if (!taken.includes(tried)) return tried;
  }
}

/** Values from one to another. @param steps how many rows, at least 2 @returns cells, on the column's own steps, none twice */
export function stepsOf(column: LineColumn, from: number, to: number, steps: number): string[] {
  const { min, max, step } = column.takes;
  const values = Array.from({ length: steps }, (_, i) =>
    snapped(from + ((to - from) * i) / (steps - 1), step, min, max),
  );
  return [...new Set(values)].map(String);
}

/** A row for each value of one column. */
export function sweepRows(
  part: string,
  columns: readonly LineColumn[],
  row: NewRow,
  column: LineColumn,
  cells: readonly string[],
  taken: readonly string[],
): NewRow[] {
  const names = [...taken];
  return cells.map((cell) => {
    const own = { ...row.cells, [column.id]: cell };
    const name = nameFor(part, columns, own, names);
    names.push(name);
    return { name, quantity: row.quantity, cells: own };
  });
}

/** The row and its mirror image: left and right. @returns undefined where nothing of the part has a hand */
export function pairRows(columns: readonly LineColumn[], row: NewRow, taken: readonly string[]): NewRow[] | undefined {
  const hands = columns.filter((c) => c.hand);
  if (!hands.length) return undefined;
  const names = [...taken];
  // One side's hands are as they are, the other's all turned over: a mirror turns over every one.
  const turned = { left: 'right', right: 'left' } as Record<string, string>;
  const first = hands.map((c) => row.cells[c.id] || c.now);
  const lead = first[0] === 'left' ? 'left' : 'right';
  return [lead, turned[lead]!].map((word) => {
    const cells = Object.fromEntries(hands.map((c, i) => [c.id, word === lead ? first[i]! : turned[first[i]!]!]));
    const stem = `${row.name.replace(/ (left|right)\b/g, '')} ${word}`;
    let name = stem;
    for (let k = 2; names.includes(name); k++) name = `${stem} (${k})`;
    names.push(name);
    return { ...row, name, cells: { ...row.cells, ...cells } };
  });
}

/** Where a problem stands, said for the page: rows are counted from 1, as they lie on it. */
const atRow = (p: Problem, row: number): Problem => ({ ...p, path: p.path.replace(/^line 0/, `row ${row}`) });

const LINE = 'line 0';
const twin = (name: string, other: number): Problem => ({
  code: 'table-name',
  severity: 'refuse',
  path: `${LINE}, column 1 (name)`,
  message: `"${name}" would have the same files as row ${other}`,
  allowed: 'names that differ in letters or digits',
});

/** Checks rows; a row that was checked before for the same document is not looked at again. */
export function rowChecker(): (raw: Raw, columns: readonly LineColumn[], rows: readonly LineRow[]) => RowCheck[] {
  let of: Raw | undefined;
  let known = new Map<string, RowCheck>();
  return (raw, columns, rows) => {
    if (of !== raw) known = new Map();
    of = raw;
    const slugs = new Map<string, number>();
    return rows.map((row, i) => {
      const cells = [row.name, row.quantity, ...columns.map((c) => row.cells[c.id] ?? '')].map((c) => c.trim());
      const text = JSON.stringify([columns.map((c) => c.id), cells]);
      const check = known.get(text) ?? checkRow(raw, columns, cells);
      known.set(text, check);
      const { variant } = check;
      const other = variant && slugs.get(variant.slug);
      if (variant && other === undefined) slugs.set(variant.slug, i + 1);
      const problems = other === undefined ? check.problems : [twin(variant!.name, other)];
      if (!problems.length) return { ...check, variant: { ...variant!, row: i + 1 } };
      return { key: '', silhouette: check.silhouette, problems: problems.map((p) => atRow(p, i + 1)) };
    });
  };
}

function checkRow(raw: Raw, columns: readonly LineColumn[], cells: readonly string[]): RowCheck {
  const header = { line: 0, cells: ['name', 'quantity', ...columns.map((c) => c.id)] };
  const result = lineOf(
    raw,
    { header, rows: [{ line: 0, cells }], separator: 'comma', said: [] },
    { decimal: 'point' },
  );
  const nothing = { key: '', silhouette: [] };
  if ('problems' in result) return { ...nothing, problems: result.problems };
  const [variant, ...more] = result.variants;
  if (!variant || more.length)
    return {
      ...nothing,
      problems: [
        {
          code: 'table-cell',
          severity: 'refuse',
          path: LINE,
          message: `this row would be ${result.variants.length} variants`,
          allowed: 'one value in a cell; steps and pairs are rows here',
        },
      ],
    };
  const { job } = resolvePart(variant.part);
  return { variant, key: writePart(variant.part), silhouette: job ? silhouetteOf(job.field) : [], problems: [] };
}

/** Columns that rows may go along in steps. */
export const sweepable = (columns: readonly LineColumn[]): LineColumn[] => columns.filter(isNumber);
