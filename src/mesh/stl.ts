/**
 * Binary STL, written and read. Layout after the StereoLithography Interface Specification (3D Systems, October 1989):
 * 80 bytes of header, count, 50 bytes a facet, little-endian. The format has no unit: ours is mm.
 */
import { type Mesh, massOfMesh } from './mesh.ts';
import { fileProblem, type Reading } from './reading.ts';

const HEADER = 80;
const FACET = 50;
/** Must not begin with "solid", which is how readers tell the text form. */
const TITLE = 'binary STL, millimetres, x along the rotary axis';

/** Writes a mesh. Coordinates are rounded to 32 bits; normals are those of the rounded corners. @returns 84 + 50 n bytes */
export function writeStl(mesh: Mesh): Uint8Array {
  const { positions: p, triangles: t } = mesh;
  const n = t.length / 3;
  const bytes = new Uint8Array(HEADER + 4 + FACET * n);
  const view = new DataView(bytes.buffer);
  for (let k = 0; k < TITLE.length; k++) bytes[k] = TITLE.charCodeAt(k);
  view.setUint32(HEADER, n, true);
  const c = new Float32Array(9);
  for (let f = 0; f < n; f++) {
    for (let v = 0; v < 3; v++) for (let k = 0; k < 3; k++) c[3 * v + k] = p[3 * t[3 * f + v]! + k]!;
    const [ux, uy, uz] = [c[3]! - c[0]!, c[4]! - c[1]!, c[5]! - c[2]!];
    const [wx, wy, wz] = [c[6]! - c[0]!, c[7]! - c[1]!, c[8]! - c[2]!];
    const [nx, ny, nz] = [uy * wz - uz * wy, uz * wx - ux * wz, ux * wy - uy * wx];
    const long = Math.sqrt(nx * nx + ny * ny + nz * nz) || 1;
    const at = HEADER + 4 + FACET * f;
    view.setFloat32(at, nx / long, true);
    view.setFloat32(at + 4, ny / long, true);
    view.setFloat32(at + 8, nz / long, true);
    for (let k = 0; k < 9; k++) view.setFloat32(at + 12 + 4 * k, c[k]!, true);
  }
  return bytes;
}

/** Reads a binary STL; corners with the same coordinates become one point. Text STL is refused with a problem. */
export function readStl(bytes: Uint8Array): Reading {
  const bad = (message: string, allowed?: string): Reading => ({ problems: [fileProblem('STL', message, allowed)] });
  if (bytes.length < HEADER + 4)
    return bad(`${bytes.length} bytes are too few for a header and a count`, 'at least 84 bytes');
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const n = view.getUint32(HEADER, true);
  if (bytes.length !== HEADER + 4 + FACET * n) {
    const text = String.fromCharCode(...bytes.subarray(0, 5)) === 'solid';
    return text
      ? bad('this is the text form of STL', 'the binary form')
      : bad(`the count says ${n} facets, the file holds ${(bytes.length - HEADER - 4) / FACET}`, '84 + 50 n bytes');
  }
  if (n === 0) return bad('the file holds no facet', 'at least four facets');
  const coordinates: number[] = [];
  const triangles = new Uint32Array(3 * n);
  const known = new Map<number, Map<number, Map<number, number>>>();
  const point = (x: number, y: number, z: number): number => {
    const byZ = entry(
      entry(known, x, () => new Map<number, Map<number, number>>()),
      y,
      () => new Map<number, number>(),
    );
    return entry(byZ, z, () => coordinates.push(x, y, z) / 3 - 1);
  };
  for (let f = 0; f < n; f++)
    for (let v = 0; v < 3; v++) {
      const at = HEADER + 16 + FACET * f + 12 * v;
      const [x, y, z] = [view.getFloat32(at, true), view.getFloat32(at + 4, true), view.getFloat32(at + 8, true)];
      if (!Number.isFinite(x + y + z)) return bad(`facet ${f + 1} has a coordinate that is no finite number`);
      triangles[3 * f + v] = point(x, y, z);
    }
  const positions = Float32Array.from(coordinates);
  return { mesh: { positions, triangles, outward: massOfMesh({ positions, triangles }).volume > 0 }, problems: [] };
}

/** What a map holds for a key, made if it is not there yet; −0 and 0 are one key. */
function entry<V>(map: Map<number, V>, key: number, make: () => V): V {
  let found = map.get(key);
  if (found === undefined) {
    found = make();
    map.set(key, found);
  }
  return found;
}
