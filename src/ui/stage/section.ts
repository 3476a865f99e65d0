/** The blank's own section, as corners in the part frame. */
import type { Blank } from '../../cam/blank.ts';

/** Corners of a circle, enough that none is seen. */
const ROUND = 96;

/** @param blank in the part frame @returns [y, z] of the section's corners, mm, ascending in θ from a flat that faces θ = 0 */
export function cornersOf(blank: Blank): [number, number][] {
  const at = (r: number, theta: number): [number, number] => [-r * Math.sin(theta), r * Math.cos(theta)];
  if (blank.section === 'round')
    return Array.from({ length: ROUND }, (_, k) => at(blank.width / 2, (2 * Math.PI * k) / ROUND));
  if (blank.section === 'polygon') {
    const r = blank.width / 2 / Math.cos(Math.PI / blank.sides);
    return Array.from({ length: blank.sides }, (_, k) => at(r, (2 * Math.PI * (k + 0.5)) / blank.sides));
  }
  const w = blank.width / 2;
  const h = blank.height / 2;
  return [
    [-w, h],
    [-w, -h],
    [w, -h],
    [w, h],
  ];
}

/** @param radius of the section seen from the side when turned: half of what the eye sees above the axis, mm */
export const shownRadius = (blank: Blank, turned: number): number =>
  Math.max(...cornersOf(blank).map(([y, z]) => z * Math.cos(turned) - y * Math.sin(turned)));
