/**
 * Triangles between two rings, and what a flat triangle misses of the surface.
 *
 * Guarantees: whatever the choice of diagonals, every triangle between rings at x0 < x1 is turned the same way in
 * (x, angle), so sections between the rings are star polygons about the axis and nothing cuts itself.
 */
import { TURN } from '../../shared/units.ts';
import type { Surface } from '../profiles/field.ts';
import type { Ring, Strip } from './rings.ts';

/** Points of the mesh while it is built; stride 1 each. */
export interface Points {
  x: Float64Array;
  y: Float64Array;
  z: Float64Array;
  /** How firmly a point stands: 0 free, 1 arris or break, 2 where both meet. */
  lock: Uint8Array;
  /** Volume that the triangles around miss, as mm × mm² summed over their edges. */
  missing: Float64Array;
  /** Projected area of the triangles around, mm². */
  area: Float64Array;
  /** Largest cosine of the slope along x of the edges around: what a shift along the radius counts square to the surface. */
  tilt: Float64Array;
}

/** Edges between the two rings in the order they were made; triangle k lies between edge k and edge k + 1 (cyclic). */
export interface Zip {
  low: Uint32Array;
  high: Uint32Array;
}

/** Joins two rings; of two ways on, the shorter edge is taken. @returns edges as point numbers within each ring */
export function zip(strip: Strip, lower: Ring, upper: Ring, pts: Points, lowStart: number, highStart: number): Zip {
  const [n, m] = [lower.phi.length, upper.phi.length];
  const low = new Uint32Array(n + m);
  const high = new Uint32Array(n + m);
  const { x, y, z } = pts;
  const square = (i: number, k: number) => {
    const [u, v] = [lowStart + i, highStart + k];
    return (x[u]! - x[v]!) ** 2 + (y[u]! - y[v]!) ** 2 + (z[u]! - z[v]!) ** 2;
  };
  let count = 0;
  const columns = strip.p.length;
  for (let j = 0; j < columns; j++) {
    const j1 = j + 1 < columns ? j + 1 : 0;
    let i = strip.p[j]!;
    let k = strip.q[j]!;
    const [iEnd, kEnd] = [strip.p[j1]!, strip.q[j1]!];
    while (i !== iEnd || k !== kEnd) {
      low[count] = i;
      high[count++] = k;
      const i1 = i + 1 < n ? i + 1 : 0;
      const k1 = k + 1 < m ? k + 1 : 0;
      if (k === kEnd || (i !== iEnd && square(i1, k) < square(i, k1) * (1 - 1e-9))) i = i1;
      else k = k1;
    }
  }
  return count === n + m ? { low, high } : { low: low.slice(0, count), high: high.slice(0, count) };
}

/** Puts what an edge misses to the account of its freer end; equals share. */
function charge(pts: Points, u: number, v: number, amount: number): void {
  const d = pts.lock[u]! - pts.lock[v]!;
  if (d === 0) {
    pts.missing[u] = pts.missing[u]! + amount / 2;
    pts.missing[v] = pts.missing[v]! + amount / 2;
  } else {
    const w = d < 0 ? u : v;
    pts.missing[w] = pts.missing[w]! + amount;
  }
}

/** How far the surface lies outside the middle of each chord of a ring, mm. */
export function ringGaps(surface: Surface, ring: Ring, round: boolean): Float64Array {
  const n = ring.phi.length;
  const gaps = new Float64Array(n);
  const theta = new Float64Array(n);
  for (let j = 0; j < n; j++) {
    const k = j + 1 < n ? j + 1 : 0;
    const wide = ring.phi[k]! - ring.phi[j]! + (k === 0 ? TURN : 0);
    const [a, b] = [ring.r[j]!, ring.r[k]!];
    const [along, across] = [a + b * Math.cos(wide), b * Math.sin(wide)];
    gaps[j] = -Math.hypot(along, across) / 2;
    theta[j] = ring.phi[j]! + ring.turn + Math.atan2(across, along);
  }
  const out = new Float64Array(n);
  if (round) out.fill(ring.r[0]!);
  else surface.ring(ring.x, theta, out, ring.side);
  for (let j = 0; j < n; j++) gaps[j] = gaps[j]! + out[j]!;
  return gaps;
}

/**
 * Books what a strip's triangles miss of the surface. The integral of a quadratic over a triangle is a third of its area
 * times the sum over its edge middles, so three gaps a triangle suffice.
 */
export function book(
  surface: Surface,
  strip: Strip,
  zipped: Zip,
  lower: Ring,
  upper: Ring,
  lowStart: number,
  highStart: number,
  lowGaps: Float64Array,
  highGaps: Float64Array,
  pts: Points,
): void {
  const { low, high } = zipped;
  const count = low.length;
  const theta = new Float64Array(count);
  const gap = new Float64Array(count);
  const { y, z } = pts;
  const xm = (lower.x + upper.x) / 2;
  const round = strip.kind === 'round';
  for (let e = 0; e < count; e++) {
    const [u, v] = [lowStart + low[e]!, highStart + high[e]!];
    const [ym, zm] = [(y[u]! + y[v]!) / 2, (z[u]! + z[v]!) / 2];
    gap[e] = -Math.sqrt(ym * ym + zm * zm);
    if (!round) theta[e] = Math.atan2(-ym, zm);
  }
  const r = new Float64Array(count);
  if (round) r.fill(surface.radius(xm, 0));
  else surface.ring(xm, theta, r);
  for (let e = 0; e < count; e++) gap[e] = gap[e]! + r[e]!;
  const dx = upper.x - lower.x;
  for (let e = 0; e < count; e++) {
    const [u, v] = [lowStart + low[e]!, highStart + high[e]!];
    const rise = upper.r[high[e]!]! - lower.r[low[e]!]!;
    const flat = dx / Math.sqrt(dx * dx + rise * rise);
    pts.tilt[u] = Math.max(pts.tilt[u]!, flat);
    pts.tilt[v] = Math.max(pts.tilt[v]!, flat);
  }
  for (let e = 0; e < count; e++) {
    const f = e + 1 < count ? e + 1 : 0;
    const up = low[e] === low[f];
    const ring = up ? upper : lower;
    const j = up ? high[e]! : low[e]!;
    const k = up ? high[f]! : low[f]!;
    const wide = ring.phi[k]! - ring.phi[j]! + (k < j ? TURN : 0);
    const [u0, v0, u1, v1] = [lowStart + low[e]!, highStart + high[e]!, lowStart + low[f]!, highStart + high[f]!];
    const area = (dx * wide * (ring.r[j]! + ring.r[k]!)) / 4;
    charge(pts, u0, v0, gap[e]! * area);
    charge(pts, u1, v1, gap[f]! * area);
    if (up) charge(pts, v0, v1, highGaps[j]! * area);
    else charge(pts, u0, u1, lowGaps[j]! * area);
    pts.area[u0] = pts.area[u0]! + area;
    pts.area[v0] = pts.area[v0]! + area;
    const third = up ? v1 : u1;
    pts.area[third] = pts.area[third]! + area;
  }
}
