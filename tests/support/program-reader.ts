/** A plain reader of program text for tests: modal words, one position a line, no geometry. */
export interface Line {
  /** 1-based. */
  readonly number: number;
  readonly text: string;
  readonly comment: string;
  readonly words: ReadonlyMap<string, number>;
  /** G and M numbers in the order of the line. */
  readonly g: readonly number[];
  readonly m: readonly number[];
}

/** Splits text into lines and words; throws on anything that is no word, comment or blank. */
export function readLines(text: string): Line[] {
  return text
    .replace(/\n$/, '')
    .split('\n')
    .map((line, i) => {
      const comment = /^\((.*)\)$/.exec(line)?.[1] ?? '';
      const body = comment || line === '()' ? '' : line;
      const words = new Map<string, number>();
      const g: number[] = [];
      const m: number[] = [];
      const rest = body.replace(/([A-Z])([+-]?(?:\d+\.?\d*|\.\d+))/g, (_, letter: string, number: string) => {
        if (letter === 'G') g.push(Number(number));
        else if (letter === 'M') m.push(Number(number));
        else if (words.has(letter)) throw new Error(`line ${i + 1}: ${letter} twice in ${line}`);
        else words.set(letter, Number(number));
        return '';
      });
      if (rest.trim()) throw new Error(`line ${i + 1}: not a word: ${rest.trim()}`);
      return { number: i + 1, text: line, comment, words, g, m };
    });
}

export interface Block {
  readonly line: number;
  readonly rapid: boolean;
  /** Words after the block, NaN where never said; the rotary with its re-zeroings added up. */
  readonly axial: number;
  readonly radial: number;
  readonly rotary: number;
  /** The rotary word as written. */
  readonly rotaryWord: number;
  /** F as in force, and whether it stands on the line. */
  readonly feed: number;
  readonly feedHere: boolean;
  readonly inverse: boolean;
  readonly spindle: boolean;
  /** Letters of axes on this line. */
  readonly moved: string;
}

/** Runs the modal words. @param letters of axial, radial and rotary */
export function readBlocks(
  lines: readonly Line[],
  letters: { axial: string; radial: string; rotary: string },
): Block[] {
  const blocks: Block[] = [];
  const at = { axial: Number.NaN, radial: Number.NaN, rotary: Number.NaN };
  let shift = 0;
  let motion = -1;
  let feed = Number.NaN;
  let inverse = false;
  let spindle = false;
  for (const line of lines) {
    if (line.g.includes(93)) inverse = true;
    if (line.g.includes(94)) inverse = false;
    if (line.m.includes(3)) spindle = true;
    if (line.m.includes(5)) spindle = false;
    if (line.g.includes(92)) {
      const value = line.words.get(letters.rotary)!;
      shift += at.rotary - value;
      at.rotary = value;
      continue;
    }
    for (const g of line.g) if (g === 0 || g === 1) motion = g;
    const f = line.words.get('F');
    if (f !== undefined) feed = f;
    let moved = '';
    for (const axis of ['axial', 'radial', 'rotary'] as const) {
      const value = line.words.get(letters[axis]);
      if (value === undefined) continue;
      at[axis] = value;
      moved += letters[axis];
    }
    if (!moved) continue;
    blocks.push({
      line: line.number,
      rapid: motion === 0,
      axial: at.axial,
      radial: at.radial,
      rotary: at.rotary + shift,
      rotaryWord: at.rotary,
      feed,
      feedHere: f !== undefined,
      inverse,
      spindle,
      moved,
    });
  }
  return blocks;
}
