/**
 * The exact lower profile of every bit kind: a body of revolution about the spindle's axis whose underside rises from
 * the tip by h(d) at the distance d from that axis. Each is a flat, then an arc, then a straight flank, some of them of
 * no size (plane geometry; no source). Every profile is convex and never falls.
 */
import type { Bit } from '../../shared/catalog.ts';
import { cosDegrees, radians, sinDegrees } from '../../shared/units.ts';

/** A profile's numbers, mm: h = 0 up to `flat`, an arc of radius `arc` up to `tangent`, then a flank up to `radius`. */
export interface Profile {
  radius: number;
  flat: number;
  arc: number;
  tangent: number;
  /** Height where the flank starts. */
  start: number;
  /** Height gained by the flank for each mm outward. */
  rise: number;
}

/** The numbers of a bit's lower profile. @param bit catalog row */
export function profileOf(bit: Bit): Profile {
  const radius = bit.diameter / 2;
  const half = bit.includedAngle_deg / 2;
  const whole = { radius, flat: radius, arc: 0, tangent: radius, start: 0, rise: 0 };
  switch (bit.kind) {
    case 'flat':
      return whole;
    case 'ball':
      return { ...whole, flat: 0, arc: radius };
    case 'bull':
      return { ...whole, flat: radius - bit.tipRadius, arc: bit.tipRadius };
    case 'vee': {
      const flat = bit.tipDiameter / 2;
      return { ...whole, flat, tangent: flat, rise: 1 / Math.tan(radians(half)) };
    }
    case 'tapered-ball': {
      const arc = bit.tipRadius;
      const tangent = arc * cosDegrees(half);
      return { radius, flat: 0, arc, tangent, start: arc * (1 - sinDegrees(half)), rise: 1 / Math.tan(radians(half)) };
    }
  }
}

/** Height of a profile. @param p its numbers @param d distance from the bit's axis, mm @returns mm; Infinity beyond the radius */
export function profileHeight(p: Profile, d: number): number {
  if (d > p.radius) return Infinity;
  const e = d - p.flat;
  if (e <= 0) return 0;
  if (d <= p.tangent) return p.arc - Math.sqrt(Math.max(0, p.arc * p.arc - e * e));
  return p.start + (d - p.tangent) * p.rise;
}

/**
 * Height of the bit's lower surface above its tip.
 * @param bit catalog row @param d distance from the bit's axis, mm @returns mm ≥ 0; Infinity outside the cutting diameter
 */
export const heightAt = (bit: Bit, d: number): number => profileHeight(profileOf(bit), d);

/** Radius of curvature of the cutting end that leaves scallops; 0 where a point or a sharp corner does. @returns mm */
export function cuspRadius(bit: Bit): number {
  return bit.kind === 'ball' ? bit.diameter / 2 : bit.tipRadius;
}
