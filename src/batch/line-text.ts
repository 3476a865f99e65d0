/** The text of a table: what stands in which cell, and how the file separates them. RFC 4180, and what spreadsheets make of it. */
import Papa from 'papaparse';
import type { Problem } from '../../shared/problems.ts';
import { unguarded } from './csv.ts';

export const SEPARATORS = { comma: ',', semicolon: ';', tab: '\t' } as const;
export type Separator = keyof typeof SEPARATORS;

/** One line of a table. A quoted cell may run over several lines of the file: then this is the first. */
export interface TableRow {
  readonly line: number;
  readonly cells: readonly string[];
}

export interface TableText {
  readonly header: TableRow;
  readonly rows: readonly TableRow[];
  readonly separator: Separator;
  /** What was recognised, a sentence each, for whoever called. */
  readonly said: readonly string[];
}

/** Where something stands in a table, as problems carry it. @param column counted from 1 @param title of the column */
export const cellPath = (line: number, column?: number, title?: string): string =>
  `line ${line}${column === undefined ? '' : `, column ${column}`}${title ? ` (${title})` : ''}`;

export const tableProblem = (code: Problem['code'], path: string, message: string, allowed: string): Problem => ({
  code,
  severity: 'refuse',
  path,
  message,
  allowed,
});

const BYTE_ORDER_MARK = '\uFEFF';
const PLURALS: Record<Separator, string> = { comma: 'commas', semicolon: 'semicolons', tab: 'tabs' };
const QUOTE_FAULTS: Record<string, string> = {
  MissingQuotes: 'a quoted cell begins here and never ends',
  InvalidQuotes: 'a quoted cell goes on after its closing quote',
};
/** Control characters have no place in a table; line breaks and tabs inside quotes are left to the cells. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
const CONTROL = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f]/;

/** Separators that occur outside quotes in the first line. */
function separatorsIn(text: string): Separator[] {
  let quoted = false;
  const found = new Set<string>();
  for (const c of text) {
    if (c === '"') quoted = !quoted;
    else if (c === '\n' && !quoted) break;
    else if (!quoted) found.add(c);
  }
  return (Object.keys(SEPARATORS) as Separator[]).filter((s) => found.has(SEPARATORS[s]));
}

/**
 * Takes a table's text apart.
 * @param written the whole file @param told what separates cells, if the caller says so
 * @returns header and rows, empty lines left out, every row as long as the header; or what is wrong with its line and column
 */
export function readTableText(written: string, told?: Separator): TableText | { problems: Problem[] } {
  const marked = written.startsWith(BYTE_ORDER_MARK);
  const text = (marked ? written.slice(1) : written).replace(/\r\n?/g, '\n');
  const present = separatorsIn(text);
  if (!told && present.length > 1)
    return {
      problems: [
        tableProblem(
          'table-text',
          cellPath(1),
          `the header has both ${present.map((p) => PLURALS[p]).join(' and ')}, either could separate the columns`,
          `say which: ${present.map((p) => `--separator ${p}`).join(' or ')}`,
        ),
      ],
    };
  const separator = told ?? present[0] ?? 'comma';
  const problems: Problem[] = [];
  const rows: TableRow[] = [];
  let line = 1;
  let cursor = 0;
  Papa.parse<string[]>(text, {
    delimiter: SEPARATORS[separator],
    newline: '\n',
    step: ({ data, errors, meta }) => {
      // What follows a quote that is wrong is wrong only for that.
      const quote = errors.find((e) => e.type === 'Quotes');
      if (quote)
        problems.push(
          tableProblem(
            'table-text',
            cellPath(line, data.length || undefined),
            QUOTE_FAULTS[quote.code] ?? quote.message,
            'a quote inside a quoted cell is written twice, as RFC 4180 has it',
          ),
        );
      const broken = data.findIndex((c) => CONTROL.test(c));
      if (broken >= 0)
        problems.push(
          tableProblem(
            'table-text',
            cellPath(line, broken + 1),
            'a control character stands in this cell',
            'plain text',
          ),
        );
      if (data.some((c) => c.trim() !== '')) rows.push({ line, cells: data.map((c) => unguarded(c.trim())) });
      for (; cursor < meta.cursor; cursor++) if (text.charCodeAt(cursor) === 10) line++;
    },
  });
  const [header, ...body] = rows;
  if (!header)
    return {
      problems: [
        tableProblem('table-text', cellPath(1), 'the table is empty', 'a header, then a line for each variant'),
      ],
    };
  for (const row of body)
    if (row.cells.length !== header.cells.length && !problems.length)
      problems.push(
        tableProblem(
          'table-text',
          cellPath(row.line),
          `there are ${row.cells.length} cells, the header has ${header.cells.length}`,
          `${PLURALS[separator]} between cells, and cells in quotes that have one inside`,
        ),
      );
  if (!body.length && !problems.length)
    problems.push(
      tableProblem('table-text', cellPath(header.line), 'no line follows the header', 'a line for each variant'),
    );
  if (problems.length) return { problems };
  const said = [
    ...(marked ? ['It begins with a byte-order mark, which was left out.'] : []),
    ...(separator === 'comma' ? [] : [`Its columns are separated by ${PLURALS[separator]}.`]),
  ];
  return { header, rows: body, separator, said };
}
