/** A track along the work that is not wound: points in (x, θ) followed by the tip as low as the work allows, for strokes and grooves. */
import type { Heights } from '../contact-heights.ts';
import type { Samples } from '../thin.ts';

/** A corner of a track. */
export interface Corner {
  readonly x: number;
  /** Radians, unwrapped. */
  readonly theta: number;
}

/** A step between neighbouring samples steeper than this counts as a wall: both take its higher side. */
const STEEP = 3;
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
 * Samples a track: evenly, and at given places along x.
 * @param corners the track @param radius of the work, mm: turns θ into length @param spacing of samples, mm
 * @param places x at which a sample must lie, mm @param guard added to every height, mm
 */
export function sampleTrack(
  contact: Heights,
  corners: readonly Corner[],
  radius: number,
  spacing: number,
  places: readonly number[],
  guard: number,
): Samples {
  const run: number[] = [];
  const xs: number[] = [];
  const thetas: number[] = [];
  const knots: number[] = [];
  let gone = 0;
  const add = (a: Corner, b: Corner, s: number, length: number, knot: number) => {
    run.push(gone + s * length);
    xs.push(a.x + (b.x - a.x) * s);
    thetas.push(a.theta + (b.theta - a.theta) * s);
    knots.push(knot);
  };
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
      if ((s - last) * length < 1e-6 && last >= 0) continue;
      add(a, b, s, length, s === 0 ? 1 : 0);
      last = s;
    }
    gone += length;
  }
  const end = corners.at(-1);
  if (end) {
    run.push(gone);
    xs.push(end.x);
    thetas.push(end.theta);
    knots.push(1);
  }
  const x = Float64Array.from(xs);
  const theta = Float64Array.from(thetas);
  const low = new Float64Array(x.length);
  contact.along(x, theta, low);
  const raised = low.slice();
  for (let i = 0; i + 1 < low.length; i++)
    if (Math.abs(low[i + 1] - low[i]) > STEEP * (run[i + 1] - run[i])) {
      const top = Math.max(low[i], low[i + 1]);
      raised[i] = Math.max(raised[i], top);
      raised[i + 1] = Math.max(raised[i + 1], top);
    }
  for (let i = 0; i < low.length; i++) raised[i] += guard;
  return { run: Float64Array.from(run), theta, x, low: raised, knot: Uint8Array.from(knots) };
}
