/** How much a bit leaves in the hollows of a form along its axis: what decides how fine the finishing bit must be. */
import type { Bit } from '../../shared/catalog.ts';
import { TURN } from '../../shared/units.ts';
import { heightAt } from '../cam/bit.ts';
import type { Field } from '../profiles/field.ts';

/** Distance of samples along the axis, mm: an estimate for choosing a bit, not a proof. */
const STEP = 0.1;
const MERIDIANS = 6;

/**
 * The most between an outline and its closing by a profile: the lowest surface that the bit can leave over it. The bit may
 * stand beside the outline's ends. @param r outline every STEP mm @param profile the bit's, as finely @returns mm
 */
function closingRest(r: Float64Array, profile: Float64Array): number {
  const n = r.length;
  const w = profile.length - 1;
  const tip = new Float64Array(n + 2 * w).fill(-Infinity);
  for (let i = -w; i < n + w; i++)
    for (let j = Math.max(0, i - w); j <= Math.min(n - 1, i + w); j++)
      tip[i + w] = Math.max(tip[i + w]!, r[j]! - profile[Math.abs(j - i)]!);
  let most = 0;
  for (let j = 0; j < n; j++) {
    let low = Infinity;
    for (let i = j - w; i <= j + w; i++) low = Math.min(low, tip[i + w]! + profile[Math.abs(j - i)]!);
    // Square to the surface: on a steep flank the step of the samples would pass for wood.
    const slope = (r[Math.min(n - 1, j + 1)]! - r[Math.max(0, j - 1)]!) / (2 * STEP);
    most = Math.max(most, (low - r[j]!) / Math.hypot(1, slope));
  }
  return most;
}

/**
 * The most that a bit leaves in the form's smooth hollows (coves, scotias). Corners at shoulders and creases are left out:
 * every bit leaves its own radius there. @returns mm
 */
export function hollowRest(field: Field, bit: Bit): number {
  const profile = Float64Array.from({ length: Math.floor(bit.diameter / 2 / STEP) + 1 }, (_, k) =>
    heightAt(bit, k * STEP),
  );
  const ends = [field.from, ...field.breaks.map((b) => b.x), field.to];
  const meridians = field.isRound(field.from, field.to) ? 1 : MERIDIANS;
  let most = 0;
  for (let k = 1; k < ends.length; k++) {
    const from = ends[k - 1]!;
    const n = Math.floor((ends[k]! - from) / STEP);
    if (n < 3) continue;
    const step = (ends[k]! - from) / n;
    for (let m = 0; m < meridians; m++) {
      const r = Float64Array.from({ length: n + 1 }, (_, i) => {
        const x = from + i * step;
        return field.radius(x, (m * TURN) / MERIDIANS + field.turning(x), i === n ? -1 : 1);
      });
      most = Math.max(most, closingRest(r, profile));
    }
  }
  return most;
}
