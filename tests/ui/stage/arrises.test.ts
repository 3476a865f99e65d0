import { expect, test } from 'vitest';
import { meshOf } from '../../../src/mesh/mesh-of.ts';
import { lit } from '../../../src/ui/stage/arrises.ts';
import { cylinder } from '../../support/fields.ts';

test('a box gets three normals at every corner, each square to its own face', () => {
  const positions = Float32Array.from([0, 0, 0, 1, 0, 0, 1, 1, 0, 0, 1, 0, 0, 0, 1, 1, 0, 1, 1, 1, 1, 0, 1, 1]);
  const triangles = Uint32Array.from(
    [
      [0, 2, 1, 0, 3, 2],
      [4, 5, 6, 4, 6, 7],
      [0, 1, 5, 0, 5, 4],
      [1, 2, 6, 1, 6, 5],
      [2, 3, 7, 2, 7, 6],
      [3, 0, 4, 3, 4, 7],
    ].flat(),
  );
  const mesh = lit({ positions, triangles });
  expect(mesh.positions.length / 3).toBe(24);
  for (let v = 0; v < mesh.normals.length; v += 3) {
    const n = [...mesh.normals.subarray(v, v + 3)].map((c) => Math.abs(c)).sort();
    expect(n[2]).toBeCloseTo(1, 6);
    expect(n[1]).toBeCloseTo(0, 6);
  }
});

test('a turned side is smooth and square to the axis, its ends are flat', () => {
  const mesh = lit(meshOf(cylinder(40, 15), { rings: 6, columns: 48 }));
  let sides = 0;
  for (let v = 0; v < mesh.normals.length; v += 3) {
    const [x, y, z] = mesh.positions.subarray(v, v + 3) as unknown as [number, number, number];
    const [nx, ny, nz] = mesh.normals.subarray(v, v + 3) as unknown as [number, number, number];
    if (Math.abs(nx) > 0.5) {
      expect(Math.abs(nx)).toBeCloseTo(1, 5);
      expect(Math.sign(nx)).toBe(x > 20 ? 1 : -1);
      continue;
    }
    sides++;
    expect((ny * y + nz * z) / Math.hypot(y, z)).toBeGreaterThan(0.995);
    expect(nx).toBeCloseTo(0, 5);
  }
  expect(sides).toBeGreaterThan(48);
});
