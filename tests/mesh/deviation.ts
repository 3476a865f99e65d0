/** How far a mesh lies from its field, at seeded points spread over its triangles. */
import type { Mesh } from '../../src/mesh/mesh.ts';
import type { Field } from '../../src/profiles/field.ts';

/**
 * Largest distance, mm: the radial distance times the cosine between the facet's normal and the radius, which is the
 * distance to a surface that runs alongside. Facets square to the axis (caps, washers) are left out.
 */
export function deviation(field: Field, mesh: Mesh, points: number, seed: number): number {
  let state = seed;
  const random = () => {
    state = (state * 16807) % 2147483647;
    return state / 2147483647;
  };
  const { positions: p, triangles: t } = mesh;
  let worst = 0;
  for (let k = 0; k < points; k++) {
    const f = 3 * Math.floor(random() * (t.length / 3));
    const [a, b, c] = [0, 1, 2].map((i) => [0, 1, 2].map((j) => p[3 * t[f + i]! + j]!)) as [
      number[],
      number[],
      number[],
    ];
    let [u, v] = [random(), random()];
    if (u + v > 1) [u, v] = [1 - u, 1 - v];
    const [x, y, z] = [0, 1, 2].map((j) => a[j]! * (1 - u - v) + b[j]! * u + c[j]! * v) as [number, number, number];
    const e = b.map((q, j) => q - a[j]!);
    const g = c.map((q, j) => q - a[j]!);
    const n = [e[1]! * g[2]! - e[2]! * g[1]!, e[2]! * g[0]! - e[0]! * g[2]!, e[0]! * g[1]! - e[1]! * g[0]!];
    const long = Math.hypot(...n);
    const r = Math.hypot(y, z);
    if (long === 0 || Math.abs(n[0]!) > 0.9999 * long) continue;
    const tilt = Math.abs(n[1]! * y + n[2]! * z) / (long * r);
    worst = Math.max(worst, Math.abs(field.radius(x, Math.atan2(-y, z)) - r) * tilt);
  }
  return worst;
}
