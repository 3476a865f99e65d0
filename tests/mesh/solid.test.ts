import { resolve } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { TURN } from '../../shared/units.ts';
import { checkSolid } from '../../src/mesh/check.ts';
import { expectedOf } from '../../src/mesh/expected.ts';
import { type Kernel, loadKernel, type Solid } from '../../src/mesh/kernel.ts';
import { massOf, measure } from '../../src/mesh/measure.ts';
import { massOfMesh } from '../../src/mesh/mesh.ts';
import { meshOf } from '../../src/mesh/mesh-of.ts';
import { rodMesh } from '../../src/mesh/rod.ts';
import { type SolidOptions, solidOf } from '../../src/mesh/solid.ts';
import type { Field, Hole } from '../../src/profiles/field.ts';
import { cylinder, fieldFrom, fluted, prism, sphere, step } from '../support/fields.ts';
import { hardFields } from './hard-fields.ts';

let kernel: Kernel;
beforeAll(async () => {
  // The page passes the address of the .wasm file; here its path.
  kernel = await loadKernel({ wasmUrl: resolve('node_modules/manifold-3d/manifold.wasm') });
});

const drilled = (field: Field, holes: Hole[]): Field => ({ ...field, holes });
const hole = (x: number, theta: number, depth: number, diameter = 6): Hole => ({ x, theta, depth, diameter });

async function checked(field: Field, options: SolidOptions = {}): Promise<Solid> {
  const solid = await solidOf(field, options);
  expect(checkSolid(solid, field, options)).toEqual([]);
  return solid;
}

describe('a solid from a field', () => {
  test.each(hardFields())('%s passes the kernel: no error, no handle, the volume of its mesh', async (_, field) => {
    const solid = await checked(field);
    expect(solid.status).toBe('NoError');
    expect(solid.genus).toBe(0);
    expect(solid.volume / massOfMesh(meshOf(field)).volume).toBeCloseTo(1, 6);
    solid.free();
  });

  test('nothing is left on the kernel’s heap', async () => {
    const before = kernel.alive();
    const solid = await solidOf(drilled(cylinder(60, 15), [hole(20, 1, 5), hole(40, 2, 40)]), {
      tenons: [{ end: 'chuck', diameter: 12, length: 10 }],
      bore: { end: 'tail', diameter: 5, depth: 8 },
    });
    expect(kernel.alive()).toBe(before + 1);
    solid.free();
    expect(kernel.alive()).toBe(before);
  });

  test('a freed solid is not used again', async () => {
    const solid = await solidOf(cylinder(10, 5));
    solid.free();
    expect(() => solid.volume).toThrow(/freed/);
  });

  test('measures: volume, centre and box of a cylinder from their closed forms; mass from a density', async () => {
    const solid = await checked(cylinder(100, 20));
    const m = measure(solid);
    expect(m.volume / (Math.PI * 400 * 100)).toBeCloseTo(1, 4);
    expect(m.area / (TURN * 20 * 100 + TURN * 400)).toBeCloseTo(1, 3);
    expect(m.centre[0]).toBeCloseTo(50, 3);
    expect(m.centre[1]).toBeCloseTo(0, 3);
    expect([m.low[0], m.high[0]]).toEqual([0, 100]);
    expect(m.high[2]).toBeCloseTo(20, 1);
    // A litre of water, 1,000 kg/m³, weighs a kilogram.
    expect(massOf(1e6, 1000)).toBeCloseTo(1, 12);
    solid.free();
  });
});

