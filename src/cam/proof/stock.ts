/** Section of the blank before any cut, by the proof's own reckoning. */
import { TURN } from '../../../shared/units.ts';
import type { Blank } from '../blank.ts';

/**
 * Distance from the rotary axis to the blank's skin: the least of d/cos(θ − φ) over the flats (half plane form).
 * @param theta radians, a flat faces 0 @returns mm
 */
export function stockRadius(blank: Blank, theta: number): number {
  if (blank.section === 'round') return blank.width / 2;
  let r = Infinity;
  const flats = blank.section === 'polygon' ? blank.sides : 4;
  for (let k = 0; k < flats; k++) {
    const c = Math.cos(theta - (k * TURN) / flats);
    const d = (blank.section === 'rectangle' && k % 2 === 0 ? blank.height : blank.width) / 2;
    // The bound keeps a flat seen edge-on from dividing by nothing.
    if (c > 1e-9) r = Math.min(r, d / c);
  }
  return r;
}

/** Radius of the largest circle inside the section, mm. */
export function inscribed(blank: Blank): number {
  return (blank.section === 'rectangle' ? Math.min(blank.width, blank.height) : blank.width) / 2;
}

/** Radius of the circle around the section, mm. */
export function circumscribed(blank: Blank): number {
  if (blank.section === 'round') return blank.width / 2;
  if (blank.section === 'polygon') return blank.width / 2 / Math.cos(TURN / 2 / blank.sides);
  return Math.hypot(blank.width, blank.section === 'rectangle' ? blank.height : blank.width) / 2;
}
