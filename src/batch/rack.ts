/** The stock that a workshop has: a table of lengths, read by the same rules as a line's table. Pure. */
import { materials } from '../../shared/catalog.ts';
import type { Problem } from '../../shared/problems.ts';
import { shown, toMm } from '../part/inch.ts';
import { didYouMean, likely, nearest } from '../part/nearest.ts';
import { type Decimal, decimalOf, type NumberCell, numberIn, numberPattern } from './line-numbers.ts';
import type { TableOptions } from './line-table.ts';
import { cellPath, readTableText, type TableRow, tableProblem } from './line-text.ts';
import type { RackLength } from './stick-line.ts';

type RackSection = Pick<RackLength, 'section' | 'width' | 'height'>;

const COLUMNS = ['name', 'length', 'quantity', 'material', 'section'];
const LONGEST = 20_000;
const MOST = 100_000;

/** `square 42`, `round 44`, `rectangle 42 x 36`, in the table's unit. */
function sectionIn(text: string, decimal: Decimal, mm: (v: number) => number): RackSection | undefined {
  const n = numberPattern(decimal);
  const shape = new RegExp(`^(square|round|rectangle)\\s+(${n})(?:\\s*[x×]\\s*(${n}))?$`, 'i').exec(text);
  if (!shape) return undefined;
  const section = shape[1]!.toLowerCase() as 'square' | 'round' | 'rectangle';
  if ((section === 'rectangle') !== (shape[3] !== undefined)) return undefined;
  const width = mm(numberIn(shape[2]!, decimal));
  return { section, width, ...(shape[3] === undefined ? {} : { height: mm(numberIn(shape[3], decimal)) }) };
}

/**
 * Reads a rack.
 * @param text the whole file @param inch whether its lengths are in inches, as those of the document are
 * @returns its rows in mm, or what is wrong with line and column
 */
export function readRack(
  text: string,
  inch: boolean,
  options: TableOptions = {},
): { rack: RackLength[]; said: string[] } | { problems: Problem[] } {
  const table = readTableText(text, options.separator);
  if ('problems' in table) return table;
  const titles = table.header.cells.map((t) => t.toLowerCase());
  const problems: Problem[] = [];
  titles.forEach((title, i) => {
    const at = cellPath(table.header.line, i + 1);
    const meant = nearest(title, COLUMNS);
    if (!COLUMNS.includes(title))
      problems.push(
        tableProblem(
          'table-column',
          at,
          `the column "${title}" is not known`,
          meant ? `did you mean "${meant}"?` : `one of ${COLUMNS.join(', ')}`,
        ),
      );
    else if (titles.indexOf(title) < i)
      problems.push(tableProblem('table-column', at, `the column "${title}" is there twice`, 'one column for each'));
  });
  for (const needed of ['name', 'length'])
    if (!titles.includes(needed) && !problems.length)
      problems.push(
        tableProblem(
          'table-column',
          cellPath(table.header.line),
          `no column is called "${needed}"`,
          'a name and a length',
        ),
      );
  if (problems.length) return { problems };
  const cell = (row: TableRow, title: string): string => row.cells[titles.indexOf(title)] ?? '';
  const numeric: NumberCell[] = table.rows.flatMap((row) =>
    ['length', 'quantity', 'section']
      .filter((t) => titles.includes(t))
      .map((title) => ({ line: row.line, column: titles.indexOf(title) + 1, title, text: cell(row, title) })),
  );
  const marks = decimalOf(numeric, table.separator, options.decimal);
  if ('problems' in marks) return marks;
  const { decimal } = marks;
  const mm = (v: number): number => (inch ? toMm(v) : v);
  const rack = table.rows.map((row): RackLength => {
    const wrong = (title: string, message: string, allowed: string) =>
      problems.push(tableProblem('table-cell', cellPath(row.line, titles.indexOf(title) + 1, title), message, allowed));
    const name = cell(row, 'name');
    if (name === '') wrong('name', 'the stock has no name', 'what it is called on the rack');
    const length = mm(numberIn(cell(row, 'length'), decimal));
    if (!(length > 0 && length <= LONGEST))
      wrong(
        'length',
        `"${cell(row, 'length')}" is no length of stock`,
        `above 0, up to ${shown(LONGEST, inch)}${inch ? ' in' : ' mm'}`,
      );
    const many = cell(row, 'quantity');
    const quantity = numberIn(many, decimal);
    if (many !== '' && !(Number.isInteger(quantity) && quantity >= 0 && quantity <= MOST))
      wrong(
        'quantity',
        `"${many}" is no quantity`,
        `a whole number from 0 to ${MOST}; left empty, as many as it takes`,
      );
    const material = cell(row, 'material');
    const ids = materials.map((m) => m.id);
    if (material !== '' && !ids.includes(material)) {
      const meant = likely(material, ids);
      wrong(
        'material',
        `no material is called "${material}"`,
        meant.length ? didYouMean(meant) : 'an id of the catalog',
      );
    }
    const shape = cell(row, 'section');
    const section = sectionIn(shape, decimal, mm);
    if (shape !== '' && !section)
      wrong('section', `"${shape}" is no section`, 'square 42, round 44 or rectangle 42 x 36');
    return {
      name,
      length,
      ...(many === '' ? {} : { quantity }),
      ...(material === '' ? {} : { material }),
      ...section,
    };
  });
  return problems.length ? { problems } : { rack, said: [...table.said, ...marks.said] };
}
