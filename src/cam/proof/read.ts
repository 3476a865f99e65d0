/**
 * Reads RS-274 text line by line by the rules of "The NIST RS274NGC Interpreter, Version 3" (NISTIR 6556), less what a
 * program of ours has no business to use: arcs, canned cycles, parameters and expressions, relative distances, cutter
 * and length compensation, other coordinate systems, the slash that makes a line optional.
 */

/** One line that does something. The object is reused from line to line: copy what must stay. */
export interface Block {
  /** 1-based. */
  line: number;
  /** Bit k is set where letter A + k carries a number (G, M and N are not among them). */
  has: number;
  /** Numbers by letter, A first; only those marked in `has` are of this line. */
  readonly value: Float64Array;
  /** G numbers times ten (G92.1 is 921), in the order of the line. */
  readonly g: number[];
  readonly m: number[];
  /** Comments of the line, without parentheses. */
  readonly comments: string[];
}

/** What the reader tells: blocks in order, and what the standard or this project forbids. */
export interface Reader {
  block(block: Block): void;
  forbidden(line: number, message: string): void;
}

/** Longest line that the standard lets a control read, characters (NISTIR 6556 §3.3). */
const LONGEST_LINE = 256;
const MOST_M_WORDS = 4;
/** Significant figures that the standard promises to keep (NISTIR 6556 §3.3.2.1). */
const MOST_DIGITS = 17;
/** How near a G or M number must lie to a code (NISTIR 6556 §3.3.2.1). */
const CODE_SLACK = 0.0001;

/** Modal groups of NISTIR 6556 table 4, of the codes that are let through; group 0 are the non-modal ones. */
const G_GROUPS = new Map<number, number>([
  [0, 1],
  [10, 1],
  [800, 1],
  [170, 2],
  [900, 3],
  [930, 5],
  [940, 5],
  [200, 6],
  [210, 6],
  [400, 7],
  [490, 8],
  [540, 12],
  [610, 13],
  [611, 13],
  [640, 13],
  [40, 0],
  [920, 0],
  [921, 0],
]);
const M_GROUPS = new Map<number, number>([
  [0, 4],
  [1, 4],
  [2, 4],
  [30, 4],
  [6, 6],
  [3, 7],
  [4, 7],
  [5, 7],
  [7, 8],
  [8, 8],
  [9, 8],
  [48, 9],
  [49, 9],
]);
/** Why a code of the standard is refused here. */
function whyNot(code: number): string {
  const name = `G${code / 10}`;
  if (code === 20 || code === 30) return `${name}: arcs are not for a program of ours, the rotary makes the circles`;
  if (code >= 810 && code <= 890) return `${name}: canned cycles are not allowed`;
  if (code === 910) return `${name}: relative distances are not allowed, one lost line would shift all that follow`;
  if (code === 410 || code === 420) return `${name}: cutter compensation would move the bit off its proven way`;
  if (code === 430) return `${name}: a length offset would move the tip off its proven height`;
  if (code === 180 || code === 190) return `${name}: only plane G17 may be named`;
  if (code >= 550 && code <= 593) return `${name}: only G54 may be named, other zeros are not known here`;
  return `${name} is not a code that may be used here`;
}

const letterOf = (code: number) => String.fromCharCode(65 + code);
export const letterBit = (letter: string): number => 1 << (letter.charCodeAt(0) - 65);
/** A number word's value by its letter. */
export const wordOf = (block: Block, letter: string): number => block.value[letter.charCodeAt(0) - 65]!;
export const hasWord = (block: Block, letter: string): boolean => (block.has & letterBit(letter)) !== 0;

/**
 * Reads a whole program. A line with something forbidden is told and left out (but for a lacking F, which is only told);
 * reading goes on after it.
 * @param text the program @param axes letters that the control's axes have; other axis letters are forbidden
 * @param reader gets blocks and complaints in the order of the lines
 */
