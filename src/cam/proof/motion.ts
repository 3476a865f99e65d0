/**
 * Blocks → motions: where the control will take the tip, in what time, with the spindle in which state.
 * Follows NISTIR 6556 for modes and offsets, and the control's own feed rule for the time of a block.
 */
import type { Bench, Control } from '../../../shared/catalog.ts';
import type { FindingCode } from '../../../shared/problems.ts';
import { degrees, MM_PER_INCH, perSecond, SECONDS_PER_MINUTE, TURN } from '../../../shared/units.ts';
import { type Block, hasWord, readProgram, wordOf } from './read.ts';

export const OFF = 0;
export const CLOCKWISE = 1;
export const COUNTER = 2;

/** What a stage comment opens: motions from `from` on belong to it. */
export interface Marker {
  readonly stage: string;
  readonly line: number;
  readonly from: number;
}

/** Motions in order, struct of arrays. Positions are those after each motion; NaN where not yet told since the start. */
export interface Motions {
  readonly count: number;
  readonly line: Int32Array;
  /** 1 for a rapid, 0 for a motion at feed. */
  readonly rapid: Uint8Array;
  /** mm. */
  readonly x: Float64Array;
  /** mm, of the tip above the rotary centre. */
  readonly r: Float64Array;
  /** Radians, unwrapped, as the work stands under the bit. */
  readonly theta: Float64Array;
  /** Seconds that the control takes (no accelerations); rapids at the bench's own speeds. */
  readonly time: Float64Array;
  /** OFF, CLOCKWISE or COUNTER. */
  readonly spindle: Uint8Array;
  readonly rpm: Float64Array;
  /** Which of the program's bits is in the spindle, 0 for the first. */
  readonly tool: Uint8Array;
  readonly markers: readonly Marker[];
  /** Bits named in header comments `(bit NAME: …)`, with their lines. */
  readonly bitNames: readonly { readonly line: number; readonly name: string; readonly from: number }[];
  /** Numbers that stood after T, with their lines. */
  readonly toolWords: readonly { readonly line: number; readonly tool: number }[];
  /** Largest rotary word without sign, in the control's units, and where. */
  readonly rotaryWord: { readonly most: number; readonly line: number };
  /** Seconds of dwell (G4) in the whole program. */
  readonly dwell_s: number;
}

/** What is wrong with a line, before any wood is looked at. */
export type Complain = (code: FindingCode, line: number, message: string, fix: string, amount?: number) => void;

/** Makes growing columns. */
class Columns {
  n = 0;
  size = 1024;
  line = new Int32Array(1024);
  rapid = new Uint8Array(1024);
  x = new Float64Array(1024);
  r = new Float64Array(1024);
  theta = new Float64Array(1024);
  time = new Float64Array(1024);
  spindle = new Uint8Array(1024);
  rpm = new Float64Array(1024);
  tool = new Uint8Array(1024);

  room(): number {
    if (this.n === this.size) {
      this.size *= 2;
      const f = (a: Float64Array) => {
        const b = new Float64Array(this.size);
        b.set(a);
        return b;
      };
      const u = (a: Uint8Array) => {
        const b = new Uint8Array(this.size);
        b.set(a);
        return b;
      };
      const line = new Int32Array(this.size);
      line.set(this.line);
      this.line = line;
      this.rapid = u(this.rapid);
      this.x = f(this.x);
      this.r = f(this.r);
      this.theta = f(this.theta);
      this.time = f(this.time);
      this.spindle = u(this.spindle);
      this.rpm = f(this.rpm);
      this.tool = u(this.tool);
    }
    return this.n++;
  }
}

/**
 * Seconds that a control takes for one block at feed.
 * @param rule what F means in G94; in G93 the block takes 1/F minutes whatever the rule (NISTIR 6556 §3.5.19)
 * @param inverse whether G93 is set @param f number after F
 * @param axial @param radial @param rotary differences of the words, in the units of the program
 * @param rotaryIsLinear whether the control takes the rotary word for a length
 * @returns seconds; Infinity for F 0. NISTIR 6556 §2.1.2.5: F drives X, Y, Z as if the rotary stood; alone, the rotary takes degrees a minute
 */
