/** Caliper readings: from pasted text, and how far a form lies from them. Pure. */
import type { Field } from '../../profiles/field.ts';
import { type ShownUnits, typedLength } from '../measure.ts';

export interface Reading {
  /** mm from wherever the table begins. */
  at: number;
  /** mm */
  diameter: number;
}

/** The cells of a line. A comma parts two numbers only where nothing else does: else it is the point of one. */
function cellsOf(line: string): string[] {
  if (/[\t;]/.test(line)) return line.split(/[\t;]/).map((c) => c.trim());
  const words = line.trim().split(/\s+/);
  if (words.length === 1) return words[0]!.split(',');
  const cells: string[] = [];
  for (const word of words.map((w) => w.replace(/,$/, '')))
    if (/^(mm|in|inch|")$/.test(word) && cells.length) cells[cells.length - 1] += ` ${word}`;
    else cells.push(word);
  return cells;
}

/** A line of the table that holds no reading. */
export interface LeftOut {
  /** Counted from 1, empty lines too. */
  line: number;
  text: string;
  why: string;
}

/** Longest piece of a line that is repeated to its writer. */
const TOLD = 24;

/**
 * Reads a table: a position and a diameter a line, with tab, semicolon, comma or blanks between. Lines that hold no two
 * numbers (titles) are left out and told.
 * @param unit of numbers that name none
 * @returns readings in the order of their positions, mm; `unordered` is the first line whose position lies before that of one
 * above it, so that it had to be sorted in
 */
export function readTable(
  text: string,
  unit: ShownUnits,
): {
  readings: Reading[];
  leftOut: LeftOut[];
  unordered?: number;
} {
  const readings: Reading[] = [];
  const leftOut: LeftOut[] = [];
  let unordered: number | undefined;
  let last = -Infinity;
  for (const [i, line] of text.split(/\r?\n/).entries()) {
    if (!line.trim()) continue;
    const parts = cellsOf(line);
    const [at, diameter] = parts.map((c) => typedLength(c.replace(/^[øØ⌀]\s*/, ''), unit));
    if (at === undefined || diameter === undefined || diameter <= 0) {
      const why =
        at === undefined
          ? 'its position is no number'
          : parts.length < 2
            ? 'it has no diameter'
            : diameter === undefined
              ? 'its diameter is no number'
              : 'its diameter is not above 0';
      const said = line.trim();
      leftOut.push({ line: i + 1, text: said.length > TOLD ? `${said.slice(0, TOLD)}…` : said, why });
    } else {
      if (at < last) unordered ??= i + 1;
      last = Math.max(last, at);
      readings.push({ at, diameter });
    }
  }
  const sorted = readings.map((r, i) => ({ r, i })).sort((a, b) => a.r.at - b.r.at || a.i - b.i);
  return { readings: sorted.map(({ r }) => r), leftOut, ...(unordered === undefined ? {} : { unordered }) };
}

export interface Deviation {
  /** mm along the form. */
  x: number;
  /** Diameter of the form minus that of the reading, mm. */
  by: number;
}

/** @param field of a round form; of a carved one its largest diameter counts @param offset x of the first reading on the form, mm */
export function deviations(field: Field, readings: readonly Reading[], offset: number): Deviation[] {
  const first = readings[0]?.at ?? 0;
  return readings.flatMap(({ at, diameter }) => {
    const x = at - first + offset;
    if (x < 0 || x > field.length) return [];
    return [{ x, by: 2 * field.bounds(x, x)[1] - diameter }];
  });
}

/** Root of the mean square. */
export const spread = (list: readonly Deviation[]): number =>
  list.length ? Math.sqrt(list.reduce((s, d) => s + d.by * d.by, 0) / list.length) : 0;
