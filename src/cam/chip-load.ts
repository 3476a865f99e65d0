/**
 * Chip load: how far the work moves on for each tooth. No handbook or standard tabulates it for small routers; the points
 * below are the lower ends of what is commonly used in hardwood (common practice, no source), since a desktop router and
 * its rotary are light. A material's own factor multiplies them.
 */
import type { Bit } from '../../shared/catalog.ts';

/** Diameter of the bit, mm → chip load in hardwood, mm a tooth; from the origin, straight between, level beyond. */
const HARDWOOD: readonly (readonly [number, number])[] = [
  [0, 0],
  [3.175, 0.04],
  [6.35, 0.1],
  [9.525, 0.15],
  [12.7, 0.25],
];

/** Chip load of a plain bit in hardwood. @param diameter mm > 0 @returns mm a tooth */
export function hardwoodChipLoad(diameter: number): number {
  for (let i = 1; i < HARDWOOD.length; i++) {
    const [d1, f1] = HARDWOOD[i]!;
    const [d0, f0] = HARDWOOD[i - 1]!;
    if (diameter <= d1) return f0 + ((f1 - f0) * (diameter - d0)) / (d1 - d0);
  }
  return HARDWOOD.at(-1)![1];
}

/**
 * The diameter that a bit's strength and chip load go by: of a slender taper or a vee the mean of its tip and its widest,
 * since it cuts with anything between. @returns mm
 */
export function workingDiameter(bit: Bit): number {
  if (bit.kind === 'vee') return (bit.tipDiameter + bit.diameter) / 2;
  if (bit.kind === 'tapered-ball') return (2 * bit.tipRadius + bit.diameter) / 2;
  return bit.diameter;
}
