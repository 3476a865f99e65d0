/**
 * What a pass leaves, by force: for one ray after another the lowest place at which any position of the bit enters it.
 * Written from the definition (the bit's solid against a ray), sharing nothing with planner, kernel or proof.
 */
import type { Bit } from '../../shared/catalog.ts';
import type { Moves } from '../../src/cam/path.ts';
import { underside } from './oracle.ts';

/** Steps of the scan along a ray. */
const SCAN = 60;

/** Where the ray at (x, θ) enters the bit that stands at (px, pr, pt); Infinity if it misses it. @returns mm */
export function entryInto(bit: Bit, px: number, pr: number, pt: number, x: number, theta: number): number {
  const R = bit.diameter / 2;
  const u = Math.abs(x - px);
  const c = Math.cos(theta - pt);
  const s = Math.abs(Math.sin(theta - pt));
  if (u > R || c <= 0) return Infinity;
  const inside = (t: number) => {
    const d = Math.hypot(u, t * s);
    return d <= R && t * c >= pr + underside(bit, d);
  };
  // The bit above its tip is convex along a ray: scan for a place inside it, then close in on the near side.
  const far = s > 1e-12 ? Math.sqrt(Math.max(0, R * R - u * u)) / s : 1e3;
  const near = pr / c;
  if (near > far) return Infinity;
  const span = Math.min(far, near + 2 * R) - near;
  let hit = Number.NaN;
  for (let k = 0; k <= SCAN; k++)
    if (inside(near + (span * k) / SCAN)) {
      hit = near + (span * k) / SCAN;
      break;
    }
  if (Number.isNaN(hit)) return Infinity;
  let out = Math.max(near, hit - span / SCAN);
  for (let k = 0; k < 40; k++) {
    const m = (out + hit) / 2;
    if (inside(m)) hit = m;
    else out = m;
  }
  return hit;
}

/** Lowest surface that moves at feed leave on the ray at (x, θ), positions along each move `step` mm apart. @returns mm */
export function leftBy(bit: Bit, moves: Moves, x: number, theta: number, step = 0.1): number {
  const R = bit.diameter / 2;
  const turn = 2 * Math.PI;
  let least = Infinity;
  for (let i = 1; i < moves.count; i++) {
    if (moves.kind[i] === 0) continue;
    const [x0, x1] = [moves.x[i - 1], moves.x[i]];
    if (Math.min(x0, x1) > x + R || Math.max(x0, x1) < x - R) continue;
    const [t0, t1] = [moves.theta[i - 1], moves.theta[i]];
    const [r0, r1] = [moves.r[i - 1], moves.r[i]];
    const n = Math.max(1, Math.ceil(Math.hypot(x1 - x0, (t1 - t0) * Math.max(r0, r1)) / step));
    for (let k = 0; k <= n; k++) {
      const s = k / n;
      const t = t0 + (t1 - t0) * s;
      const off = Math.abs(((theta - t + turn * 1e4 + Math.PI) % turn) - Math.PI);
      const r = r0 + (r1 - r0) * s;
      if (off > Math.PI / 2 || r / Math.cos(off) > least || r * Math.tan(off) > R) continue;
      least = Math.min(least, entryInto(bit, x0 + (x1 - x0) * s, r, t, x, theta));
    }
  }
  return least;
}
