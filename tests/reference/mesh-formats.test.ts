/** The rules of the mesh formats, each with the document that lays it down, checked on the bytes that are written. */
import { strFromU8, unzipSync } from 'fflate';
import { describe, expect, test } from 'vitest';
import { type Mesh, massOfMesh } from '../../src/mesh/mesh.ts';
import { meshOf } from '../../src/mesh/mesh-of.ts';
import { writeObj } from '../../src/mesh/obj.ts';
import { readStl, writeStl } from '../../src/mesh/stl.ts';
import { read3mf, write3mf } from '../../src/mesh/threemf.ts';
import { elementsOf } from '../../src/mesh/xml.ts';
import { squareToRound } from '../mesh/hard-fields.ts';
import { fluted, prism } from '../support/fields.ts';

const parts: [string, Mesh][] = [
  ['a prism', meshOf(prism(50, 20))],
  ['twisted flutes', meshOf(fluted(40, 15, 8, 2, 3, 0.25), { tolerance: 0.1 })],
  ['a square that steps to a round', meshOf(squareToRound(20, 24))],
];

/** A cube of twelve facets, corner at the origin. */
const cube: Mesh = {
  positions: Float32Array.from([0, 1, 2, 3, 4, 5, 6, 7].flatMap((k) => [k & 1, (k >> 1) & 1, k >> 2])),
  triangles: Uint32Array.from([
    0, 2, 1, 1, 2, 3, 4, 5, 6, 5, 7, 6, 0, 1, 4, 1, 5, 4, 2, 6, 3, 3, 6, 7, 0, 4, 2, 2, 4, 6, 1, 3, 5, 3, 7, 5,
  ]),
  outward: true,
};

describe('binary STL: StereoLithography Interface Specification, 3D Systems, October 1989; Library of Congress fdd000505', () => {
  test('twelve facets take 684 bytes, twenty thousand 1,000,084: 84 + 50 n', () => {
    expect(writeStl(cube).length).toBe(684);
    const many: Mesh = { ...cube, triangles: Uint32Array.from({ length: 60_000 }, (_, k) => cube.triangles[k % 36]!) };
    expect(writeStl(many).length).toBe(1_000_084);
  });

  test.each(parts)('%s: the header does not begin with "solid", the count is at byte 80, little-endian', (_, mesh) => {
    const bytes = writeStl(mesh);
    expect(strFromU8(bytes.subarray(0, 80), true).toLowerCase().startsWith('solid')).toBe(false);
    const view = new DataView(bytes.buffer);
    expect(view.getUint32(80, true)).toBe(mesh.triangles.length / 3);
    expect(bytes.length).toBe(84 + 50 * view.getUint32(80, true));
  });

  test.each(parts)(
    '%s: the normal is a unit vector, points outward and agrees with the corners; attribute count 0',
    (_, mesh) => {
      const bytes = writeStl(mesh);
      const view = new DataView(bytes.buffer);
      for (let f = 0; f < mesh.triangles.length / 3; f++) {
        const v = Array.from({ length: 12 }, (_n, k) => view.getFloat32(84 + 50 * f + 4 * k, true));
        const [nx, ny, nz, ax, ay, az, bx, by, bz, cx, cy, cz] = v as [
          number,
          number,
          number,
          number,
          number,
          number,
          number,
          number,
          number,
          number,
          number,
          number,
        ];
        expect(Math.hypot(nx, ny, nz)).toBeCloseTo(1, 5);
        const cross = [
          (by - ay) * (cz - az) - (bz - az) * (cy - ay),
          (bz - az) * (cx - ax) - (bx - ax) * (cz - az),
          (bx - ax) * (cy - ay) - (by - ay) * (cx - ax),
        ];
        expect((nx * cross[0]! + ny * cross[1]! + nz * cross[2]!) / Math.hypot(...cross)).toBeCloseTo(1, 4);
        expect(view.getUint16(84 + 50 * f + 48, true)).toBe(0);
      }
      expect(massOfMesh(mesh).volume).toBeGreaterThan(0);
    },
  );

  test.each(parts)(
    '%s: every edge belongs to two facets, run through in opposite directions; V − E + F = 2',
    (_, mesh) => {
      const { triangles: t, positions: p } = readStl(writeStl(mesh)).mesh!;
      const edges = new Map<string, number>();
      for (let k = 0; k < t.length; k += 3)
        for (let e = 0; e < 3; e++) {
          const key = `${t[k + e]},${t[k + ((e + 1) % 3)]}`;
          edges.set(key, (edges.get(key) ?? 0) + 1);
        }
      for (const [key, count] of edges) {
        expect(count).toBe(1);
        expect(edges.get(key.split(',').reverse().join(','))).toBe(1);
      }
      expect(p.length / 3 - edges.size / 2 + t.length / 3).toBe(2);
    },
  );
});

