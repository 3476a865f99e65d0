/** What a cross-section is worth against bending and twisting, from the field itself. */
import type { Side, Surface } from '../profiles/field.ts';
import { around } from './integral.ts';

export interface SectionProperties {
  /** mm². */
  area: number;
  /** Centre of area, part frame, mm; 0, 0 on the rotary axis. */
  y: number;
  z: number;
  /** Second moments about the y and z directions through the centre, and the product moment, mm⁴. */
  aboutY: number;
  aboutZ: number;
  product: number;
  /** Smallest and largest second moment about any line through the centre, mm⁴. */
  smallest: number;
  largest: number;
  /** A lower bound of the torsion constant, mm⁴: true for any section that is star-shaped about the rotary axis. */
  torsion: number;
}

/**
 * Properties of the section at x. Polar integrals: area ½∫r², first moments ⅓∫r³, second moments ¼∫r⁴.
 * Torsion: the larger of two lower bounds. One is the circle inside, πr⁴/2 (a section is at least as stiff as any that
 * lies within it). The other comes from the variational form J = max (2∫φ)²/∫|∇φ|² over functions that vanish on the edge,
 * with φ = 1 − (ρ/r(θ))²: J ≥ A²/∫(1 + (r′/r)²)dθ; for a circle and any ellipse it is exact, for a square 8/9 of the exact
 * value (Pólya and Szegő, Isoperimetric Inequalities in Mathematical Physics, 1951, from memory).
 * @param side which section at a shoulder
 */
export function sectionAt(surface: Surface, x: number, side: Side = 0): SectionProperties {
  const samples = around(surface, x, side);
  const n = samples.length;
  const r = new Float64Array(n);
  surface.ring(
    x,
    Float64Array.from(samples, (s) => s.at),
    r,
    side,
  );
  let [area, y1, z1, y2, z2, yz, bent] = [0, 0, 0, 0, 0, 0, 0];
  let least = Infinity;
  for (let k = 0; k < n; k++) {
    const { at, weight } = samples[k]!;
    const rho = r[k]!;
    // A point is (−r·sin θ, r·cos θ) in (y, z).
    const [c, s] = [Math.cos(at), -Math.sin(at)];
    area += (weight * rho ** 2) / 2;
    y1 += (weight * rho ** 3 * s) / 3;
    z1 += (weight * rho ** 3 * c) / 3;
    y2 += (weight * rho ** 4 * s * s) / 4;
    z2 += (weight * rho ** 4 * c * c) / 4;
    yz += (weight * rho ** 4 * s * c) / 4;
    least = Math.min(least, rho);
    // Two close radii on either side give the slope; an arris never lies between, samples stand clear of it.
    const h = Math.min(1e-4, weight / 8);
    const slope = (surface.radius(x, at + h, side) - surface.radius(x, at - h, side)) / (2 * h * rho);
    bent += weight * (1 + slope * slope);
  }
  for (const c of surface.creases(x, side)) least = Math.min(least, surface.radius(x, c, side));
  const [y, z] = [y1 / area, z1 / area];
  const aboutY = z2 - area * z * z;
  const aboutZ = y2 - area * y * y;
  const product = yz - area * y * z;
  const middle = (aboutY + aboutZ) / 2;
  const swing = Math.hypot((aboutY - aboutZ) / 2, product);
  return {
    area,
    y,
    z,
    aboutY,
    aboutZ,
    product,
    smallest: middle - swing,
    largest: middle + swing,
    torsion: Math.max((Math.PI * least ** 4) / 2, area ** 2 / bent),
  };
}
