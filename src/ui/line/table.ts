/** Rows of a line as a table of the command line: taken out, and brought in. Pure. */
import type { Problem } from '../../../shared/problems.ts';
import { writeCsv } from '../../batch/csv.ts';
import { lineOf, type TableOptions } from '../../batch/line-table.ts';
import { cellPath, readTableText, tableProblem } from '../../batch/line-text.ts';
import type { Raw } from '../state/contract.ts';
import { isNumber, type LineColumn, lineColumns, meet } from './columns.ts';
import type { LineRow, NewRow } from './rows.ts';

/** More rows at once would keep the page from answering while they are checked. */
const MOST_ROWS = 200;

/** @returns CSV that the command line reads to the same variants */
export function tableText(columns: readonly LineColumn[], rows: readonly NewRow[]): string {
  // What is a number stays one: as a text below zero it would be taken for a formula.
  const number = (text: string) => (text.trim() !== '' && Number.isFinite(Number(text)) ? Number(text) : text);
  return writeCsv(
    ['name', 'quantity', ...columns.map((c) => c.id)],
    rows.map((row) => [
      row.name,
      number(row.quantity),
      ...columns.map((c) => (isNumber(c) ? number(row.cells[c.id] ?? '') : (row.cells[c.id] ?? ''))),
    ]),
  );
}

/** What a table brings. */
export interface Brought {
  readonly rows: readonly NewRow[];
  /** Columns of the line beside the document's own, from now on. */
  readonly columns: readonly string[];
  /** What was recognised of the table, a sentence each. */
  readonly said: readonly string[];
}

/** The page's own words for what are options of the command line. */
const onPage = (p: Problem): Problem => ({
  ...p,
  ...(p.allowed
    ? {
        allowed: p.allowed.replace('as --decimal says', 'as chosen').replace(/--(separator|decimal) (\w+)/g, '$1 “$2”'),
      }
    : {}),
});

/** Whether a cell of one column means the same in the other. */
const alike = (a: LineColumn, b: LineColumn): boolean =>
  a.id === b.id ||
  (a.places.join() === b.places.join() &&
    a.free === b.free &&
    a.takes.min === b.takes.min &&
    a.takes.max === b.takes.max &&
    a.takes.choices.join() === b.takes.choices.join());

/**
 * Reads a table for the line that lies on the page; a row that sweeps becomes a row for each of its variants.
 * @param line what lies there: its columns, brought ones among them, and rows
 * @returns the rows and columns, or what is wrong with line and column
 */
export function rowsIn(
  raw: Raw,
  line: { columns: readonly LineColumn[]; rows: readonly LineRow[]; brought: readonly string[] },
  text: string,
  options: TableOptions,
): Brought | { problems: Problem[] } {
  if (text.includes('\uFFFD'))
    return {
      problems: [tableProblem('table-text', cellPath(1), 'the table is not in UTF-8', 'a table saved as UTF-8')],
    };
  const table = readTableText(text, options.separator);
  if ('problems' in table) return { problems: table.problems.map(onPage) };
  const read = lineOf(raw, table, options);
  if ('problems' in read) return { problems: read.problems.map(onPage) };
  if (read.variants.length > MOST_ROWS)
    return {
      problems: [
        tableProblem(
          'table-text',
          cellPath(1),
          `the table makes ${read.variants.length} variants`,
          `up to ${MOST_ROWS} at once on the page; the command line's batch takes them all`,
        ),
      ],
    };

  const titles = [...new Set(read.cells.flatMap((c) => Object.keys(c)))];
  const found = lineColumns(raw, titles);
  if ('problems' in found) return found;
  const ids = new Map<string, string>();
  const columns = [...line.brought];
  const problems: Problem[] = [];
  for (const title of titles) {
    const column = found.columns.find((c) => c.id === title)!;
    const same = line.columns.find((c) => alike(c, column));
    ids.set(title, same?.id ?? title);
    if (same) continue;
    // The line's own column gives way, unless its rows already say something there.
    const met = line.columns.filter((c) => meet(c, column));
    const used = met.find((c) => line.rows.some((r) => (r.cells[c.id] ?? '') !== '' && r.cells[c.id] !== c.now));
    const at = table.header.cells.findIndex((c) => `blank.${c}` === title || c.toLowerCase() === title);
    if (used)
      problems.push(
        tableProblem(
          'table-column',
          cellPath(table.header.line, at + 1, table.header.cells[at]),
          `it sets what rows that lie here set by ${used.label}`,
          `those rows taken out first, or the table without this column`,
        ),
      );
    for (const c of met) if (columns.includes(c.id)) columns.splice(columns.indexOf(c.id), 1);
    columns.push(title);
  }
  if (problems.length) return { problems };
  const rows = read.variants.map(({ name, quantity }, i) => ({
    name,
    quantity: String(quantity),
    cells: Object.fromEntries(Object.entries(read.cells[i]!).map(([title, word]) => [ids.get(title)!, flag(word)])),
  }));
  return { rows, columns, said: read.said };
}

/** A flag as the page's own cells say it. */
const flag = (word: string): string => (word === 'true' ? 'yes' : word === 'false' ? 'no' : word);
