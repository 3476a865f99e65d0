/** Tables of the command line on the page: brought in, taken out, and read again to the same variants. */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { problemLine } from '../../../shared/problems.ts';
import { readLine, type TableOptions } from '../../../src/batch/line-table.ts';
import { lineColumns } from '../../../src/ui/line/columns.ts';
import { type LineRow, type NewRow, rowChecker } from '../../../src/ui/line/rows.ts';
import { rowsIn, tableText } from '../../../src/ui/line/table.ts';
import type { Raw } from '../../../src/ui/state/contract.ts';
import { twistedPeg } from '../../support/small-parts.ts';

const peg: Raw = {
  ...twistedPeg,
  knobs: [
    { id: 'length', label: 'overall length', sets: ['length'], min: 30, max: 60, step: 5 },
    { id: 'hand', label: 'hand', sets: ['carvings[1].hand'] },
    { id: 'point', label: 'tailstock', sets: ['holding.tailstock'] },
    { id: 'wood', label: 'wood', sets: ['blank.material'], choices: ['sugar-maple', 'white-oak'] },
  ],
};
const columnsOf = (raw: Raw, brought: readonly string[] = []) => {
  const found = lineColumns(raw, brought);
  if ('problems' in found) throw new Error(found.problems.map(problemLine).join('\n'));
  return found.columns;
};
const numbered = (rows: readonly NewRow[]): LineRow[] => rows.map((r, id) => ({ ...r, id }));
function bring(
  text: string,
  options: TableOptions = {},
  raw = peg,
  rows: readonly LineRow[] = [],
  brought: readonly string[] = [],
) {
  return rowsIn(raw, { columns: columnsOf(raw, brought), rows, brought }, text, options);
}
function brought(text: string, options: TableOptions = {}, raw = peg) {
  const found = bring(text, options, raw);
  if ('problems' in found) throw new Error(found.problems.map(problemLine).join('\n'));
  return found;
}
const wrong = (...args: Parameters<typeof bring>): string[] => {
  const found = bring(...args);
  return 'problems' in found ? found.problems.map(problemLine) : [];
};
/** What the command line would make of a table, without the line that each came from. */
function variants(raw: Raw, text: string, options: TableOptions = {}) {
  const read = readLine(raw, text, options);
  if ('problems' in read) throw new Error(read.problems.map(problemLine).join('\n'));
  return read.variants.map(({ row: _, ...v }) => v);
}
/** What the page would make of rows. */
function checked(raw: Raw, columns: readonly string[], rows: readonly NewRow[]) {
  return rowChecker()(raw, columnsOf(raw, columns), numbered(rows)).map(({ variant, problems }) => {
    if (!variant) throw new Error(problems.map(problemLine).join('\n'));
    const { row: _, ...v } = variant;
    return v;
  });
}

/** In on the page, out again, and read by the command line: the same variants three times. */
function goesRound(raw: Raw, text: string, options: TableOptions = {}) {
  const { rows, columns } = brought(text, options, raw);
  const wanted = variants(raw, text, options);
  expect(checked(raw, columns, rows)).toEqual(wanted);
  expect(variants(raw, tableText(columnsOf(raw, columns), rows))).toEqual(wanted);
  return { rows, columns };
}

test('the line of 24 balusters goes round: its blanks are a column that the table brings', () => {
  const baluster = JSON.parse(readFileSync('templates/porch-baluster.part.json', 'utf8')) as Raw;
  const { rows, columns } = goesRound(baluster, readFileSync('tests/fixtures/line-24.csv', 'utf8'));
  expect(rows).toHaveLength(24);
  expect(columns).toEqual(['blank']);
  expect(rows[0]!.cells).toMatchObject({ length: '440', wood: 'white-oak', blank: 'square 42' });
});

test('sweeps, pairs and lists become a row for each; semicolons and decimal commas are recognised and said', () => {
  const { rows, columns } = goesRound(
    peg,
    'name;quantity;length;hand;blank;carvings[1].turns\nA;3;40 to 45,5 in 2;pair;square 20,5;0,15\nB;;;;round 23;\n',
  );
  expect(columns).toEqual(['blank', 'carvings[1].turns']);
  expect(
    rows.map((r) => [r.name, r.quantity, r.cells.length, r.cells.hand, r.cells.blank, r.cells['carvings[1].turns']]),
  ).toEqual([
    ['A 40 left', '3', '40', 'left', 'square 20.5', '0.15'],
    ['A 40 right', '3', '40', 'right', 'square 20.5', '0.15'],
    ['A 45.5 left', '3', '45.5', 'left', 'square 20.5', '0.15'],
    ['A 45.5 right', '3', '45.5', 'right', 'square 20.5', '0.15'],
    ['B', '1', undefined, undefined, 'round 23', undefined],
  ]);
  expect(brought('name;length\nA;40,5\n').said).toHaveLength(2);
});

