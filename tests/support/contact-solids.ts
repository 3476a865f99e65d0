/**
 * Meshes of a bit and of the stretch of a part under it, in the bit's own frame (its axis is z), for an arbiter that
 * knows nothing of radii over angles. The part's vertices lie on its surface and the bit's on its profile.
 */
import type { Bit } from '../../shared/catalog.ts';
import { TURN } from '../../shared/units.ts';
import type { Side, Surface } from '../../src/profiles/field.ts';
import { underside } from './oracle.ts';

export interface Triangles {
  points: Float32Array;
  corners: Uint32Array;
}

/** Closes a net of rows × cols points, and one of the same size under it, into one shell. */
function shell(top: number[][][], under: number[][][]): Triangles {
  const rows = top.length;
  const cols = top[0]!.length;
  const n = rows * cols;
  const points = new Float32Array([...top, ...under].flat(2));
  const corners: number[] = [];
  const quad = (a: number, b: number, c: number, d: number) => corners.push(a, b, c, a, c, d);
  for (let i = 0; i + 1 < rows; i++)
    for (let j = 0; j + 1 < cols; j++) {
      const a = i * cols + j;
      quad(a, a + cols, a + cols + 1, a + 1);
      quad(n + a, n + a + 1, n + a + cols + 1, n + a + cols);
    }
  for (let i = 0; i + 1 < rows; i++) {
    const a = i * cols;
    quad(a, n + a, n + a + cols, a + cols);
    const b = a + cols - 1;
    quad(b, b + cols, n + b + cols, n + b);
  }
  for (let j = 0; j + 1 < cols; j++) {
    quad(j, j + 1, n + j + 1, n + j);
    const b = (rows - 1) * cols + j;
    quad(b, n + b, n + b + 1, b + 1);
  }
  return { points, corners: Uint32Array.from(corners) };
}

/** The part under a bit of radius R at (x, θ): a wedge of it that reaches a little farther than the bit. */
export function slab(surface: Surface, x: number, theta: number, R: number, spacing = 0.1): Triangles {
  const x0 = Math.max(surface.from, x - R - 0.3);
  const x1 = Math.min(surface.to, x + R + 0.3);
  const rows: { x: number; side: Side; at: number }[] = [];
  const n = Math.ceil((x1 - x0) / spacing);
  for (let i = 0; i <= n; i++) {
    const at = x0 + ((x1 - x0) * i) / n;
    if (!surface.breaks.some((b) => Math.abs(b.x - at) < 0.001)) rows.push({ x: at, side: 0, at });
  }
  // The two sides of a wall stand a hair apart, the gap on its lower side.
  for (const b of surface.breaks)
    if (b.x > x0 && b.x < x1) {
      const falls = surface.radius(b.x, theta, -1) > surface.radius(b.x, theta, 1);
      rows.push({ x: b.x, side: -1, at: b.x - (falls ? 0 : 2e-4) }, { x: b.x, side: 1, at: b.x + (falls ? 2e-4 : 0) });
    }
  rows.sort((p, q) => p.at - q.at);
  let least = Infinity;
  for (const row of rows)
    for (let j = 0; j < 90; j++) least = Math.min(least, surface.radius(row.x, (j * TURN) / 90, row.side));
  const wide = Math.min(1.4, Math.asin(Math.min(1, R / least)) + 0.1);
  const cols = Math.ceil((2 * wide * surface.maxRadius) / spacing);
  const net = (radius: (row: (typeof rows)[number], angle: number) => number) =>
    rows.map((row) =>
      Array.from({ length: cols + 1 }, (_, j) => {
        const delta = -wide + (2 * wide * j) / cols;
        const r = radius(row, theta + delta);
        // θ is right-handed about +x: a point of the part is (x, −r·sin, r·cos).
        return [row.at, -r * Math.sin(delta), r * Math.cos(delta)];
      }),
    );
  const sunk = net(() => 0.4 * least);
  const up = net((row, angle) => surface.radius(row.x, angle, row.side));
  return shell(
    up.map((row) => row.reverse()),
    sunk.map((row) => row.reverse()),
  );
}

/** The bit with its tip at (x, 0, z), turned in `segments`. */
export function bitSolid(bit: Bit, x: number, z: number, segments = 192): Triangles {
  const R = bit.diameter / 2;
  const outline: [number, number][] = [];
  const n = 48;
  // Crowded towards the rim, where a ball stands upright.
  for (let i = 1; i <= n; i++) {
    const d = R * Math.sin((i / n) * (TURN / 4));
    outline.push([d, underside(bit, Math.min(d, R))]);
  }
  outline.push([R, underside(bit, R) + 30]);
  const points = [x, 0, z];
  for (const [d, h] of outline)
    for (let j = 0; j < segments; j++)
      points.push(x + d * Math.cos((j * TURN) / segments), d * Math.sin((j * TURN) / segments), z + h);
  points.push(x, 0, z + outline.at(-1)![1]);
  const corners: number[] = [];
  const ring = (k: number, j: number) => 1 + k * segments + (j % segments);
  const last = points.length / 3 - 1;
  for (let j = 0; j < segments; j++) {
    corners.push(0, ring(0, j + 1), ring(0, j));
    for (let k = 0; k + 1 < outline.length; k++)
      corners.push(ring(k, j), ring(k, j + 1), ring(k + 1, j + 1), ring(k, j), ring(k + 1, j + 1), ring(k + 1, j));
    corners.push(last, ring(outline.length - 1, j), ring(outline.length - 1, j + 1));
  }
  return { points: Float32Array.from(points), corners: Uint32Array.from(corners) };
}
