/**
 * Writes small RS-274 programs for the proof's tests, by itself: it shares nothing with the project's writer, so an error there
 * cannot hide here. A program is a list of moves; the text follows the control that it is for.
 */
import type { Bit, Control } from '../../shared/catalog.ts';
import { degrees, TURN } from '../../shared/units.ts';
import type { ProgramText } from '../../src/cam/proof/verdict.ts';

export interface TextMove {
  rapid: boolean;
  /** Axes that the line names; a first lift names the radial alone. */
  x?: number;
  r?: number;
  theta?: number;
  /** Seconds that the block should take; ignored for rapids. */
  seconds?: number;
  comment?: string;
}

/** Moves by hand: keeps the place and works out block times for a wanted speed over the work. */
export class HandMoves {
  readonly list: TextMove[] = [];
  private at = { x: 0, r: 0, theta: 0 };
  private readonly feed: number;

  /** @param feed mm/min of the contact point over the work */
  constructor(feed = 1500) {
    this.feed = feed;
  }

  get place(): { x: number; r: number; theta: number } {
    return { ...this.at };
  }

  comment(text: string): this {
    this.list.push({ rapid: true, comment: text });
    return this;
  }

  rapid(to: { x?: number; r?: number; theta?: number }): this {
    this.list.push({ rapid: true, ...to });
    this.at = { ...this.at, ...to };
    return this;
  }

  cut(to: { x?: number; r?: number; theta?: number }, feed = this.feed): this {
    const next = { ...this.at, ...to };
    const arc = ((this.at.r + next.r) / 2) * (next.theta - this.at.theta);
    const s = Math.hypot(next.x - this.at.x, next.r - this.at.r, arc);
    this.at = next;
    if (s > 0) this.list.push({ rapid: false, ...to, seconds: (60 * s) / feed });
    return this;
  }

  /** Quarter turns at constant change of x and r, `turns` in all. */
  turn(turns: number, to: { x?: number; r?: number } = {}, feed = this.feed): this {
    const from = this.at;
    const n = Math.max(1, Math.round(Math.abs(turns) * 4));
    for (let k = 1; k <= n; k++)
      this.cut(
        {
          x: from.x + (((to.x ?? from.x) - from.x) * k) / n,
          r: from.r + (((to.r ?? from.r) - from.r) * k) / n,
          theta: from.theta + (turns * TURN * k) / n,
        },
        feed,
      );
    return this;
  }
}

export interface TextOptions {
  control: Control;
  bit: Bit;
  rpm?: number;
  offsets?: { axial: number; radial: number };
  /** Digits after the point of words and of F. */
  decimals?: number;
}

/** The text of a program. */
export function textOf(moves: readonly TextMove[], o: TextOptions): string {
  const { control } = o;
  const offsets = o.offsets ?? { axial: 0, radial: 0 };
  const inch = control.units === 'inch';
  const unit = inch ? 1 / 25.4 : 1;
  const digits = o.decimals ?? (inch ? 6 : 5);
  const fmt = (n: number) => {
    const s = n.toFixed(digits);
    return Number(s) === 0 ? (0).toFixed(digits) : s;
  };
  const inverse = control.feedRule === 'inverse-time';
  const lines = [
    `(bit ${o.bit.id}: written by hand)`,
    `${inch ? 'G20' : 'G21'} G90 G94 G17 G40`,
    `S${o.rpm ?? 16000} M3`,
    ...(inverse ? ['G93'] : []),
  ];
  const at = { a: Number.NaN, r: Number.NaN, w: Number.NaN };
  for (const m of moves) {
    if (m.comment !== undefined) {
      lines.push(`(${m.comment})`);
      continue;
    }
    const words: string[] = [m.rapid ? 'G0' : 'G1'];
    const to = { ...at };
    if (m.x !== undefined) to.a = (control.axial.scale * m.x + offsets.axial) * unit;
    if (m.r !== undefined) to.r = (control.radial.scale * m.r + offsets.radial) * unit;
    if (m.theta !== undefined)
      to.w =
        ((control.rotary.sign * m.theta) / TURN) * control.rotary.unitsPerTurn * (control.rotary.linear ? unit : 1);
    if (m.x !== undefined) words.push(`${control.axial.letter}${fmt(to.a)}`);
    if (m.r !== undefined) words.push(`${control.radial.letter}${fmt(to.r)}`);
    if (m.theta !== undefined) words.push(`${control.rotary.letter}${fmt(to.w)}`);
    if (!m.rapid) {
      const da = to.a - at.a;
      const dr = to.r - at.r;
      const dw = to.w - at.w;
      const lengthOf =
        control.feedRule === 'all-words' || control.rotary.linear
          ? Math.hypot(da, dr, dw)
          : Math.hypot(da, dr) > 0
            ? Math.hypot(da, dr)
            : Math.abs(dw);
      const f = inverse ? 60 / m.seconds! : (60 * lengthOf) / m.seconds!;
      words.push(`F${f.toFixed(6)}`);
    }
    Object.assign(at, to);
    lines.push(words.join(' '));
  }
  if (inverse) lines.push('G94');
  lines.push('M5', 'M2');
  return `${lines.join('\n')}\n`;
}

export const asProgram = (file: string, text: string, bit: Bit, with_: Partial<ProgramText> = {}): ProgramText => ({
  file,
  text,
  bit,
  stepDown: 2.5,
  rampAngle_deg: 3,
  plunge: 1,
  ...with_,
});

/** Number of the first line that holds all of the words, 1-based. */
export const lineWith = (text: string, ...words: string[]): number =>
  text.split('\n').findIndex((l) => words.every((w) => l.includes(w))) + 1;

export const inTurns = (theta: number): number => degrees(theta) / 360;
