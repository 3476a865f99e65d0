/** How much a bit leaves in the hollows of a form along its axis: what decides how fine the finishing bit must be. */
import type { Bit } from '../../shared/catalog.ts';
import { SAME_X } from '../../shared/tolerances.ts';
import { TURN } from '../../shared/units.ts';
import { heightAt } from '../cam/bit.ts';
import type { Field } from '../profiles/field.ts';

/** Distance of samples along the axis, mm: an estimate for choosing a bit, not a proof. */
const STEP = 0.1;
const MERIDIANS = 6;

/**
 * Where samples lie within w of a place that is more hollow than the bit is round. Everywhere else the bit touches: over
 * all its width the surface falls away from it.
 * @param r outline every STEP mm @param profile the bit's, as finely @returns ascending index ranges, ends included
 */
function hollows(r: Float64Array, profile: Float64Array): [number, number][] {
  const w = profile.length - 1;
  let roundness = Infinity;
  for (let j = 0; j < w; j++)
    roundness = Math.min(roundness, profile[Math.abs(j - 1)]! - 2 * profile[j]! + profile[j + 1]!);
  const ranges: [number, number][] = [];
  for (let j = 1; j + 1 < r.length; j++) {
    if (r[j - 1]! - 2 * r[j]! + r[j + 1]! <= Math.max(0, roundness) + LEVEL) continue;
    const [from, to] = [Math.max(0, j - w), Math.min(r.length - 1, j + w)];
    const before = ranges.at(-1);
    if (before && from <= before[1] + 1) before[1] = to;
    else ranges.push([from, to]);
  }
  return ranges;
}
/** Bends of an outline below this are rounding, mm per STEP². */
const LEVEL = 1e-9;

/**
 * The most between an outline and its closing by a profile: the lowest surface that the bit can leave over it. The bit may
 * stand beside the outline's ends. @param r outline every STEP mm @param profile the bit's, as finely @returns mm
 */
function closingRest(r: Float64Array, profile: Float64Array): number {
  const n = r.length;
  const w = profile.length - 1;
  const tip = new Float64Array(n + 2 * w);
  let most = 0;
  for (const [from, to] of hollows(r, profile)) {
    for (let i = from - w; i <= to + w; i++) {
      let high = -Infinity;
      const last = Math.min(n - 1, i + w);
      for (let j = Math.max(0, i - w); j <= last; j++) {
        const at = r[j]! - profile[j < i ? i - j : j - i]!;
        if (at > high) high = at;
      }
      tip[i + w] = high;
    }
    for (let j = from; j <= to; j++) {
      let low = Infinity;
      for (let i = j - w; i <= j + w; i++) {
        const at = tip[i + w]! + profile[j < i ? i - j : j - i]!;
        if (at < low) low = at;
      }
      // Square to the surface: on a steep flank the step of the samples would pass for wood.
      const slope = (r[Math.min(n - 1, j + 1)]! - r[Math.max(0, j - 1)]!) / (2 * STEP);
      most = Math.max(most, (low - r[j]!) / Math.hypot(1, slope));
    }
  }
  return most;
}

/** Looks at a kept face, uneven so that no pattern hides between them. */
const LOOKS = [0.003, 0.11, 0.23, 0.37, 0.5, 0.64, 0.78, 0.9, 0.997];

/** Whether a meridian of a kept face is the blank's own, straight along the axis: a carving would be met somewhere. */
function level(at: (x: number, side: -1 | 1) => number, from: number, to: number): boolean {
  const first = at(from, 1);
  return LOOKS.every((share) => Math.abs(at(from + share * (to - from), 1) - first) < LEVEL);
}

/**
 * The most that a bit leaves in the form's smooth hollows (coves, scotias). Corners at shoulders and creases are left out:
 * every bit leaves its own radius there.
 * @returns what any bit leaves, mm: the form is sampled once for all that are tried
 */
export function hollowRest(field: Field): (bit: Bit) => number {
  const ends = [field.from, ...field.breaks.map((b) => b.x), field.to];
  const outlines: Float64Array[] = [];
  for (let k = 1; k < ends.length; k++) {
    const from = ends[k - 1]!;
    const to = ends[k]!;
    const n = Math.floor((to - from) / STEP);
    if (n < 3) continue;
    const step = (to - from) / n;
    const meridians = field.isRound(from + SAME_X, to - SAME_X) ? 1 : MERIDIANS;
    const kept = field.kept.some((k) => k.from <= from + SAME_X && k.to >= to - SAME_X);
    for (let m = 0; m < meridians; m++) {
      const at = (x: number, side: -1 | 1) => field.radius(x, (m * TURN) / MERIDIANS + field.turning(x), side);
      if (kept && level(at, from, to)) continue;
      const r = new Float64Array(n + 1);
      for (let i = 0; i <= n; i++) r[i] = at(from + i * step, i === n ? -1 : 1);
      outlines.push(r);
    }
  }
  return (bit) => {
    const profile = Float64Array.from({ length: Math.floor(bit.diameter / 2 / STEP) + 1 }, (_, k) =>
      heightAt(bit, k * STEP),
    );
    return outlines.reduce((most, r) => Math.max(most, closingRest(r, profile)), 0);
  };
}
