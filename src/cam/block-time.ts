/**
 * Seconds that one block may take, and the F word that makes the control take them.
 * A block runs straight in (x, r, θ); on the work that is a conical spiral.
 */
import type { Bench, Control } from '../../shared/catalog.ts';
import { perSecond, SECONDS_PER_MINUTE, TURN } from '../../shared/units.ts';
import type { Words } from './control.ts';

/**
 * Length that the contact travels over the work while x, r and θ run linearly together, mm.
 * s = ∫₀¹ √(Δx² + Δr² + r(t)²Δθ²) dt = [G(r₁) − G(r₀)]/Δr with G(q) = ½(q√(c² + w²q²) + (c²/w)·asinh(wq/c)),
 * c = √(Δx² + Δr²), w = |Δθ| (integral of a square root of a quadratic; checked in the tests against Simpson's rule).
 * @param dx mm @param r0 radius at the start, mm @param r1 radius at the end, mm @param dTheta radians
 */
export function contactLength(dx: number, r0: number, r1: number, dTheta: number): number {
  const dr = r1 - r0;
  const c = Math.hypot(dx, dr);
  const w = Math.abs(dTheta);
  if (w === 0) return c;
  const mid = (r0 + r1) / 2;
  // Below these the difference quotient loses digits faster than the mean radius loses truth (its error is of second order).
  if (Math.abs(dr) < 1e-6 * (1 + Math.abs(mid)) || w * (Math.abs(r0) + Math.abs(r1)) < 1e-6 * c)
    return Math.hypot(c, mid * w);
  const G = (q: number) => 0.5 * (q * Math.hypot(c, w * q) + ((c * c) / w) * Math.asinh((w * q) / c));
  return (G(r1) - G(r0)) / dr;
}

/** Fastest turning that the bench allows, radians a second. */
export const rotaryMax = (bench: Bench): number => perSecond(bench.rotary.maxSpeed) * TURN;

/**
 * Least time in which the axes of the bench can make these steps at their speed limits, s.
 * @param dx mm @param dr mm @param dTheta radians
 */
export const axisTime = (bench: Bench, dx: number, dr: number, dTheta: number): number =>
  Math.max(
    Math.abs(dx) / perSecond(bench.axialMax),
    Math.abs(dr) / perSecond(bench.radialMax),
    Math.abs(dTheta) / rotaryMax(bench),
  );

/**
 * Time of a block at a wanted speed of the contact: length over speed, raised until every axis keeps its limit and the
 * control can read the next line.
 * @param dx mm @param r0 mm @param r1 mm @param dTheta radians @param feed_mm_min wanted speed over the work, > 0
 * @returns s
 */
export function blockTime(
  bench: Bench,
  dx: number,
  r0: number,
  r1: number,
  dTheta: number,
  feed_mm_min: number,
): number {
  if (!(feed_mm_min > 0)) throw new Error(`a block at feed needs a speed > 0, got ${feed_mm_min}`);
  const wanted = contactLength(dx, r0, r1, dTheta) / perSecond(feed_mm_min);
  return Math.max(wanted, axisTime(bench, dx, r1 - r0, dTheta), 1 / bench.blocksPerSecond);
}

/** Significant digits of an F word: 0.01 % of the time, well below what a person or an axis limit can tell. */
const FEED_DIGITS = 5;

/**
 * A number rounded down to the digits of an F word and never above the range of the control; rounding down means that no
 * block runs faster than it was given time for. A value within 1e-12 of a round one counts as that one.
 * @param value > 0 @returns the number and how many decimals it has
 */
export function roundFeed(value: number, feedMax: number): { value: number; decimals: number } {
  if (!(value > 0)) throw new Error(`F must be > 0, got ${value}`);
  if (value >= feedMax) return { value: feedMax, decimals: 0 };
  const exponent = Math.floor(Math.log10(value));
  const decimals = Math.max(0, FEED_DIGITS - 1 - exponent);
  const scale = 10 ** decimals;
  return { value: Math.floor(value * scale * (1 + 1e-12)) / scale, decimals };
}

/**
 * The length by which a control divides to find a block's time, in the units of the program: for per-minute feed the
 * length over all words, or over the linear words alone with a block of the rotary alone by its own word.
 * @param d differences of the words as written @returns program units; 0 for no motion
 */
export function feedLength(control: Control, d: Words): number {
  if (control.feedRule === 'all-words' || control.rotary.linear) return Math.hypot(d.axial, d.radial, d.rotary);
  const linear = Math.hypot(d.axial, d.radial);
  return linear > 0 ? linear : Math.abs(d.rotary);
}

/**
 * The F word of a block under the control's feed rule.
 * inverse-time: 60/t a minute (NISTIR 6556 §3.5.19); else the rule's length over the minutes that the block shall take.
 * @param d differences of the words as written, program units, not all zero @param t wanted time, s > 0
 * @returns F, how many decimals it has, and the time that the control will take, s ≥ t
 */
export function feedWord(control: Control, d: Words, t: number): { value: number; decimals: number; time: number } {
  const length = control.feedRule === 'inverse-time' ? 1 : feedLength(control, d);
  const f = roundFeed((length * SECONDS_PER_MINUTE) / t, control.feedMax);
  return { ...f, time: (length * SECONDS_PER_MINUTE) / f.value };
}
