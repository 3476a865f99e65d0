/** Round rods as meshes: tenons, bores and holes, before they are added to a part or taken from it. */
import { TURN } from '../../shared/units.ts';
import { roundColumns } from './columns.ts';
import type { Mesh } from './mesh.ts';

/** A straight round rod in the part frame. */
export interface Rod {
  /** Centres of the two ends, x, y, z in mm. */
  from: readonly [number, number, number];
  to: readonly [number, number, number];
  /** mm. */
  radius: number;
}

/**
 * A rod's mesh, closed, with flat ends. Its polygon has the area of the circle.
 * @param chord sagitta of its facets, mm
 */
export function rodMesh(rod: Rod, chord: number): Mesh {
  const n = roundColumns(rod.radius, chord);
  const r = rod.radius * Math.sqrt(TURN / n / Math.sin(TURN / n));
  const d = [rod.to[0] - rod.from[0], rod.to[1] - rod.from[1], rod.to[2] - rod.from[2]] as const;
  const length = Math.hypot(...d);
  const w = d.map((c) => c / length) as [number, number, number];
  // u, v, w right-handed: u square to the rod, made from the frame's axis that lies farthest from it.
  const e: [number, number, number] = Math.abs(w[0]) < 0.7 ? [1, 0, 0] : [0, 1, 0];
  const dot = e[0] * w[0] + e[1] * w[1] + e[2] * w[2];
  const square = e.map((c, k) => c - dot * w[k]!) as [number, number, number];
  const long = Math.hypot(...square);
  const u = square.map((c) => c / long) as [number, number, number];
  const v = [w[1] * u[2] - w[2] * u[1], w[2] * u[0] - w[0] * u[2], w[0] * u[1] - w[1] * u[0]];
  const positions = new Float64Array(6 * n + 6);
  const triangles: number[] = [];
  for (let j = 0; j < n; j++) {
    const [c, s] = [r * Math.cos((j * TURN) / n), r * Math.sin((j * TURN) / n)];
    const k = (j + 1) % n;
    for (let i = 0; i < 3; i++) {
      positions[3 * j + i] = rod.from[i]! + c * u[i]! + s * v[i]!;
      positions[3 * (n + j) + i] = rod.to[i]! + c * u[i]! + s * v[i]!;
    }
    triangles.push(j, k, n + j, k, n + k, n + j, 2 * n, k, j, 2 * n + 1, n + j, n + k);
  }
  positions.set(rod.from, 6 * n);
  positions.set(rod.to, 6 * n + 3);
  return { positions, triangles: Uint32Array.from(triangles), outward: true };
}

/** Smallest distance between the axes of two rods, mm. */
export function axesApart(a: Rod, b: Rod): number {
  const at = (r: Rod, t: number) => r.from.map((c, k) => c + t * (r.to[k]! - c)) as [number, number, number];
  const nearestOn = (r: Rod, p: readonly number[]) => {
    const d = r.to.map((c, k) => c - r.from[k]!);
    const t = d.reduce((s, c, k) => s + c * (p[k]! - r.from[k]!), 0) / d.reduce((s, c) => s + c * c, 0);
    return Math.min(1, Math.max(0, t));
  };
  // The distance is convex over both lengths, so going to and fro between them ends at the least.
  let t = 0.5;
  let least = Infinity;
  for (let k = 0; k < 200; k++) {
    const p = at(a, t);
    const q = at(b, nearestOn(b, p));
    t = nearestOn(a, q);
    const d = Math.hypot(...at(a, t).map((c, i) => c - q[i]!));
    if (least - d < 1e-12) return Math.min(least, d);
    least = d;
  }
  return least;
}
