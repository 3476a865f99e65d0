/**
 * What a control reads: the mapping between the plan's (x, r, θ) and the words of a program, and back.
 * axial = (scale·x + offset), radial = (scale·r + offset), both in mm or, under G20, divided by 25.4;
 * rotary = sign·θ·unitsPerTurn/2π, which under G20 is divided by 25.4 as well if it hangs on a linear output, because the
 * control multiplies every linear word by 25.4 when it reads it (NISTIR 6556 §3.5.7; degrees are degrees in either).
 */
import type { Control, FeedRule } from '../../shared/catalog.ts';
import { MM_PER_INCH, TURN } from '../../shared/units.ts';

/** Where the work's zeros lie: what is added to each linear word, mm. */
export interface Offsets {
  readonly axial: number;
  readonly radial: number;
}

/** Axial zero at the chuck-end face of the form, radial zero at the rotary centre. */
export const ZERO_OFFSETS: Offsets = { axial: 0, radial: 0 };

/** The offsets of a job: those that an earlier part has shown, else none. */
export const offsetsOf = (job: { readonly offsets?: Offsets }): Offsets => job.offsets ?? ZERO_OFFSETS;

/** A position of the tip in the part frame: x and r in mm, theta in radians (unwrapped). */
export interface Position {
  x: number;
  r: number;
  theta: number;
}

/** The three words of a position in the units that the program is written in. */
export interface Words {
  axial: number;
  radial: number;
  rotary: number;
}

/** Millimetres in one unit of a linear word. @returns 1 or 25.4 */
export const mmPerUnit = (control: Control): number => (control.units === 'inch' ? MM_PER_INCH : 1);

/** What one turn of the chuck adds to the rotary word, in the units of the program (> 0, without the sense). */
export const wordsPerTurn = (control: Control): number =>
  control.rotary.unitsPerTurn / (control.rotary.linear ? mmPerUnit(control) : 1);

/**
 * The words of a position, not rounded.
 * @param x mm @param r mm @param theta radians, any turn @param offsets mm, default: zeros at chuck face and rotary centre
 */
export function wordsFor(control: Control, x: number, r: number, theta: number, offsets = ZERO_OFFSETS): Words {
  const unit = mmPerUnit(control);
  return {
    axial: (control.axial.scale * x + offsets.axial) / unit,
    radial: (control.radial.scale * r + offsets.radial) / unit,
    rotary: control.rotary.sign * (theta / TURN) * wordsPerTurn(control),
  };
}

/** The position that words stand for: inverse of `wordsFor`. @param words program units @returns mm and radians */
export function positionOf(control: Control, words: Words, offsets = ZERO_OFFSETS): Position {
  const unit = mmPerUnit(control);
  return {
    x: (words.axial * unit - offsets.axial) / control.axial.scale,
    r: (words.radial * unit - offsets.radial) / control.radial.scale,
    theta: (words.rotary / wordsPerTurn(control)) * control.rotary.sign * TURN,
  };
}

/** The mapping as the report tells it: offsets in mm, unitsPerTurn in the units of the program. */
export interface WordsReport {
  axial: { letter: string; scale: 1 | -1; offset: number };
  radial: { letter: string; scale: 1 | -1; offset: number };
  rotary: { letter: string; unitsPerTurn: number; sign: 1 | -1 };
  units: 'mm' | 'inch';
  feedRule: FeedRule;
}

/** The report's `words` object. @param offsets mm */
export function wordsReport(control: Control, offsets = ZERO_OFFSETS): WordsReport {
  return {
    axial: { letter: control.axial.letter, scale: control.axial.scale, offset: offsets.axial },
    radial: { letter: control.radial.letter, scale: control.radial.scale, offset: offsets.radial },
    rotary: { letter: control.rotary.letter, unitsPerTurn: wordsPerTurn(control), sign: control.rotary.sign },
    units: control.units,
    feedRule: control.feedRule,
  };
}
