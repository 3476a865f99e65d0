/**
 * Where the tip's lowest height jumps along x, and how far along x a stretch of the form asks the tip to go.
 * Beside a shoulder the tip may come down only when its rim is past it, so the height jumps one radius away from it; at
 * any other place the height runs on without a jump.
 */
import type { Bit } from '../../shared/catalog.ts';
import { CONTACT_ABOVE, CONTACT_BELOW } from '../../shared/tolerances.ts';
import { TURN } from '../../shared/units.ts';
import type { Surface } from '../profiles/field.ts';
import { profileHeight, profileOf } from './bit.ts';
import type { Heights } from './contact-heights.ts';

/** A place along x at which the path stops and goes round. */
export interface Wall {
  /** Where the height jumps, mm: `x − aside` stands on one side of it, `x + aside` on the other; a notch is stood in itself. */
  readonly x: number;
  /** Whether the side of smaller x is the higher; level: a notch, where the bit touches on both sides at once. */
  readonly below: 'higher' | 'lower' | 'level';
}

/** How far from the jump the tip stops, mm: beyond the last decimal that a control rounds away. */
export const ASIDE = 0.003;
/** A smaller jump is left to the run of the path, mm. */
const LEAST_JUMP = 0.05;

/** Angles at which walls and ends are looked at: one where the work is round. */
function anglesOf(work: Surface, x0: number, x1: number, bit: Bit): number[] {
  const R = bit.diameter / 2;
  if (work.isRound(Math.max(work.from, x0 - R), Math.min(work.to, x1 + R))) return [0];
  const sector = Number.isFinite(work.symmetry) ? TURN / work.symmetry : TURN;
  return Array.from({ length: 16 }, (_, j) => (j * sector) / 16);
}

/** Largest and smallest lowest tip height over all angles at x. @returns [smallest, largest], mm */
export function floorAt(work: Surface, contact: Heights, bit: Bit, x: number): [number, number] {
  let lo = Infinity;
  let hi = -Infinity;
  for (const theta of anglesOf(work, x, x, bit)) {
    const z = contact.lowest(x, theta);
    lo = Math.min(lo, z);
    hi = Math.max(hi, z);
  }
  return [lo, hi];
}

/**
 * The walls that the tip meets between two places.
 * @param from mm @param to mm, from < to @returns ascending in x
 */
export function wallsBetween(work: Surface, contact: Heights, bit: Bit, from: number, to: number): Wall[] {
  const R = bit.diameter / 2;
  const walls: Wall[] = [];
  for (const b of work.breaks) {
    if (b.kind !== 'shoulder') continue;
    for (const x of [b.x - R, b.x + R]) {
      if (x <= from + ASIDE || x >= to - ASIDE || walls.some((w) => Math.abs(w.x - x) < 4 * ASIDE)) continue;
      let jump = 0;
      for (const theta of anglesOf(work, x, x, bit)) {
        const rise = contact.lowest(x + ASIDE, theta) - contact.lowest(x - ASIDE, theta);
        if (Math.abs(rise) > Math.abs(jump)) jump = rise;
      }
      if (Math.abs(jump) > LEAST_JUMP) walls.push({ x, below: jump < 0 ? 'higher' : 'lower' });
    }
  }
  return walls.sort((a, b) => a.x - b.x);
}

/** Distance along x at which notches are looked for, mm, and how near they are found. */
const NOTCH_STEP = 0.1;
const NOTCH_NEAR = 5e-4;
/** How much the slope of the tip's run must grow within a step to count as a notch: a cove that the bit just fits into grows less. */
const NOTCH = 0.7;

/**
 * Notches of the tip's run on round work: where the bit comes to touch on a second place (both sides of a cove narrower
 * than itself, floor and edge of a low shoulder) the run has a sharp bottom. Only a ring that stands in it leaves the corner
 * as deep as the bit can; turns beside it stay above by the slope times their distance.
 * @param from mm @param to mm, from < to @returns ascending in x
 */