describe('3MF Core Specification 1.4.0, 3MF Consortium', () => {
  const packages = parts.map(([name, mesh]) => [name, unzipSync(write3mf(mesh)), mesh] as const);
  const modelOf = (files: Record<string, Uint8Array>) => [...elementsOf(strFromU8(files['3D/part.model']!))];

  test.each(packages)('%s: content types, start relationship and part name as in §2 and appendix C', (_, files) => {
    const types = [...elementsOf(strFromU8(files['[Content_Types].xml']!))];
    expect(
      types.filter((e) => e.name === 'Default').map((e) => [e.attributes.Extension, e.attributes.ContentType]),
    ).toEqual([
      ['rels', 'application/vnd.openxmlformats-package.relationships+xml'],
      ['model', 'application/vnd.ms-package.3dmanufacturing-3dmodel+xml'],
    ]);
    const [start] = [...elementsOf(strFromU8(files['_rels/.rels']!))].filter((e) => e.name === 'Relationship');
    expect(start!.attributes.Type).toBe('http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel');
    expect(start!.attributes.Target).toMatch(/^\/3D\/.+\.model$/);
    expect(files[start!.attributes.Target!.slice(1)]).toBeDefined();
    // ECMA-376 part 2: the content types come under this very name; readers of a stream expect them first.
    expect(Object.keys(files)[0]).toBe('[Content_Types].xml');
  });

  test.each(packages)('%s: one model with resources and build, unit millimeter, core namespace (§3.4)', (_, files) => {
    const elements = modelOf(files);
    for (const name of ['model', 'resources', 'build']) expect(elements.filter((e) => e.name === name)).toHaveLength(1);
    const model = elements[0]!;
    expect(model.name).toBe('model');
    expect(model.attributes.unit).toBe('millimeter');
    expect(model.attributes.xmlns).toBe('http://schemas.microsoft.com/3dmanufacturing/core/2015/02');
  });

  test.each(packages)('%s: vertices without duplicates, indices from 0, distinct and in range (§4.1)', (_, files) => {
    const elements = modelOf(files);
    const vertices = elements
      .filter((e) => e.name === 'vertex')
      .map((e) => `${e.attributes.x} ${e.attributes.y} ${e.attributes.z}`);
    expect(new Set(vertices).size).toBe(vertices.length);
    const used = new Set<number>();
    for (const e of elements.filter((t) => t.name === 'triangle')) {
      const v = ['v1', 'v2', 'v3'].map((k) => Number(e.attributes[k]));
      expect(new Set(v).size).toBe(3);
      for (const k of v) used.add(k);
    }
    expect([Math.min(...used), Math.max(...used)]).toEqual([0, vertices.length - 1]);
  });

  test.each(packages)(
    '%s: the build item stands in the positive octant, with positive volume (§3.1, §3.3)',
    (_, files, mesh) => {
      const item = modelOf(files).find((e) => e.name === 'item')!;
      const m = item.attributes.transform!.split(' ').map(Number);
      expect(m.slice(0, 9)).toEqual([1, 0, 0, 0, 1, 0, 0, 0, 1]);
      for (let k = 0; k < mesh.positions.length; k++)
        expect(mesh.positions[k]! + m[9 + (k % 3)]!).toBeGreaterThanOrEqual(-1e-5);
      expect(massOfMesh(read3mf(write3mf(mesh)).mesh!).volume).toBeGreaterThan(0);
    },
  );
});

describe('OBJ: v and f lines, points numbered from 1 in the order of the file (Wavefront appendix B1, from memory)', () => {
  test.each(parts)(
    '%s: first point is 1, last is the number of points, faces counter-clockwise from outside',
    (_, mesh) => {
      const lines = writeObj(mesh).split('\n');
      const points = lines.filter((l) => l.startsWith('v ')).map((l) => l.split(' ').slice(1).map(Number));
      const faces = lines.filter((l) => l.startsWith('f ')).map((l) => l.split(' ').slice(1).map(Number));
      const used = faces.flat();
      expect(used.reduce((a, b) => Math.min(a, b))).toBe(1);
      expect(used.reduce((a, b) => Math.max(a, b))).toBe(points.length);
      const six = faces.reduce((sum, f) => {
        const [a, b, c] = f.map((k) => points[k - 1]!) as [number[], number[], number[]];
        return (
          sum +
          a[0]! * (b[1]! * c[2]! - b[2]! * c[1]!) +
          a[1]! * (b[2]! * c[0]! - b[0]! * c[2]!) +
          a[2]! * (b[0]! * c[1]! - b[1]! * c[0]!)
        );
      }, 0);
      expect(six / 6 / massOfMesh(mesh).volume).toBeCloseTo(1, 5);
    },
  );
});
