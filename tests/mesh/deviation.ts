/** How far a mesh lies from its field, at seeded points spread over its triangles. */
import type { Mesh } from '../../src/mesh/mesh.ts';
import type { Field } from '../../src/profiles/field.ts';

/** Distance from (x, y, z) to the field's surface by a shrinking search from the point below it, between the
 * breaks around it, mm; never too small. */
function distance(field: Field, x: number, y: number, z: number): number {
  const off = (u: number, t: number) => {
    const r = field.radius(u, t);
    return Math.hypot(u - x, -r * Math.sin(t) - y, r * Math.cos(t) - z);
  };
  let [u, t] = [x, Math.atan2(-y, z)];
  const r = Math.hypot(y, z);
  const cuts = [field.from, ...field.breaks.map((b) => b.x), field.to];
  const low = Math.max(...cuts.filter((c) => c <= x));
  const high = Math.min(...cuts.filter((c) => c > low), field.to);
  let least = off(u, t);
  for (let step = least / 4; step > 1e-5; ) {
    const before = least;
    for (const [du, dt] of [
      [step, 0],
      [-step, 0],
      [0, step / r],
      [0, -step / r],
    ] as const) {
      const there = u + du < low || u + du > high ? Infinity : off(u + du, t + dt);
      if (there >= least) continue;
      least = there;
      u += du;
      t += dt;
    }
    if (least === before) step /= 2;
  }
  return least;
}

/** Largest distance from mesh to field, mm. Facets square to the axis (caps, washers) are left out. */
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
    const [a, b, c] = [0, 1, 2].map((i) => 3 * t[f + i]!) as [number, number, number];
    let [u, v] = [random(), random()];
    if (u + v > 1) [u, v] = [1 - u, 1 - v];
    if (Math.abs(p[a]! - p[b]!) < 1e-4 && Math.abs(p[a]! - p[c]!) < 1e-4) continue;
    const [x, y, z] = [0, 1, 2].map((j) => p[a + j]! * (1 - u - v) + p[b + j]! * u + p[c + j]! * v) as [
      number,
      number,
      number,
    ];
    // The radial distance bounds the true one, so most points need no search.
    if (Math.abs(field.radius(x, Math.atan2(-y, z)) - Math.hypot(y, z)) > worst)
      worst = Math.max(worst, distance(field, x, y, z));
  }
  return worst;
}
