import Papa from 'papaparse';
import { expect, test } from 'vitest';
import { writeCsv } from '../../src/batch/csv.ts';

/** Reads it as a spreadsheet would before it looks for formulas. */
const read = (text: string) => Papa.parse<string[]>(text, { skipEmptyLines: false }).data;

test('quotes what RFC 4180 wants quoted, and ends lines with CR LF', () => {
  // RFC 4180, section 2, rules 1, 5, 6 and 7.
  expect(writeCsv(['name', 'mm'], [['a "b", c', 1.5]])).toBe('name,mm\r\n"a ""b"", c",1.5\r\n');
  expect(writeCsv(['name'], [['two\nlines']])).toBe('name\r\n"two\nlines"\r\n');
});

// OWASP, "CSV Injection": cells that begin with = + - @ tab or carriage return are formulas to a spreadsheet.
test.each([
  '=1+1',
  '=HYPERLINK("http://x","y")',
  '+1',
  '-1+2',
  '@SUM(A1)',
  '\t=1',
  '\r=1',
  '\n=1',
  ' =1',
  '=1\n+2',
  '＝1',
  '=1"\n,"=2',
])('a text that a spreadsheet would calculate is a text: %j', (cell) => {
  const rows = read(writeCsv(['name', 'more'], [[cell, 2]]));
  expect(rows[1]).toEqual([`'${cell}`, '2']);
  expect(read(writeCsv([cell], []))[0]).toEqual([`'${cell}`]);
});

test('a number below zero stays a number, and a plain text stays as it is', () => {
  expect(read(writeCsv(['a', 'b'], [[-1.5, 'a-b = c']]))[1]).toEqual(['-1.5', 'a-b = c']);
});

test('rows of another length and numbers that are none are the caller’s error', () => {
  expect(() => writeCsv(['a', 'b'], [['x']])).toThrow(/1 cells, the header has 2/);
  expect(() => writeCsv(['a'], [[Number.NaN]])).toThrow(/NaN/);
});
