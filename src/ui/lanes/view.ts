/** Moving along the ruler: wheel, pinch, drag and keys become a new visible range. Pure. */
import { panned, type Ruler, toMm, zoomed } from '../ruler.ts';

export interface Range {
  from: number;
  to: number;
}

/** Share of the visible range that one key press moves, and what one press zooms. */
const KEY_PAN = 0.1;
const KEY_ZOOM = 1.25;
/** Wheel travel that doubles the scale, px. */
const WHEEL_DOUBLE = 240;

/** Of short thick work at least so many radii are shown along the ruler, or the stage could not hold its height. */
const RADII = 8;

/**
 * What lies on the ruler when nothing is left out.
 * @param blank mm @param radius of what turns, mm @returns it with a little air at both ends
 */
export function whole(blank: Range, radius: number): Range {
  const length = blank.to - blank.from;
  const air = Math.max(4, length * 0.04, (RADII * radius - length) / 2);
  return { from: blank.from - air, to: blank.to + air };
}

/** @param key of the keyboard @param radius of what turns, mm @returns the new range, or undefined if the key does not move the ruler */
export function byKey(range: Range, key: string, blank: Range, radius: number): Range | undefined {
  const middle = (range.from + range.to) / 2;
  const span = range.to - range.from;
  switch (key) {
    case '+':
    case '=':
      return zoomed(range, middle, KEY_ZOOM);
    case '-':
      return zoomed(range, middle, 1 / KEY_ZOOM);
    case '0':
      return whole(blank, radius);
    case 'ArrowLeft':
      return panned(range, -span * KEY_PAN);
    case 'ArrowRight':
      return panned(range, span * KEY_PAN);
    default:
      return undefined;
  }
}

/** Zooms about the pointer. @param delta px of wheel travel, positive shows more @param pixel of the pointer on the ruler */
export const byWheel = (ruler: Ruler, delta: number, pixel: number): Range =>
  zoomed(ruler, toMm(ruler, pixel), 2 ** (-delta / WHEEL_DOUBLE));

/** Two fingers: what lay under each stays under it. @param before, now px of the two on the ruler */
export function byPinch(ruler: Ruler, before: [number, number], now: [number, number]): Range {
  const spread = Math.abs(before[1] - before[0]);
  const factor = spread < 1 ? 1 : Math.max(1, Math.abs(now[1] - now[0])) / spread;
  const held = toMm(ruler, (before[0] + before[1]) / 2);
  const next = zoomed(ruler, held, factor);
  const perPixel = (next.to - next.from) / ruler.width;
  return panned(next, ((before[0] + before[1] - now[0] - now[1]) / 2) * perPixel);
}
