/** A table of variants: each row, and each combination of what its cells sweep, becomes a checked part. */
import { type Problem, problemLine } from '../../shared/problems.ts';
import { slugOf } from '../build/slug.ts';
import { isLength, shown } from '../part/inch.ts';
import { pathText, withValue } from '../part/place.ts';
import { checkPart, knobsOf, type Part } from '../part.ts';
import { resolvePart } from '../resolve.ts';
import type { Variant } from './line.ts';
import { type Choice, choicesIn, hasNumbers } from './line-cells.ts';
import { type Column, columnsOf } from './line-columns.ts';
import { wrongName } from './line-names.ts';
import { type Decimal, decimalOf, type NumberCell, numberIn } from './line-numbers.ts';
import { cellPath, readTableText, type Separator, type TableRow, type TableText, tableProblem } from './line-text.ts';

export interface TableOptions {
  /** What separates the columns and marks decimals, where the caller says so. */
  readonly separator?: Separator;
  readonly decimal?: Decimal;
}

export type LineResult =
  | {
      variants: Variant[];
      /** What sets each variant, by column title: one value a cell, numbers with a decimal point. */
      cells: Readonly<Record<string, string>>[];
      said: string[];
    }
  | { problems: Problem[] };

/** More variants than this are a slip in a sweep. */
const LARGEST_LINE = 5000;
const LARGEST_QUANTITY = 100_000;

/** The column that a problem of the document is about: it sets that place, or one around or inside it. */
function columnFor(columns: readonly Column[], problem: Problem): Column | undefined {
  const meets = (place: string) =>
    place === problem.path || problem.path.startsWith(`${place}.`) || place.startsWith(`${problem.path}.`);
  const own = columns.find((c) => c.places.some((p) => meets(pathText(p))));
  // An element that stands out of its blank is named by its own place; the column that made it so sets the blank or the girth.
  const about = (key: string) => columns.find((c) => c.places.some((p) => p[0] === key));
  return own ?? (problem.code === 'blank-too-small' ? (about('blank') ?? about('girth')) : undefined);
}

/** What knobs stand at in a checked part, in the document's own unit. */
function knobValues(part: Part): Variant['knobs'] {
  const inch = part.units === 'inch';
  return Object.fromEntries(
    knobsOf(part).flatMap(({ id, value, unit }) => {
      if (value === undefined) return [];
      return [[id, typeof value === 'number' && unit && isLength(unit) ? shown(value, inch) : value]];
    }),
  );
}

/** One value as a cell with a decimal point says it; of a choice's words only a blank's still have the table's own mark. */
const cellOf = (c: Column, word: string, decimal: Decimal): [string, string] => [
  c.title,
  c.sets === 'blank' && decimal === 'comma' ? word.replaceAll(',', '.') : word,
];

/** Every combination, the last list going round first. */
function combinations<T>(lists: readonly (readonly T[])[]): T[][] {
  return lists.reduce<T[][]>((all, list) => all.flatMap((some) => list.map((one) => [...some, one])), [[]]);
}

/**
 * Makes the variants of a table.
 * @param raw the part document as it is written @param table header and rows, from a file or from a page
 * @returns variants in the table's order, or what is wrong, each with its line and column
 */
