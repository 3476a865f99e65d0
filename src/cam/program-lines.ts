/** Lines of one program in the making: words rounded as the control keeps them, only what changed, F by the feed rule. */
import type { Bench, Control } from '../../shared/catalog.ts';
import { perSecond } from '../../shared/units.ts';
import { axisTime, contactLength, feedWord } from './block-time.ts';
import { type Offsets, type Position, positionOf, type Words, wordsFor, wordsPerTurn } from './control.ts';
import { MotionBuilder } from './motion.ts';
import { plainNumber, roundDown, roundNearest, roundUp } from './number-text.ts';
import type { StageName } from './path.ts';

const AXES = ['axial', 'radial', 'rotary'] as const;
type Axis = (typeof AXES)[number];
/** Smallest and largest word of each letter that a program writes, program units. */
export type Extents = Record<Axis, [number, number]>;

export class ProgramLines {
  readonly lines: string[] = [];
  readonly motion = new MotionBuilder();
  readonly extents: Extents = {
    axial: [Infinity, -Infinity],
    radial: [Infinity, -Infinity],
    rotary: [Infinity, -Infinity],
  };
  /** Motion blocks written. */
  blocks = 0;
  /** Stage that blocks are booked to. */
  stage: StageName = 'corners';
  /** Whether the rotary was given a new count. */
  rezeroed = false;
  /** Words as last written, NaN where the control's position is not known. */
  private at: Words = { axial: Number.NaN, radial: Number.NaN, rotary: Number.NaN };
  /** Added to a written rotary word it gives the count since the start. */
  private shift = 0;
  private motionCode = '';
  private feedText = '';
  private inverse = false;
  /** Time and length of moves too short to change a word, handed on to the next block. */
  private pending = 0;

  private readonly control: Control;
  private readonly bench: Bench;
  private readonly offsets: Offsets;

  constructor(control: Control, bench: Bench, offsets: Offsets) {
    this.control = control;
    this.bench = bench;
    this.offsets = offsets;
  }

  add(line: string): void {
    this.lines.push(line);
  }

  /** After a stop somebody may have moved the axes: positions and modal motion are no longer known. */
  forget(): void {
    this.at = { axial: Number.NaN, radial: Number.NaN, rotary: Number.NaN };
    this.motionCode = '';
    this.feedText = '';
  }

  /** Where the written words stand, mm and radians; undefined before every axis has been told where to be. */
  where(): Position | undefined {
    return Number.isNaN(this.at.axial + this.at.radial + this.at.rotary)
      ? undefined
      : positionOf(this.control, { ...this.at, rotary: this.at.rotary + this.shift }, this.offsets);
  }

  /** Radius of the tip as written, mm; NaN before the first radial word. */
  radius(): number {
    return positionOf(this.control, { axial: 0, rotary: 0, radial: this.at.radial }, this.offsets).r;
  }

  /** The rotary word that an angle would get now, not rounded. @param theta radians */
  rotaryWord(theta: number): number {
    return wordsFor(this.control, 0, 0, theta, this.offsets).rotary - this.shift;
  }

  /** The rotary word as it stands. */
  get rotaryNow(): number {
    return this.at.rotary;
  }

  /** Sets the radial word alone at rapid speed. @param r mm */
  lift(r: number): void {
    this.fast({ ...this.at, radial: this.rounded(0, r, 0).radial });
  }

  /** At rapid speed along the axis and round, radial left alone. @param x mm @param theta radians */
  travel(x: number, theta: number): void {
    const to = this.rounded(x, 0, theta);
    this.fast({ ...to, radial: this.at.radial });
  }