test('flags, texts in quotes and an inch document go round', () => {
  goesRound(peg, 'name,point,notes\n"Peg, ""best""",no,"oil, then\nwax"\nOther,yes,\n');
  goesRound(
    {
      name: 'Inch peg',
      units: 'inch',
      length: 1.5,
      form: [{ element: 'cylinder', share: 1, start: 0.625 }],
      blank: { section: 'square', width: 0.75 },
    },
    'name,length,blank\nA,1.625,square 0.875\n',
  );
});

test('names that a spreadsheet would calculate, and any others, go round', () => {
  const name = fc.string({
    unit: fc.constantFrom('=', '-', '+', '@', "'", '"', ',', ';', ' ', 'a', '7', 'é'),
    minLength: 1,
    maxLength: 8,
  });
  fc.assert(
    fc.property(name, fc.integer({ min: 1, max: 9999 }), (stem, quantity) => {
      // A table's cells have no blanks at their ends.
      const row = { name: `${stem}x`.trim(), quantity: String(quantity), cells: { length: '45' } };
      const text = tableText(columnsOf(peg), [row]);
      expect(text.split('\r\n')[1]).not.toMatch(/^"?[=+\-@]/);
      expect(variants(peg, text)).toEqual(checked(peg, [], [row]));
    }),
    { numRuns: 60 },
  );
});

test('faults are told by line and column, in words of the page, and nothing is brought', () => {
  expect(wrong('name,length\nA,40\nB,long\n')).toEqual([
    expect.stringMatching(/^line 3, column 2 \(length\): "long" is no number/),
  ]);
  expect(wrong('name,lenght\nA,1\n')[0]).toMatch(/^line 1, column 2: the column "lenght" is not known .*"length"/);
  expect(wrong('name,blank\nA,round 12\n')[0]).toMatch(/^line 2, column 2 \(blank\)/);
  expect(wrong('name;length,hand\nA;40\n')[0]).toMatch(/separator “comma” or separator “semicolon”/);
  expect(wrong('name;length\nA;1,500\n')[0]).toMatch(/say decimal “comma”/);
  expect(wrong('name\nA\uFFFD\n')[0]).toMatch(/UTF-8/);
  expect(wrong(`name,carvings[1].turns\nA,0 to 0.2 in 201\n`)[0]).toMatch(/201 variants .*up to 200/);
});

test('a column stands for the document’s own where it means the same, and takes its place where rows allow it', () => {
  const same = brought('name,carvings[1].hand\nA,left\n');
  expect([same.columns, same.rows[0]!.cells]).toEqual([[], { hand: 'left' }]);
  // The knob offers two woods, the table may name any: the table's column takes over.
  const any = 'name,material\nA,black-walnut\n';
  const { columns } = goesRound(peg, any);
  expect(columns).toEqual(['blank.material']);
  expect(columnsOf(peg, columns).map((c) => c.id)).toEqual(['length', 'hand', 'point', 'blank.material']);
  const there = numbered([{ name: 'Old', quantity: '1', cells: { wood: 'white-oak' } }]);
  expect(wrong(any, {}, peg, there)).toEqual([
    expect.stringMatching(/^line 1, column 2 \(material\): it sets what rows that lie here set by wood/),
  ]);
  expect(wrong(any, {}, peg, numbered([{ name: 'Old', quantity: '1', cells: { wood: 'sugar-maple' } }]))).toEqual([]);
  // A column that was brought before gives way in the same manner.
  const later = bring('name,blank.width\nA,22\n', {}, peg, [], ['blank']);
  expect('columns' in later && later.columns).toEqual(['blank.width']);
});

test('a column of a place that the document has no more is left out, and the line still lies there', () => {
  const plain = { ...peg, carvings: [], knobs: undefined };
  const ids = columnsOf(plain, ['carvings[1].turns', 'blank.width']).map((c) => c.id);
  expect(ids).toEqual(['length', 'girth', 'blank.material', 'blank.width']);
});