describe('the check', () => {
  test('an inside-out mesh has status NoError and is refused by its volume', () => {
    const mesh = meshOf(cylinder(50, 10));
    const solid = kernel.solid({ ...mesh, triangles: mesh.triangles.slice().reverse() });
    expect(solid.status).toBe('NoError');
    expect(solid.volume).toBeLessThan(0);
    expect(checkSolid(solid, cylinder(50, 10)).map((p) => p.code)).toEqual(['solid-broken']);
    solid.free();
  });

  test('an open mesh and one that names no such point are refused by status', () => {
    const mesh = meshOf(cylinder(50, 10));
    for (const triangles of [mesh.triangles.slice(3), mesh.triangles.map((v, k) => (k === 4 ? 1e6 : v))]) {
      const solid = kernel.solid({ ...mesh, triangles });
      expect(solid.status).not.toBe('NoError');
      const problems = checkSolid(solid, cylinder(50, 10));
      expect(problems.map((p) => p.code)).toEqual(['solid-broken']);
      expect(problems[0]!.message).toContain(solid.status);
      solid.free();
    }
  });

  test('a solid 0.1 % too large is refused by the field’s own volume, one 0.02 % too large is not', () => {
    const field = cylinder(50, 10);
    const grown = (share: number) => kernel.solid(meshOf(cylinder(50, 10 * Math.sqrt(1 + share))));
    const [large, fair] = [grown(1e-3), grown(2e-4)];
    expect(checkSolid(large, field).map((p) => p.code)).toEqual(['solid-volume']);
    expect(checkSolid(fair, field)).toEqual([]);
    large.free();
    fair.free();
  });

  test('a handle where none belongs is refused', async () => {
    const field = cylinder(60, 15);
    const through = await solidOf(drilled(field, [hole(30, 0, 40, 1)]));
    expect(checkSolid(through, field).map((p) => p.code)).toContain('solid-broken');
    through.free();
  });
});

describe('additions', () => {
  const body = cylinder(60, 15);
  const cases: [string, Field, SolidOptions, number][] = [
    ['a blind hole', drilled(body, [hole(30, 1, 8)]), {}, 0],
    ['a through hole', drilled(body, [hole(30, 1, 31)]), {}, 1],
    ['two blind holes that do not meet', drilled(body, [hole(30, 1, 8), hole(30, 1 + TURN / 2, 8)]), {}, 0],
    [
      'three holes that meet at the axis',
      drilled(
        body,
        [0, 1, 2].map((k) => hole(30, (k * TURN) / 3, 15.5)),
      ),
      {},
      2,
    ],
    ['two through holes at different x', drilled(body, [hole(20, 0, 40), hole(40, 1, 40)]), {}, 2],
    ['two through holes that cross', drilled(body, [hole(30, 0, 40), hole(30, TURN / 4, 40)]), {}, 3],
    ['two blind holes that run into one slot', drilled(body, [hole(30, 1, 8), hole(34, 1, 8)]), {}, 0],
    ['a hole exactly as deep as a square is wide', drilled(prism(60, 15), [hole(30, 0, 30)]), {}, 1],
    ['a blind bore', body, { bore: { end: 'chuck', diameter: 10, depth: 20 } }, 0],
    ['a bore right through', body, { bore: { end: 'tail', diameter: 10, depth: 60 } }, 1],
    [
      'a bore through tenons at both ends',
      body,
      {
        tenons: [
          { end: 'chuck', diameter: 16, length: 12 },
          { end: 'tail', diameter: 14, length: 9 },
        ],
        bore: { end: 'chuck', diameter: 8, depth: 81 },
      },
      1,
    ],
    [
      'a lamp stem: bore through, cable hole into it',
      drilled(body, [hole(10, 2, 15, 5)]),
      { bore: { end: 'tail', diameter: 10, depth: 60 } },
      2,
    ],
    ['a hole into a flute', drilled(fluted(60, 15, 8, 1.5, 3), [hole(30, 0, 6, 2)]), {}, 0],
    ['a hole through a pommel’s flat', drilled(prism(60, 15), [hole(30, 0, 10)]), {}, 0],
  ];

  test.each(cases)('%s: handles and volume are as worked out without the kernel', async (_, field, options, genus) => {
    expect(expectedOf(field, options).genus).toBe(genus);
    const solid = await checked(field, options);
    expect(solid.genus).toBe(genus);
    solid.free();
  });

  test('a blind hole in a flat takes πd²/4 × depth', () => {
    const field = prism(60, 15);
    const taken = expectedOf(field).volume - expectedOf(drilled(field, [hole(30, 0, 10)])).volume;
    expect(taken / (Math.PI * 9 * 10)).toBeCloseTo(1, 5);
  });

  test('a through hole as wide as its cylinder takes the two-cylinder solid of 16/3 r³', () => {
    // Archimedes, The Method: two cylinders of equal radius crossing at right angles share 16/3 r³ (2/3 of the cube).
    const field = cylinder(60, 15);
    const taken = expectedOf(field).volume - expectedOf(drilled(field, [hole(30, 0, 40, 30)])).volume;
    expect(taken / ((16 / 3) * 15 ** 3)).toBeCloseTo(1, 2);
  });

  test('a hole drilled to the bottom of the flute on the far side goes clean through its flanks too', async () => {
    // From the bottom of one flute to that of the one opposite: 2 × 13.5 mm.
    const solid = await checked(drilled(fluted(60, 15, 8, 1.5, 3), [hole(30, 0, 27, 4)]));
    const pin = kernel.solid(rodMesh({ from: [30, 0, 20], to: [30, 0, -20], radius: 1.9 }, 0.02));
    const meet = solid.intersect(pin);
    expect(meet.volume).toBe(0);
    for (const s of [solid, pin, meet]) s.free();
  });

  test('a tenon adds πd²/4 × length and reaches out of its own end', async () => {
    const options: SolidOptions = { tenons: [{ end: 'tail', diameter: 16, length: 12 }] };
    const solid = await checked(body, options);
    const m = measure(solid);
    expect(m.volume - Math.PI * 225 * 60).toBeCloseTo(Math.PI * 64 * 12, -1);
    expect([m.low[0], m.high[0]]).toEqual([0, 72]);
    solid.free();
  });

  test('a hole lies where it is said to lie: θ = 90° is −y', async () => {
    const solid = await checked(drilled(body, [hole(20, TURN / 4, 10)]));
    const m = measure(solid);
    expect(m.centre[1]).toBeGreaterThan(0.01);
    expect(m.centre[0]).toBeGreaterThan(30);
    expect(Math.abs(m.centre[2])).toBeLessThan(1e-3);
    solid.free();
  });

  test('a rod has its own volume whichever way it lies', () => {
    for (const to of [
      [30, 0, 0],
      [0, 30, 0],
      [0, 0, -30],
      [10, -20, 20],
    ] as const)
      expect(massOfMesh(rodMesh({ from: [0, 0, 0], to, radius: 4 }, 0.02)).volume / (Math.PI * 16 * 30)).toBeCloseTo(
        1,
        6,
      );
  });
});