export function notchesBetween(work: Surface, contact: Heights, bit: Bit, from: number, to: number): Wall[] {
  const R = bit.diameter / 2;
  const n = Math.max(4, Math.ceil((to - from) / NOTCH_STEP));
  const step = (to - from) / n;
  const at = (x: number) => contact.lowest(x, 0);
  const round = (x: number) => work.isRound(Math.max(work.from, x - R), Math.min(work.to, x + R));
  const z = Float64Array.from({ length: n + 1 }, (_, i) => (round(from + i * step) ? at(from + i * step) : Number.NaN));
  const notches: Wall[] = [];
  for (let i = 1; i + 2 <= n; i++) {
    if (!((z[i + 2] - z[i + 1] - z[i] + z[i - 1]) / step > NOTCH)) continue;
    // The cell in which the slope grows most, ever smaller.
    let a = from + (i - 1) * step;
    let b = from + (i + 2) * step;
    while (b - a > NOTCH_NEAR) {
      const h = (b - a) / 6;
      const heights = Array.from({ length: 7 }, (_, k) => at(a + k * h));
      let best = 1;
      let most = -Infinity;
      for (let k = 1; k <= 5; k++) {
        const bend = heights[k + 1] - 2 * heights[k] + heights[k - 1];
        if (bend > most) {
          most = bend;
          best = k;
        }
      }
      const middle = a + best * h;
      a = middle - h;
      b = middle + h;
    }
    const x = (a + b) / 2;
    const near = 0.1 * step;
    const grows = (at(x + 2 * near) - at(x + near) - at(x - near) + at(x - 2 * near)) / near;
    const last = notches.at(-1);
    if (grows > NOTCH && !(last && x - last.x < 2 * step)) notches.push({ x, below: 'level' });
  }
  return notches;
}

/** Walls and notches together: all places at which a path along x stops and goes round. @returns ascending in x */
export function stopsBetween(work: Surface, contact: Heights, bit: Bit, from: number, to: number): Wall[] {
  const walls = wallsBetween(work, contact, bit, from, to);
  const notches = notchesBetween(work, contact, bit, from, to).filter(
    (notch) =>
      notch.x > from + 4 * ASIDE &&
      notch.x < to - 4 * ASIDE &&
      !walls.some((w) => Math.abs(w.x - notch.x) < NOTCH_STEP),
  );
  return [...walls, ...notches].sort((a, b) => a.x - b.x);
}

/**
 * The range of tip positions that a stretch [from, to] of the work needs: up to a radius beyond an end that falls away (a
 * slope is touched beside the tip), up to a radius inside an end that a wall stands at, and nowhere where the bit would
 * rest on what lies beyond the stretch alone.
 * @param least smallest and @param most largest x that the tip may take, mm
 * @returns mm, or undefined if the bit does not come down between the walls at all
 */
export function tipRange(
  work: Surface,
  contact: Heights,
  bit: Bit,
  from: number,
  to: number,
  least: number,
  most: number,
): { from: number; to: number } | undefined {
  const R = bit.diameter / 2;
  const profile = profileOf(bit);
  const lower = (d: number) => profileHeight(profile, d);
  /** Whether the tip at x touches the stretch itself, elsewhere than on the edge of an end it stands beyond. */
  const needed = (x: number): boolean => {
    const inside = x >= from && x <= to;
    for (const theta of anglesOf(work, x, x, bit)) {
      const z = contact.lowest(x, theta);
      const near = Math.min(to, Math.max(from, x));
      const touches = (u: number): boolean => {
        const d = Math.abs(u - x);
        if (d > R) return false;
        return work.radius(u, theta, u <= from ? 1 : u >= to ? -1 : 0) - lower(d) >= z - CONTACT_ABOVE - CONTACT_BELOW;
      };
      if (touches(near)) {
        if (inside) return true;
        continue;
      }
      const n = 64;
      for (let k = 1; k <= n; k++) {
        const u = (R * k) / n;
        if (
          inside
            ? touches(Math.max(from, x - u)) || touches(Math.min(to, x + u))
            : x < from
              ? x + u > from && x + u <= to && touches(x + u)
              : x - u < to && x - u >= from && touches(x - u)
        )
          return true;
      }
    }
    return false;
  };
  const search = (start: number, direction: 1 | -1): number | undefined => {
    const limit = direction > 0 ? Math.min(most, to + R) : Math.max(least, from - R);
    const step = R / 24;
    for (let x = start, k = 0; k < 10_000; k++, x += direction * step) {
      const past = direction > 0 ? x >= limit : x <= limit;
      const here = past ? limit : x;
      if (needed(here)) {
        if (k === 0) return here;
        // Between the last place that was not needed and this one.
        let no = here - direction * step;
        let yes = here;
        for (let i = 0; i < 16; i++) {
          const m = (no + yes) / 2;
          if (needed(m)) yes = m;
          else no = m;
        }
        // Not on the very edge: there the rim would touch what stands beyond.
        return yes + direction * ASIDE;
      }
      if (past) return undefined;
    }
    return undefined;
  };
  const low = search(Math.max(least, from - R), 1);
  const high = search(Math.min(most, to + R), -1);
  return low === undefined || high === undefined || low > high ? undefined : { from: low, to: high };
}
