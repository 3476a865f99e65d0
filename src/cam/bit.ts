/**
 * The exact lower profile of every bit kind: a body of revolution about the spindle's axis whose underside rises from
 * the tip by h(d) at the distance d from that axis. Every profile is convex and never falls (plane geometry of the
 * tip's circle, corner circle and flank; no source).
 */
import type { Bit } from '../../shared/catalog.ts';
import { cosDegrees, radians, sinDegrees } from '../../shared/units.ts';

/**
 * The profile of a bit as a function, its constants worked out once: for loops.
 * @param bit catalog row @returns height (mm ≥ 0) of the lower surface above the tip at distance d (mm ≥ 0) from the
 * axis; Infinity outside the cutting diameter
 */
export function lowerProfile(bit: Bit): (d: number) => number {
  const R = bit.diameter / 2;
  switch (bit.kind) {
    case 'flat':
      return (d) => (d > R ? Infinity : 0);
    case 'ball':
      return (d) => (d > R ? Infinity : R - Math.sqrt(R * R - d * d));
    case 'bull': {
      const c = bit.tipRadius;
      const flat = R - c;
      return (d) => {
        if (d > R) return Infinity;
        return d <= flat ? 0 : c - Math.sqrt(Math.max(0, c * c - (d - flat) * (d - flat)));
      };
    }
    case 'vee': {
      const flat = bit.tipDiameter / 2;
      const rise = 1 / Math.tan(radians(bit.includedAngle_deg / 2));
      return (d) => (d > R ? Infinity : Math.max(0, d - flat) * rise);
    }
    case 'tapered-ball': {
      const half = bit.includedAngle_deg / 2;
      const rho = bit.tipRadius;
      const tangent = rho * cosDegrees(half);
      const start = rho * (1 - sinDegrees(half));
      const rise = 1 / Math.tan(radians(half));
      return (d) => {
        if (d > R) return Infinity;
        return d <= tangent ? rho - Math.sqrt(Math.max(0, rho * rho - d * d)) : start + (d - tangent) * rise;
      };
    }
  }
}

/**
 * Height of the bit's lower surface above its tip.
 * @param bit catalog row @param d distance from the bit's axis, mm @returns mm ≥ 0; Infinity outside the cutting diameter
 */
export const heightAt = (bit: Bit, d: number): number => lowerProfile(bit)(d);

/** Radius of curvature of the cutting end that leaves scallops; 0 where a point or a sharp corner does. @returns mm */
export function cuspRadius(bit: Bit): number {
  return bit.kind === 'ball' ? bit.diameter / 2 : bit.tipRadius;
}
