/** Where a ray from the axis enters a bit: what is left of the ray after the bit stood there. */
import { type Profile, profileHeight } from './bit.ts';

/** How near the entry is found, mm. */
const NEAR = 1e-4;

/**
 * Where a ray enters the bit's solid, t·cos δ = r + h(√(u² + t²·sin²δ)). The height of the ray above the bit's outline is
 * concave in t (a line less a convex function), so a rise, a top and at most two zeros: the nearer one is the entry.
 * @param profile of the bit @param u from the bit's axis to the ray's plane along x, mm @param off δ, angle from the bit's
 * axis to the ray, radians, |δ| < π/2 @param r tip radius, mm
 * @returns t, mm, at most NEAR beyond the true entry; Infinity if the ray misses the bit
 */
export function rayEntry(profile: Profile, u: number, off: number, r: number): number {
  const R = profile.radius;
  const c = Math.cos(off);
  const s = Math.abs(Math.sin(off));
  let lo = r / c;
  if (Math.hypot(u, lo * s) > R) return Infinity;
  if (profile.flat >= R) return lo;
  const above = (t: number) => t * c - r - profileHeight(profile, Math.min(R, Math.hypot(u, t * s)));
  if (above(lo) >= 0) return lo;
  const rise = profileHeight(profile, R);
  let hi = Math.min((r + rise) / c, s > 1e-9 ? Math.sqrt(Math.max(0, R * R - u * u)) / s : Infinity);
  if (above(hi) < 0) {
    let a = lo;
    let b = hi;
    for (let k = 0; k < 40 && b - a > NEAR; k++) {
      const p = a + (b - a) / 3;
      const q = b - (b - a) / 3;
      if (above(p) < above(q)) a = p;
      else b = q;
    }
    hi = (a + b) / 2;
    if (above(hi) < 0) return Infinity;
  }
  while (hi - lo > NEAR) {
    const t = (lo + hi) / 2;
    if (above(t) >= 0) hi = t;
    else lo = t;
  }
  return hi;
}