  /**
   * Straight to a position at feed.
   * @param from where the plan had the tip before, mm and radians @param to where it shall go
   * @param feed_mm_min wanted speed of the contact; 0 means as fast as the axes can
   */
  feed(from: Position, to: Position, feed_mm_min: number): void {
    const words = this.rounded(to.x, to.r, to.theta);
    const wanted =
      feed_mm_min > 0 ? contactLength(to.x - from.x, from.r, to.r, to.theta - from.theta) / perSecond(feed_mm_min) : 0;
    this.pending += wanted;
    const d = this.difference(words);
    if (d.axial === 0 && d.radial === 0 && d.rotary === 0) return;
    const here = this.where()!;
    const there = positionOf(this.control, { ...words, rotary: words.rotary + this.shift }, this.offsets);
    const step = { dx: there.x - here.x, dr: there.r - here.r, dTheta: there.theta - here.theta };
    const along = feed_mm_min > 0 ? contactLength(step.dx, here.r, there.r, step.dTheta) / perSecond(feed_mm_min) : 0;
    const t = Math.max(
      this.pending,
      along,
      axisTime(this.bench, step.dx, step.dr, step.dTheta),
      1 / this.bench.blocksPerSecond,
    );
    this.pending = 0;
    const f = feedWord(this.control, d, t);
    const text = `F${plainNumber(f.value, f.decimals)}`;
    if (this.control.feedRule === 'inverse-time') {
      if (!this.inverse) this.add('G93');
      this.inverse = true;
    }
    const needed = this.inverse || text !== this.feedText;
    this.block('G1', words, needed ? text : '');
    this.feedText = text;
    this.motion.add(this.stage, false, step.dx, step.dr, step.dTheta, f.time);
  }

  /** Takes whole turns off the rotary's count where it stands, telling the control so; the work does not move. */
  rezero(): void {
    const turn = wordsPerTurn(this.control);
    const fresh = roundNearest(this.at.rotary % turn, this.control.decimals.rotary);
    this.add(`G92 ${this.control.rotary.letter}${plainNumber(fresh, this.control.decimals.rotary)}`);
    this.shift += this.at.rotary - fresh;
    this.at.rotary = fresh;
    this.rezeroed = true;
  }

  /** The rotary's count starts anew from where it stands, whole turns off; what is written next counts from zero. */
  startAgain(): void {
    this.rezero();
    this.shift = 0;
  }

  /** Back to feed a minute, where the program had left it. */
  perMinute(): void {
    if (this.inverse) this.add('G94');
    this.inverse = false;
    this.feedText = '';
  }

  private fast(to: Words): void {
    const d = this.difference(to);
    if (d.axial === 0 && d.radial === 0 && d.rotary === 0) return;
    const here = this.where();
    this.block('G0', to, '');
    const there = this.where();
    if (here && there)
      this.motion.add(this.stage, true, there.x - here.x, there.r - here.r, there.theta - here.theta, 0);
  }

  /** Axial and rotary to the nearest decimal, radial away from the centre, so that rounding never cuts deeper. */
  private rounded(x: number, r: number, theta: number): Words {
    const words = wordsFor(this.control, x, r, theta, this.offsets);
    const { linear, rotary } = this.control.decimals;
    return {
      axial: roundNearest(words.axial, linear),
      radial: (this.control.radial.scale > 0 ? roundUp : roundDown)(words.radial, linear),
      rotary: roundNearest(words.rotary - this.shift, rotary),
    };
  }

  /** Steps of the words; an axis that stays unknown does not move, one that becomes known does. */
  private difference(to: Words): Words {
    const step = (axis: Axis) =>
      Number.isNaN(to[axis]) ? 0 : Number.isNaN(this.at[axis]) ? Number.POSITIVE_INFINITY : to[axis] - this.at[axis];
    return { axial: step('axial'), radial: step('radial'), rotary: step('rotary') };
  }

  private block(code: string, to: Words, feed: string): void {
    const parts: string[] = code === this.motionCode ? [] : [code];
    for (const axis of AXES) {
      const value = to[axis];
      if (Number.isNaN(value) || value === this.at[axis]) continue;
      const decimals = axis === 'rotary' ? this.control.decimals.rotary : this.control.decimals.linear;
      parts.push(`${this.control[axis].letter}${plainNumber(value, decimals)}`);
      const range = this.extents[axis];
      range[0] = Math.min(range[0], value);
      range[1] = Math.max(range[1], value);
    }
    if (feed) parts.push(feed);
    this.add(parts.join(' '));
    this.motionCode = code;
    this.at = { ...to };
    this.blocks++;
  }
}