export function readProgram(text: string, axes: readonly string[], reader: Reader): void {
  const AXIS = new Set(['X', 'Y', 'Z', 'A', 'B', 'C', 'U', 'V', 'W'].map((l) => l.charCodeAt(0) - 65));
  const known = new Set([...axes, 'F', 'S', 'T', 'P'].map((l) => l.charCodeAt(0) - 65));
  const axisBits = axes.reduce((bits, l) => bits | letterBit(l), 0);
  const G = 6;
  const M = 12;
  const N = 13;
  const P = letterBit('P');
  const F = letterBit('F');
  const block: Block = { line: 0, has: 0, value: new Float64Array(26), g: [], m: [], comments: [] };
  let line = 0;
  let at = 0;
  let firstSeen = false;
  let opened = 0;
  let closed = false;
  let ended = false;
  let motion = -1;
  let inverse = false;
  let lastText = 0;

  while (at < text.length) {
    line++;
    let stop = text.indexOf('\n', at);
    if (stop < 0) stop = text.length;
    const from = at;
    let to = stop;
    if (to > from && text.charCodeAt(to - 1) === 13) to--;
    at = stop + 1;
    if (to - from > LONGEST_LINE) {
      reader.forbidden(line, `the line has ${to - from} characters, the standard allows ${LONGEST_LINE}`);
      continue;
    }
    const problem = lineProblem(from, to);
    if (problem) reader.forbidden(line, problem);
  }
  if (opened && !closed) reader.forbidden(opened, 'an opening % has no closing %');
  if (!ended && !(opened && closed))
    reader.forbidden(
      Math.max(1, lastText),
      'the program has neither M2 or M30 nor a % at both ends, it may have been cut short',
    );

  /** Reads one line and hands it on. @returns what is wrong with it, or nothing */
  function lineProblem(from: number, to: number): string | undefined {
    block.line = line;
    block.has = 0;
    block.g.length = 0;
    block.m.length = 0;
    block.comments.length = 0;
    let i = from;
    let wordsBefore = 0;
    let hasN = false;
    while (i < to) {
      let c = text.charCodeAt(i);
      if (c === 32 || c === 9) {
        i++;
        continue;
      }
      if (!firstSeen && c !== 37) firstSeen = true;
      if (c === 37) {
        if (text.slice(from, to).trim() !== '%') return '% must stand alone on its line';
        if (closed) return 'a % after the closing one';
        if (!firstSeen) {
          firstSeen = true;
          opened = line;
        } else if (opened) closed = true;
        else return 'a closing % without an opening one';
        return undefined;
      }
      if (c === 40) {
        const close = text.indexOf(')', i);
        if (close < 0 || close >= to) return 'the comment does not close on its line';
        const inside = text.slice(i + 1, close);
        if (inside.includes('(')) return 'a comment inside a comment';
        if (/[^\x20-\x7e\t]/.test(inside)) return 'a comment holds a character that is not plain ASCII';
        block.comments.push(inside);
        i = close + 1;
        continue;
      }
      if (closed) return 'a line after the closing %';
      lastText = line;
      if (c >= 97 && c <= 122) c -= 32;
      if (c === 47) return 'a line made optional with / may or may not be cut';
      if (c === 35 || c === 91 || c === 93 || c === 61) return 'parameters and expressions are not allowed';
      if (c < 65 || c > 90) return `the character ${JSON.stringify(text[i])} is not allowed here`;
      const letter = c - 65;
      i++;
      // Sign, digits, at most one point; blanks may stand anywhere between.
      let sign = 1;
      let signed = false;
      let digits = 0;
      let mantissa = 0;
      let decimals = -1;
      for (; i < to; i++) {
        const d = text.charCodeAt(i);
        if (d === 32 || d === 9) continue;
        if (d >= 48 && d <= 57) {
          digits++;
          mantissa = mantissa * 10 + (d - 48);
          if (decimals >= 0) decimals++;
        } else if (d === 46 && decimals < 0) decimals = 0;
        else if ((d === 43 || d === 45) && !digits && decimals < 0 && !signed) {
          signed = true;
          if (d === 45) sign = -1;
        } else break;
      }
      if (!digits) return `${letterOf(letter)} has no number`;
      if (digits > MOST_DIGITS) return `${letterOf(letter)} has more digits than a control keeps`;
      const value = sign * (decimals > 0 ? mantissa / 10 ** decimals : mantissa);
      if (letter === N) {
        if (hasN || wordsBefore) return 'N must be the first word of its line';
        if (signed || decimals >= 0 || digits > 5)
          return 'N must be a whole number of at most five digits without sign';
        hasN = true;
        continue;
      }
      wordsBefore++;
      if (letter === G || letter === M) {
        const scaled = letter === G ? value * 10 : value;
        const code = Math.round(scaled);
        if (Math.abs(scaled - code) > CODE_SLACK) return `${letterOf(letter)}${value} is not a code`;
        if (letter === M) block.m.push(code);
        else block.g.push(code);
        continue;
      }
      if (!known.has(letter))
        return AXIS.has(letter)
          ? `${letterOf(letter)} is not an axis of this job`
          : `${letterOf(letter)} is not a word that may be used here`;
      const bit = 1 << letter;
      if (block.has & bit) return `${letterOf(letter)} stands twice on the line`;
      block.has |= bit;
      block.value[letter] = value;
    }
    if (!wordsBefore) {
      if (block.comments.length) reader.block(block);
      return undefined;
    }
    if (ended) return 'nothing after the end of the program is carried out';
    const codeProblem = checkCodes();
    if (codeProblem) return codeProblem;
    reader.block(block);
    return undefined;
  }

  /** Modal groups and what belongs together. Keeps the motion and feed modes up to date. */
  function checkCodes(): string | undefined {
    let groups = 0;
    let usesAxes = false;
    let dwell = false;
    let nextMotion = motion;
    let nextInverse = inverse;
    for (const code of block.g) {
      const group = G_GROUPS.get(code);
      if (group === undefined) return whyNot(code);
      // Non-modal codes share group 0: only one of them on a line.
      if (groups & (1 << group)) return 'two G words of one modal group on the line';
      groups |= 1 << group;
      if (group === 1) nextMotion = code;
      if (code === 930) nextInverse = true;
      if (code === 940) nextInverse = false;
      if (code === 920) usesAxes = true;
      if (code === 40) dwell = true;
    }
    if (block.m.length > MOST_M_WORDS) return `more than ${MOST_M_WORDS} M words on the line`;
    let mGroups = 0;
    for (const code of block.m) {
      const group = M_GROUPS.get(code);
      if (group === undefined) return `M${code} is not a code that may be used here`;
      if (mGroups & (1 << group)) return 'two M words of one modal group on the line';
      mGroups |= 1 << group;
    }
    if (((block.has & P) !== 0) !== dwell) return dwell ? 'G4 needs a P word' : 'P belongs to G4 only';
    if (dwell && wordOf(block, 'P') < 0) return 'G4 with a negative time';
    if (hasWord(block, 'F') && wordOf(block, 'F') < 0) return 'F may not be negative';
    if (hasWord(block, 'S') && wordOf(block, 'S') < 0) return 'S may not be negative';
    if (hasWord(block, 'T') && !(Number.isInteger(wordOf(block, 'T')) && wordOf(block, 'T') >= 0))
      return 'T must be a whole number';
    const axisWords = (block.has & axisBits) !== 0;
    const names = (groups & 2) !== 0 && nextMotion !== 800;
    if (usesAxes && !axisWords) return 'G92 without an axis word';
    if (usesAxes && names) return 'two codes on the line want the axis words';
    if (names && !axisWords) return 'a motion without axis words';
    if (axisWords && !usesAxes) {
      if (nextMotion === 800 || nextMotion < 0) return 'axis words while no motion is set';
      // The line is still handed on: the proof should see where the bit would go.
      if (nextMotion === 10 && nextInverse && !(block.has & F))
        reader.forbidden(line, 'a G1 line without F while G93 is set');
    }
    motion = nextMotion;
    inverse = nextInverse;
    if (block.m.includes(2) || block.m.includes(30)) {
      ended = true;
      motion = -1;
      inverse = false;
    }
    return undefined;
  }
}
