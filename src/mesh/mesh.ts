/** A closed triangle mesh in the part frame: what is drawn, written to files, and handed to the solid kernel. */

/** Triangles that bound one solid. */
export interface Mesh {
  /** Points, stride 3: x, y, z in mm, part frame: (x, −r·sin θ, r·cos θ). */
  readonly positions: Float32Array | Float64Array;
  /** Point numbers, stride 3, from 0. */
  readonly triangles: Uint32Array;
  /** Whether the triangles run counter-clockwise seen from outside, so that the signed volume is positive. */
  readonly outward: boolean;
}

/** Signed volume, area and centre of volume of a closed mesh. */
export interface MeshMass {
  /** mm³; negative if the mesh is inside out. */
  volume: number;
  /** mm². */
  area: number;
  /** x, y, z in mm; the origin where the volume is zero. */
  centre: [number, number, number];
}

/**
 * Volume by the divergence theorem (sum of signed tetrahedra), area, and centre of volume.
 * @param mesh closed; an open one gives a number that means nothing
 */
export function massOfMesh(mesh: Pick<Mesh, 'positions' | 'triangles'>): MeshMass {
  const { positions: p, triangles: t } = mesh;
  let six = 0;
  let twice = 0;
  let [cx, cy, cz] = [0, 0, 0];
  // Measured from a point of the mesh, so that a far-off part loses no digits.
  const [ox, oy, oz] = p.length >= 3 ? [p[0]!, p[1]!, p[2]!] : [0, 0, 0];
  for (let k = 0; k < t.length; k += 3) {
    const [a, b, c] = [3 * t[k]!, 3 * t[k + 1]!, 3 * t[k + 2]!];
    const [ax, ay, az] = [p[a]! - ox, p[a + 1]! - oy, p[a + 2]! - oz];
    const [bx, by, bz] = [p[b]! - ox, p[b + 1]! - oy, p[b + 2]! - oz];
    const [dx, dy, dz] = [p[c]! - ox, p[c + 1]! - oy, p[c + 2]! - oz];
    const v = ax * (by * dz - bz * dy) + ay * (bz * dx - bx * dz) + az * (bx * dy - by * dx);
    six += v;
    cx += v * (ax + bx + dx);
    cy += v * (ay + by + dy);
    cz += v * (az + bz + dz);
    const [ux, uy, uz] = [bx - ax, by - ay, bz - az];
    const [wx, wy, wz] = [dx - ax, dy - ay, dz - az];
    twice += Math.hypot(uy * wz - uz * wy, uz * wx - ux * wz, ux * wy - uy * wx);
  }
  const centre: [number, number, number] =
    six === 0 ? [0, 0, 0] : [ox + cx / (4 * six), oy + cy / (4 * six), oz + cz / (4 * six)];
  return { volume: six / 6, area: twice / 2, centre };
}

/**
 * Edges that do not belong to exactly two triangles which run along them in opposite directions.
 * @returns how many directed edges lack their partner or occur twice; 0 for a closed, evenly wound mesh
 */
export function looseEdges(mesh: Pick<Mesh, 'positions' | 'triangles'>): number {
  const n = mesh.positions.length / 3;
  const t = mesh.triangles;
  const seen = new Map<number, number>();
  for (let k = 0; k < t.length; k += 3)
    for (let e = 0; e < 3; e++) {
      const key = t[k + e]! * n + t[k + ((e + 1) % 3)]!;
      seen.set(key, (seen.get(key) ?? 0) + 1);
    }
  let loose = 0;
  for (const [key, count] of seen) {
    const [from, to] = [Math.floor(key / n), key % n];
    if (count !== 1 || from === to || seen.get(to * n + from) !== 1) loose++;
  }
  return loose;
}

/** A coordinate as text. Nine digits tell any two 32-bit numbers apart, so rounding them to 32 bits gives the same back. */
export const coordinateText = (positions: Mesh['positions'], k: number): string =>
  String(positions instanceof Float32Array ? Number(positions[k]!.toPrecision(9)) : positions[k]!);
