/** Normals for light: smooth over what is curved, split where two faces meet at an angle that a hand would feel. */
import type { Mesh } from '../../mesh/mesh.ts';
import type { Shape } from '../state/contract.ts';

/** Faces that meet at less than this are one surface, cosine of 32°. */
const SMOOTH = Math.cos((32 * Math.PI) / 180);
/** Most groups of faces about one vertex that are told apart. */
const MOST_GROUPS = 8;

/** Working room, used anew at every step of a slider: kept between calls, so that it need not be swept up. */
const scratch = {
  /** Normals of the faces, as long as twice their area, and of length 1. */
  faces: new Float32Array(0),
  unit: new Float32Array(0),
  /** Of every group: the sum of its faces' normals, whose vertex it is, its first face, the next group of that vertex. */
  sums: new Float32Array(0),
  origin: new Uint32Array(0),
  leader: new Int32Array(0),
  next: new Int32Array(0),
};

/** Room for so many groups, what is in it kept. */
function makeRoom(groups: number): void {
  const grown = <A extends Float32Array | Uint32Array | Int32Array>(from: A, to: A): A => {
    to.set(from);
    return to;
  };
  scratch.sums = grown(scratch.sums, new Float32Array(3 * groups));
  scratch.origin = grown(scratch.origin, new Uint32Array(groups));
  scratch.leader = grown(scratch.leader, new Int32Array(groups));
  scratch.next = grown(scratch.next, new Int32Array(groups));
}

/**
 * Splits the vertices of a closed mesh along its arrises. A vertex's faces are put into groups, each face to the first
 * group whose first face lies within 32°; every group becomes a vertex with the area-weighted mean normal.
 * @param shape positions mm, stride 3; triangles stride 3, outward
 */
export function lit(shape: Pick<Mesh, 'positions' | 'triangles'>): Shape {
  const { positions, triangles } = shape;
  const corners = triangles.length;
  const count = positions.length / 3;
  if (scratch.faces.length < corners) {
    scratch.faces = new Float32Array(corners + (corners >> 1));
    scratch.unit = new Float32Array(corners + (corners >> 1));
  }
  const { faces, unit } = scratch;
  for (let t = 0; t < corners; t += 3) {
    const a = 3 * triangles[t]!;
    const b = 3 * triangles[t + 1]!;
    const c = 3 * triangles[t + 2]!;
    const ax = positions[a]!;
    const ay = positions[a + 1]!;
    const az = positions[a + 2]!;
    const ux = positions[b]! - ax;
    const uy = positions[b + 1]! - ay;
    const uz = positions[b + 2]! - az;
    const vx = positions[c]! - ax;
    const vy = positions[c + 1]! - ay;
    const vz = positions[c + 2]! - az;
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    faces[t] = nx;
    faces[t + 1] = ny;
    faces[t + 2] = nz;
    const long = 1 / (Math.sqrt(nx * nx + ny * ny + nz * nz) || 1);
    unit[t] = nx * long;
    unit[t + 1] = ny * long;
    unit[t + 2] = nz * long;
  }
  // Groups of a vertex hang on it as a list: leader face, next group.
  if (scratch.leader.length < count) makeRoom(count + (count >> 1));
  let { sums, origin, leader, next } = scratch;
  sums.fill(0);
  leader.fill(-1);
  next.fill(-1);
  for (let v = 0; v < count; v++) origin[v] = v;
  let used = count;
  const out = new Uint32Array(corners);
  for (let k = 0; k < corners; k++) {
    const t = k - (k % 3);
    let g = triangles[k]!;
    for (let tries = 1; ; tries++) {
      const first = leader[g]!;
      if (first < 0) {
        leader[g] = t;
        break;
      }
      if (unit[t]! * unit[first]! + unit[t + 1]! * unit[first + 1]! + unit[t + 2]! * unit[first + 2]! >= SMOOTH) break;
      if (tries === MOST_GROUPS) break;
      if (next[g]! < 0) {
        if (used === leader.length) {
          makeRoom(2 * used);
          ({ sums, origin, leader, next } = scratch);
          leader.fill(-1, used);
          next.fill(-1, used);
        }
        origin[used] = triangles[k]!;
        next[g] = used++;
      }
      g = next[g]!;
    }
    sums[3 * g] = sums[3 * g]! + faces[t]!;
    sums[3 * g + 1] = sums[3 * g + 1]! + faces[t + 1]!;
    sums[3 * g + 2] = sums[3 * g + 2]! + faces[t + 2]!;
    out[k] = g;
  }
  const place = new Float32Array(3 * used);
  place.set(positions);
  for (let v = count; v < used; v++) {
    const o = 3 * origin[v]!;
    place[3 * v] = positions[o]!;
    place[3 * v + 1] = positions[o + 1]!;
    place[3 * v + 2] = positions[o + 2]!;
  }
  const normals = sums.slice(0, 3 * used);
  for (let v = 0; v < normals.length; v += 3) {
    const long = 1 / (Math.sqrt(normals[v]! ** 2 + normals[v + 1]! ** 2 + normals[v + 2]! ** 2) || 1);
    normals[v] = normals[v]! * long;
    normals[v + 1] = normals[v + 1]! * long;
    normals[v + 2] = normals[v + 2]! * long;
  }
  return { positions: place, normals, triangles: out };
}
