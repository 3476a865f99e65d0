/** How much two pages have room for: prose of a person's own and findings yield before instructions and cautions do. */

/** Characters of 11 pt that a line of the full width and one of two columns hold, on the safe side. */
const FULL = 96;
const HALF = 43;
/** Lines of 11 pt on the second page, less a few for letters that are wider than the average. */
const PAGE = 55;
/** A title with its rule and gap; the drawing of the bits; the small print at the end. */
const TITLE = 1.7;
const BITS = 5.8;
const SMALL_PRINT = 3;

/** Lines that a text takes. */
export const linesOf = (text: string, width = FULL): number =>
  text.split('\n').reduce((sum, line) => sum + Math.max(1, Math.ceil(line.length / width)), 0);

export interface Filled {
  /** Rows of the bits' drawing. */
  readonly bitRows: number;
  readonly firstRuns: number;
  readonly programs: readonly { readonly file: string; readonly line: string }[];
  /** What is said beside the programs. */
  readonly told: readonly string[];
  readonly checks: readonly string[];
  readonly lists: readonly (readonly string[])[];
}

/** @param f what stands on the second page in any case @returns lines left for notes and for what is worth knowing, titles included */
export function linesLeft(f: Filled): number {
  const gaps = f.lists.flat().length * 0.1;
  const used =
    1 +
    (3 + f.lists.length) * TITLE +
    BITS * f.bitRows +
    1.3 * f.firstRuns +
    f.programs.reduce((sum, p) => sum + 0.4 + linesOf(p.file, 40) + linesOf(p.line), 0) +
    f.told.reduce((sum, t) => sum + linesOf(t) + 0.1, 0) +
    Math.ceil(f.checks.reduce((sum, c) => sum + linesOf(c, HALF), 0) / 2 + 0.5) +
    f.lists.flat().reduce((sum, t) => sum + linesOf(t), 0) +
    gaps +
    SMALL_PRINT;
  return PAGE - used;
}

/** As many of the texts, in their order, as fit into so many lines. */
export function fitting(texts: readonly string[], lines: number): string[] {
  let used = 0;
  return texts.filter((t) => {
    const more = linesOf(t) + 0.1;
    if (used + more > lines) return false;
    used += more;
    return true;
  });
}

/** A text cut at a word so that it takes no more than so many lines; nothing where there is not even one. */
export function shortened(text: string, lines: number): string {
  if (lines < 1) return '';
  const kept: string[] = [];
  let left = Math.floor(lines);
  for (const line of text.split('\n')) {
    if (left <= 0) break;
    const most = left * FULL - 4;
    kept.push(line.length <= most ? line : line.slice(0, most).replace(/\s+\S*$/, ''));
    left -= linesOf(line);
  }
  const cut = kept.join('\n');
  return cut.length < text.length ? `${cut} …` : cut;
}