export function blockSeconds(
  rule: Control['feedRule'],
  inverse: boolean,
  f: number,
  axial: number,
  radial: number,
  rotary: number,
  rotaryIsLinear: boolean,
): number {
  if (inverse) return SECONDS_PER_MINUTE / f;
  if (rule === 'all-words' || rotaryIsLinear) return (SECONDS_PER_MINUTE * Math.hypot(axial, radial, rotary)) / f;
  const linear = Math.hypot(axial, radial);
  return (SECONDS_PER_MINUTE * (linear > 0 ? linear : Math.abs(rotary))) / f;
}

/**
 * Follows a program as the control would.
 * @param text RS-274 text @param control its letters, scales, feed rule
 * @param offsets mm: axial word = scale·x + axial, radial word = scale·r + radial
 * @param complain told everything that is wrong with a line
 * @returns the motions up to the program's end
 */
export function follow(
  text: string,
  control: Control,
  bench: Bench,
  offsets: { readonly axial: number; readonly radial: number },
  complain: Complain,
): Motions {
  const columns = new Columns();
  const markers: Marker[] = [];
  const bitNames: { line: number; name: string; from: number }[] = [];
  const toolWords: { line: number; tool: number }[] = [];
  const A = control.axial.letter;
  const R = control.radial.letter;
  const W = control.rotary.letter;
  let unit = control.units === 'inch' ? MM_PER_INCH : 1;
  let unitsTold = false;
  let inverse = false;
  let feed = Number.NaN;
  let rapid = true;
  let spindle = OFF;
  let rpm = 0;
  let tool = 0;
  let chosen = 0;
  // Words as last told, NaN while unknown; the rotary's also carries what G92 shifted.
  let axial = Number.NaN;
  let radial = Number.NaN;
  let rotary = Number.NaN;
  let shift = 0;
  let mostRotary = 0;
  let mostLine = 0;
  let dwell = 0;
  const rotaryUnit = () => (control.rotary.linear ? unit : 1);

  const apply = (b: Block) => {
    for (const comment of b.comments) readComment(comment, b.line);
    for (const g of b.g) {
      if (g === 930 || g === 940) {
        if (inverse !== (g === 930)) feed = Number.NaN;
        inverse = g === 930;
        if (inverse && control.feedRule !== 'inverse-time')
          complain(
            'line-forbidden',
            b.line,
            'G93 on a control whose feed is per minute',
            'Write the program for this control’s feed rule',
          );
      }
    }
    if (hasWord(b, 'F')) {
      feed = wordOf(b, 'F');
      if (feed > control.feedMax)
        complain(
          'feed-range',
          b.line,
          `F${feed} is more than the ${control.feedMax} that the control takes`,
          'Slow the block or split it',
          feed,
        );
    }
    if (hasWord(b, 'S')) rpm = wordOf(b, 'S');
    if (hasWord(b, 'T')) {
      chosen = wordOf(b, 'T');
      toolWords.push({ line: b.line, tool: chosen });
    }
    if (b.m.includes(6)) {
      if (toolWords.length) tool = Math.max(0, chosen - 1);
      // NISTIR 6556 §3.6.3: after a change the spindle stands.
      spindle = OFF;
    }
    if (b.m.includes(3)) spindle = CLOCKWISE;
    if (b.m.includes(4)) spindle = COUNTER;
    if (b.m.includes(5)) spindle = OFF;
    if (b.g.includes(40)) dwell += wordOf(b, 'P');
    for (const g of b.g) {
      if (g === 200 || g === 210) {
        const inch = g === 200;
        unit = inch ? MM_PER_INCH : 1;
        unitsTold = true;
        if (inch !== (control.units === 'inch'))
          complain(
            'units',
            b.line,
            `the program is in ${inch ? 'inches' : 'mm'}, the control is set up for ${control.units === 'inch' ? 'inches' : 'mm'}`,
            `Write the program with ${inch ? 'G21' : 'G20'} and in ${inch ? 'mm' : 'inches'}`,
          );
      } else if (g === 0) rapid = true;
      else if (g === 10) rapid = false;
    }
    const axes = hasWord(b, A) || hasWord(b, R) || hasWord(b, W);
    if (b.g.includes(921)) {
      rotary += shift;
      shift = 0;
    }
    if (b.g.includes(920)) {
      if (hasWord(b, A) || hasWord(b, R))
        complain('line-forbidden', b.line, 'G92 on a word other than the rotary’s', 'Re-zero the rotary word alone');
      else if (Number.isNaN(rotary))
        complain(
          'line-forbidden',
          b.line,
          'G92 before the rotary’s place is known',
          'Turn the rotary to a told angle first',
        );
      else {
        shift += rotary - wordOf(b, W);
        rotary = wordOf(b, W);
      }
    } else if (axes) move(b);
    if (b.m.includes(2) || b.m.includes(30)) spindle = OFF;
  };

  const move = (b: Block) => {
    if (!unitsTold) {
      unitsTold = true;
      complain(
        'units',
        b.line,
        'the program moves before G20 or G21 told its unit',
        'Name the unit before the first motion',
      );
    }
    const axialTo = hasWord(b, A) ? wordOf(b, A) : axial;
    const radialTo = hasWord(b, R) ? wordOf(b, R) : radial;
    const rotaryTo = hasWord(b, W) ? wordOf(b, W) : rotary;
    const step = (a: number, c: number) => (Number.isNaN(a) || Number.isNaN(c) ? 0 : Math.abs(c - a));
    const da = step(axial, axialTo);
    const dr = step(radial, radialTo);
    const dw = step(rotary, rotaryTo);
    const quickest = Math.max(
      (da * unit) / perSecond(bench.axialMax),
      (dr * unit) / perSecond(bench.radialMax),
      (dw * rotaryUnit()) / control.rotary.unitsPerTurn / perSecond(bench.rotary.maxSpeed),
    );
    let time = quickest;
    if (!rapid) {
      // In G93 the number counts for its own line only.
      const told = inverse && !hasWord(b, 'F') ? Number.NaN : feed;
      if (!(told > 0))
        complain(
          'feed-missing',
          b.line,
          Number.isNaN(told) ? 'a motion at feed without F' : 'a motion at feed with F 0',
          inverse ? 'Give every G1 line its own F while G93 is set' : 'Give F before the first motion at feed',
        );
      else time = blockSeconds(control.feedRule, inverse, told, da, dr, dw, control.rotary.linear);
    }
    axial = axialTo;
    radial = radialTo;
    rotary = rotaryTo;
    if (Math.abs(rotary) > mostRotary) {
      mostRotary = Math.abs(rotary);
      mostLine = b.line;
    }
    const k = columns.room();
    columns.line[k] = b.line;
    columns.rapid[k] = rapid ? 1 : 0;
    columns.x[k] = (axial * unit - offsets.axial) * control.axial.scale;
    columns.r[k] = (radial * unit - offsets.radial) * control.radial.scale;
    columns.theta[k] = (control.rotary.sign * (rotary + shift) * rotaryUnit() * TURN) / control.rotary.unitsPerTurn;
    columns.time[k] = time;
    columns.spindle[k] = spindle;
    columns.rpm[k] = rpm;
    columns.tool[k] = tool;
  };

  const readComment = (comment: string, line: number) => {
    const stage = /^\s*stage ([\w-]+), pass \d+/.exec(comment);
    if (stage) markers.push({ stage: stage[1]!, line, from: columns.n });
    const bit = /^\s*bit ([\w.-]+)/.exec(comment);
    if (bit) bitNames.push({ line, name: bit[1]!, from: columns.n });
  };

  readProgram(text, [A, R, W], {
    block: apply,
    forbidden: (line, message) =>
      complain('line-forbidden', line, message, 'Write the line as the published standard and this project allow'),
  });
  return {
    count: columns.n,
    line: columns.line,
    rapid: columns.rapid,
    x: columns.x,
    r: columns.r,
    theta: columns.theta,
    time: columns.time,
    spindle: columns.spindle,
    rpm: columns.rpm,
    tool: columns.tool,
    markers,
    bitNames,
    toolWords,
    rotaryWord: { most: mostRotary, line: mostLine },
    dwell_s: dwell,
  };
}

/**
 * How far apart two neighbouring numbers lie that the control can keep, in degrees of the rotary.
 * @param word size of the rotary word @param control its number bits and units per turn
 */
export function rotaryGrain_deg(word: number, control: Control): number {
  if (word === 0) return 0;
  const grain = 2 ** (Math.floor(Math.log2(word)) - (control.significandBits - 1));
  const unit = control.rotary.linear && control.units === 'inch' ? MM_PER_INCH : 1;
  return degrees((grain * unit * TURN) / control.rotary.unitsPerTurn);
}
