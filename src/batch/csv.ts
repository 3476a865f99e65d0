/** CSV out, as RFC 4180 has it, and safe to open in a spreadsheet. Every CSV that the project writes goes through here. */
import Papa from 'papaparse';

/**
 * How a text starts that a spreadsheet would take for a formula: the characters that OWASP's page "CSV Injection" lists, the
 * full-width forms that some spreadsheets fold into them, and any of these behind blanks. The parser's own list misses a
 * formula that goes on in a second line.
 */
const FORMULA = /^'*(?:\s*[=+\-@\t\r\n＝＋－＠]|[\t\r\n])/;

/** @param cell as `writeCsv` writes it @returns the text without the apostrophe that keeps it from being calculated */
export const unguarded = (cell: string): string =>
  cell.startsWith("'") && FORMULA.test(cell.slice(1)) ? cell.slice(1) : cell;

/**
 * @param header names of the columns @param rows cells as long as the header; numbers stay numbers, a text that a spreadsheet
 * would calculate gets an apostrophe in front @returns the file's text, lines ended by CR LF
 * @throws Error for a row of another length or a number that is none
 */
export function writeCsv(header: readonly string[], rows: readonly (readonly (string | number)[])[]): string {
  for (const row of rows) {
    if (row.length !== header.length)
      throw new Error(`a row has ${row.length} cells, the header has ${header.length} names`);
    const broken = row.find((c) => typeof c === 'number' && !Number.isFinite(c));
    if (broken !== undefined) throw new Error(`a cell is ${broken}, a finite number was expected`);
  }
  const text = Papa.unparse([[...header], ...rows.map((r) => [...r])], { newline: '\r\n', escapeFormulae: FORMULA });
  return `${text}\r\n`;
}
