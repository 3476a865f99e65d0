/** A track along the work that is not wound: points in (x, θ) followed by the tip as low as the work allows, for strokes and grooves. */
import type { Heights } from '../contact-heights.ts';
import { type Point, type Sampling, settle } from '../course.ts';
import type { Samples } from '../thin.ts';

/** A corner of a track. */
export interface Corner {
  readonly x: number;
  /** Radians, unwrapped. */
  readonly theta: number;
}

/** Corners nearer to the straight line between their neighbours are left out, mm. */
const STRAIGHT = 0.002;

/** Leaves out corners that lie on the straight line between their neighbours. @param radius of the work, mm */
export function straighten(corners: readonly Corner[], radius: number): Corner[] {
  const kept: Corner[] = [];
  let a = 0;
  if (corners.length > 0) kept.push(corners[0]);
  while (a < corners.length - 1) {
    let b = a + 1;
    while (b + 1 < corners.length && between(corners, a, b + 1, radius)) b++;
    kept.push(corners[b]);
    a = b;
  }
  return kept;
}

function between(c: readonly Corner[], a: number, b: number, radius: number): boolean {
  const dx = c[b].x - c[a].x;
  const dt = (c[b].theta - c[a].theta) * radius;
  const length = Math.hypot(dx, dt);
  for (let k = a + 1; k < b; k++) {
    const px = c[k].x - c[a].x;
    const pt = (c[k].theta - c[a].theta) * radius;
    if (Math.abs(px * dt - pt * dx) > STRAIGHT * length) return false;
  }
  return true;
}

/**
 * Samples a track: evenly, at given places along x, and finer wherever the height is not straight.
 * @param corners the track @param radius of the work, mm: turns θ into length @param spacing of the first samples, mm
 * @param places x at which a sample must lie, mm
 */
export function sampleTrack(
  contact: Heights,
  corners: readonly Corner[],
  radius: number,
  spacing: number,
  places: readonly number[],
  sampling: Sampling,
): Samples {
  const points: Point[] = [];
  let gone = 0;
  for (let k = 0; k + 1 < corners.length; k++) {
    const a = corners[k];
    const b = corners[k + 1];
    const length = Math.hypot(b.x - a.x, (b.theta - a.theta) * radius);
    if (length < 1e-9) continue;
    const n = Math.max(1, Math.ceil(length / spacing));
    const shares = Array.from({ length: n }, (_, i) => i / n);
    for (const p of places) {
      const s = (p - a.x) / (b.x - a.x);
      if (s > 1e-6 && s < 1 - 1e-6) shares.push(s);
    }
    shares.sort((p, q) => p - q);
    let last = -1;
    for (const s of shares) {
      if (last >= 0 && (s - last) * length < 1e-6) continue;
      const [x, theta] = [a.x + (b.x - a.x) * s, a.theta + (b.theta - a.theta) * s];
      points.push({ run: gone + s * length, theta, x, floor: 0, knot: s === 0 ? 1 : 0 });
      last = s;
    }
    gone += length;
  }
  const end = corners.at(-1);
  if (end) points.push({ run: gone, theta: end.theta, x: end.x, floor: 0, knot: 1 });
  return settle(contact, points, sampling);
}
