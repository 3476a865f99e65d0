/** The exact lower profile of every bit kind. ALGORITHMS §1. */
import type { Bit } from '../../shared/catalog.ts';
import { cosDegrees, radians, sinDegrees } from '../../shared/units.ts';

/**
 * Height of the bit's lower surface above its tip.
 * @param bit catalog row @param d distance from the bit's axis, mm @returns mm ≥ 0; Infinity outside the cutting diameter
 */
export function heightAt(bit: Bit, d: number): number {
  const R = bit.diameter / 2;
  if (d > R) return Infinity;
  switch (bit.kind) {
    case 'flat':
      return 0;
    case 'ball':
      return R - Math.sqrt(Math.max(0, R * R - d * d));
    case 'bull': {
      const c = bit.tipRadius;
      const over = d - (R - c);
      return over <= 0 ? 0 : c - Math.sqrt(Math.max(0, c * c - over * over));
    }
    case 'vee':
      return Math.max(0, d - bit.tipDiameter / 2) / Math.tan(radians(bit.includedAngle_deg / 2));
    case 'tapered-ball': {
      const half = bit.includedAngle_deg / 2;
      const rho = bit.tipRadius;
      const tangent = rho * cosDegrees(half);
      return d <= tangent
        ? rho - Math.sqrt(Math.max(0, rho * rho - d * d))
        : rho * (1 - sinDegrees(half)) + (d - tangent) / Math.tan(radians(half));
    }
  }
}

/** Radius of curvature of the cutting end that leaves scallops; 0 where a point or a sharp corner does. @returns mm */
export function cuspRadius(bit: Bit): number {
  return bit.kind === 'ball' ? bit.diameter / 2 : bit.tipRadius;
}