test('booleans, moves and gaps agree with closed forms', () => {
  const ball = kernel.solid(meshOf(sphere(10, 0.01)));
  const far = ball.moved(30, 0, 0);
  expect(ball.gap(far, 50)).toBeCloseTo(10, 0);
  // Two balls of radius R, centres d apart, share π(4R + d)(2R − d)²/12.
  const near = ball.moved(10, 0, 0);
  const shared = ball.intersect(near);
  expect(shared.volume / ((Math.PI * 50 * 100) / 12)).toBeCloseTo(1, 2);
  const both = ball.add(near);
  const cut = ball.subtract(near);
  expect(both.volume).toBeCloseTo(cut.volume + near.volume, 0);
  for (const s of [ball, far, near, shared, both, cut]) s.free();
});

test('points inside a groove are outside the solid: a ball laid into a flute does not touch', async () => {
  // The kernel shares no code with the mesh: a ball of the flute's own radius less a hair, sunk to its bottom.
  const solid = await checked(fluted(40, 20, 8, 2.5, 4));
  const centre = 20 - 2.5 + 4;
  const laid = (lift: number) => {
    const ball = kernel.solid(
      meshOf(fieldFrom({ length: 7.8, radius: (x) => Math.sqrt(Math.max(1e-6, 15.21 - (x - 3.9) ** 2)) })),
    );
    const at = ball.moved(16.1, 0, centre + lift);
    const meet = solid.intersect(at);
    const volume = meet.volume;
    for (const s of [ball, at, meet]) s.free();
    return volume;
  };
  expect(laid(-0.07)).toBe(0);
  expect(laid(-0.2)).toBeGreaterThan(0.01);
  solid.free();
});

test('a step keeps both its radii to the kernel', async () => {
  const solid = await checked(step(100, 50, 20, 10));
  const slab = kernel.solid(rodMesh({ from: [50.001, 0, 0], to: [99, 0, 0], radius: 30 }, 0.02));
  const high = solid.intersect(slab);
  expect(high.volume / (Math.PI * 100 * 48.999)).toBeCloseTo(1, 4);
  for (const s of [solid, slab, high]) s.free();
});