export function lineOf(raw: unknown, table: TableText, options: TableOptions = {}): LineResult {
  const base = checkPart(raw);
  if ('problems' in base) return base;
  const inch = base.part.units === 'inch';
  const head = columnsOf(table.header, base.part, knobsOf(base.part));
  if ('problems' in head) return head;
  const { columns } = head;
  const cell = (row: TableRow, c: Column): string => row.cells[c.number - 1]!;
  const numeric: NumberCell[] = table.rows.flatMap((row) =>
    columns.filter(hasNumbers).map((c) => ({ line: row.line, column: c.number, title: c.title, text: cell(row, c) })),
  );
  const marks = decimalOf(numeric, table.separator, options.decimal);
  if ('problems' in marks) return marks;
  const { decimal } = marks;

  const problems: Problem[] = [];
  const variants: Variant[] = [];
  const written: Record<string, string>[] = [];
  const slugs = new Map<string, Variant>();
  for (const row of table.rows) {
    const before = problems.length;
    const wrong = (code: Problem['code'], c: Column, message: string, allowed: string) =>
      problems.push(tableProblem(code, cellPath(row.line, c.number, c.title), message, allowed));
    let quantity = 1;
    const lists: { column: Column; choices: Choice[]; several: boolean }[] = [];
    for (const c of columns) {
      const text = cell(row, c);
      if (c.sets === 'name' || text === '') continue;
      if (c.sets === 'quantity') {
        quantity = numberIn(text, decimal);
        if (!Number.isInteger(quantity) || quantity < 1 || quantity > LARGEST_QUANTITY)
          wrong('table-cell', c, `"${text}" is no quantity`, `a whole number from 1 to ${LARGEST_QUANTITY}`);
        continue;
      }
      const choices = choicesIn(c, text, decimal, inch);
      if ('message' in choices) wrong('table-cell', c, choices.message, choices.allowed);
      else lists.push({ column: c, choices, several: choices.length > 1 });
    }
    if (problems.length > before) continue;
    const count = lists.reduce((product, l) => product * l.choices.length, 1);
    if (variants.length + count > LARGEST_LINE) {
      problems.push(
        tableProblem(
          'table-cell',
          cellPath(row.line),
          `the line would have more than ${LARGEST_LINE} variants`,
          'fewer combinations',
        ),
      );
      return { problems };
    }
    const nameColumn = columns.find((c) => c.sets === 'name')!;
    const own = cell(row, nameColumn);
    for (const choices of combinations(lists.map((l) => l.choices))) {
      const name = [own, ...choices.flatMap((choice, i) => (lists[i]!.several ? [choice.word] : []))].join(' ');
      const bad = own === '' ? wrongName(own) : wrongName(name);
      const slug = slugOf(name);
      const twin = slugs.get(slug);
      if (bad) wrong('table-name', nameColumn, bad.message, bad.allowed);
      else if (twin)
        wrong(
          'table-name',
          nameColumn,
          twin.name === name
            ? `line ${twin.row} has the name "${name}" already`
            : `"${name}" and "${twin.name}" of line ${twin.row} would both have the files "${slug}"`,
          'names that differ in letters or digits',
        );
      if (problems.length > before) break;
      const document = choices
        .flatMap((choice) => choice.settings)
        .reduce((doc, s) => withValue(doc, s.place, s.value), withValue(raw, ['name'], name));
      const checked = checkPart(document);
      // The fault is found before anything is made: a blank that is too small is a fault of the table, not of the making.
      const found = 'problems' in checked ? checked.problems : resolvePart(checked.part).problems;
      for (const p of found.filter((q) => q.severity === 'refuse')) {
        const c = columnFor(columns, p);
        problems.push({
          ...p,
          path: cellPath(row.line, c?.number, c?.title),
          message: problemLine({ ...p, allowed: '' }),
        });
      }
      if ('problems' in checked || problems.length > before) break;
      const { part } = checked;
      const variant: Variant = { name, slug, quantity, row: row.line, knobs: knobValues(part), part };
      slugs.set(slug, variant);
      variants.push(variant);
      written.push(Object.fromEntries(choices.map((choice, i) => cellOf(lists[i]!.column, choice.word, decimal))));
    }
  }
  return problems.length ? { problems } : { variants, cells: written, said: [...table.said, ...marks.said] };
}

/**
 * Reads the text of a table.
 * @param raw the part document as it is written @param text the whole file
 * @returns variants and what was recognised of the file, or what is wrong with line and column
 */
export function readLine(raw: unknown, text: string, options: TableOptions = {}): LineResult {
  const table = readTableText(text, options.separator);
  return 'problems' in table ? table : lineOf(raw, table, options);
}
