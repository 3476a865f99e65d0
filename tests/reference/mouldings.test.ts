/** Mouldings and columns as the old books define them; each check names its book. */
import { expect, test } from 'vitest';
import { TURN } from '../../shared/units.ts';
import type { Element } from '../../src/profiles/elements/registry.ts';
import { made, sampledBounds } from '../profiles/probe.ts';

const { PI, SQRT1_2, hypot, sin } = Math;
const slopeAt = (f: (x: number) => number, x: number, side: -1 | 1) => (f(x + side * 1e-7) - f(x)) / (side * 1e-7);

// Peter Nicholson, The Mechanic's Companion; R. G. Hatfield, The American House Carpenter.
test('Nicholson: bead, astragal and torus are semicircles, projecting half their height', () => {
  const h = 12;
  for (const element of ['bead', 'torus'] as const) {
    const { radius } = made({ form: [{ element, length: h, start: 40 }] });
    for (const x of [0, 1, 4, 6, 9.5, 12]) expect(hypot(x - h / 2, radius(x, 0) - 20)).toBeCloseTo(h / 2, 10);
  }
  const { radius } = made({ form: [{ element: 'astragal', length: 12, start: 40 }] });
  for (const x of [2, 3, 6, 8, 10]) expect(hypot(x - 6, radius(x, 0) - 20)).toBeCloseTo(4, 10);
});

test('Nicholson: a fillet is straight', () => {
  const { radius } = made({ form: [{ element: 'fillet', length: 4, start: 40 }] });
  expect([0, 1, 3.3, 4].map((x) => radius(x, 0))).toEqual([20, 20, 20, 20]);
});

test('Nicholson: an ovolo is a convex quadrant, a cavetto a concave one, height = projection = radius', () => {
  const h = 9;
  const ovolo = made({ form: [{ element: 'ovolo', length: h, start: 40 }] });
  const cavetto = made({ form: [{ element: 'cavetto', length: h, start: 40 }] });
  for (const x of [0, 0.5, 3, 6, 8.9, 9]) {
    expect(hypot(x - h, ovolo.radius(x, 0) - 20)).toBeCloseTo(h, 10);
    expect(ovolo.radius(x, 0)).toBeGreaterThanOrEqual(20);
    expect(hypot(x, cavetto.radius(x, 0) - 29)).toBeCloseTo(h, 10);
    expect(cavetto.radius(x, 0)).toBeLessThanOrEqual(29);
  }
});

test('Nicholson: a scotia 30 high has quadrants of 10 and 20, its lower edge 10 further out, both along the axis at the bottom', () => {
  const { radius } = made({ form: [{ element: 'scotia', length: 30, start: 80 }] });
  const bottom = radius(20, 0);
  expect(radius(0, 0) - bottom).toBeCloseTo(20, 10);
  expect(radius(30, 0) - bottom).toBeCloseTo(10, 10);
  expect(radius(0, 0) - radius(30, 0)).toBeCloseTo(10, 10);
  for (const x of [1, 7, 19]) expect(hypot(x - 20, radius(x, 0) - (bottom + 20))).toBeCloseTo(20, 9);
  for (const x of [21, 25, 29]) expect(hypot(x - 20, radius(x, 0) - (bottom + 10))).toBeCloseTo(10, 9);
  for (const side of [-1, 1] as const) expect(slopeAt((x) => radius(x, 0), 20, side)).toBeCloseTo(0, 6);
});

// Thomas Sheraton, The Cabinet-Maker and Upholsterer's Drawing-Book (1793).
test('Sheraton: a scotia 21 high drawn in sevenths has its upper quadrant of three', () => {
  const { radius } = made({ form: [{ element: 'scotia', length: 21, start: 80, split: 3 / 7 }] });
  expect(radius(21, 0) - radius(12, 0)).toBeCloseTo(9, 10);
  expect(radius(0, 0) - radius(12, 0)).toBeCloseTo(12, 10);
});

test('Nicholson: cyma recta is two quadrants of half its height, hollow where it projects, level in its middle', () => {
  const h = 16;
  const { radius } = made({ form: [{ element: 'ogee', length: h, start: 40 }] });
  expect([radius(0, 0), radius(h / 2, 0), radius(h, 0)]).toEqual([20, 28, 36]);
  // The receding half is convex about (8, 20), the projecting half concave about (8, 36).
  for (const x of [0.5, 3, 7]) expect(hypot(x - 8, radius(x, 0) - 20)).toBeCloseTo(8, 10);
  for (const x of [9, 12, 15.5]) expect(hypot(x - 8, radius(x, 0) - 36)).toBeCloseTo(8, 10);
  for (const side of [-1, 1] as const) expect(slopeAt((x) => radius(x, 0), 8, side)).toBeCloseTo(0, 6);
});

test('Nicholson: cyma reversa is the same turned over, round where it projects', () => {
  const h = 16;
  const { radius } = made({ form: [{ element: 'reverse-ogee', length: h, start: 40 }] });
  for (const x of [0.5, 3, 7.9]) expect(hypot(x, radius(x, 0) - 28)).toBeCloseTo(8, 9);
  for (const x of [8.1, 12, 15.5]) expect(hypot(x - 16, radius(x, 0) - 28)).toBeCloseTo(8, 9);
  expect(radius(8, 0)).toBeCloseTo(28, 10);
});

// Vitruvius, De architectura 3.5.2 (Morgan's and Gwilt's translations).
test('Vitruvius: the Attic base of a column 60 thick', () => {
  const D = 60;
  const above = D / 3;
  const upper = above / 4;
  const lower = (above - upper) / 2;
  expect([D / 2 - above, lower, lower, upper]).toEqual([10, 7.5, 7.5, 5]);
  const fillet = lower / 6;
  const form: Element[] = [
    { element: 'cylinder', length: D / 2 - above, start: 1.5 * D },
    { element: 'torus', length: lower, start: 78 },
    { element: 'fillet', length: fillet, start: 76 },
    { element: 'scotia', length: lower - 2 * fillet, end: 68, depth: 1.6 },
    { element: 'fillet', length: fillet },
    { element: 'torus', length: upper, start: 64 },
    { element: 'cylinder', length: 30, start: D },
  ];
  const base = made({ form });
  expect(base.length - 30).toBeCloseTo(D / 2, 10);
  // Each torus is a semicircle: it projects by half its height.
  expect(base.bounds(10, 17.5)[1]).toBe(45);
  expect(base.radius(13.75, 0) - 39).toBeCloseTo(lower / 2, 12);
  expect(base.radius(27.5, 0) - 32).toBeCloseTo(upper / 2, 12);
});

// Vitruvius 3.3.12, by height of column in feet; F. Fenn's upper diameter of 5/6 in all orders.
test.each([
  ['up to 15 ft, and Fenn in all orders', 5 / 6, 0.833333],
  ['15 to 20 ft', 5.5 / 6.5, 0.846154],
  ['20 to 30 ft', 6 / 7, 0.857143],
  ['30 to 40 ft', 6.5 / 7.5, 0.866667],
  ['40 to 50 ft', 7 / 8, 0.875],
])('a shaft diminishes as Vitruvius has it: %s', (_height, ratio, printed) => {
  expect(ratio).toBeCloseTo(printed, 6);
  const { radius } = made({ form: [{ element: 'entasis', length: 360, start: 60, end: 60 * ratio }] });
  expect(radius(360, 0) / radius(0, 0)).toBeCloseTo(printed, 6);
});

test('Fenn: the lower third of a shaft is vertical, then a curve that only falls, to 5/6 unless told', () => {
  const { radius } = made({ form: [{ element: 'entasis', length: 300, start: 60 }] });
  for (const x of [0, 30, 77, 100]) expect(radius(x, 0)).toBe(30);
  expect(radius(300, 0)).toBeCloseTo(25, 12);
  const slopes = [101, 150, 200, 250, 299].map((x) => slopeAt((u) => radius(u, 0), x, 1));
  // It leaves the vertical without a kink and steepens all the way: a soft swelling, not a cone.
  expect(slopeAt((u) => radius(u, 0), 100, 1)).toBeCloseTo(0, 6);
  for (let i = 1; i < slopes.length; i++) expect(slopes[i]!).toBeLessThan(slopes[i - 1]!);
  const cone = (x: number) => 30 - (5 * (x - 100)) / 200;
  for (const x of [120, 200, 280]) expect(radius(x, 0)).toBeGreaterThan(cone(x));
});

// Vitruvius 4.3.9.
test('Vitruvius: a Doric flute is struck from the middle of a square on its width, 0.20710678 of it deep, without a fillet', () => {
  const D = 60;
  const w = D * sin(PI / 20);
  expect(w).toBeCloseTo(9.386068, 6);
  const field = made({
    form: [{ element: 'cylinder', length: 100, start: D }],
    carvings: [{ carving: 'flutes', count: 20, deep: SQRT1_2 - 0.5, land: 0, ends: 'square' }],
  });
  const chord = 30 * Math.cos(PI / 20);
  expect(chord - field.radius(50, 0)).toBeCloseTo(0.20710678 * w, 6);
  expect(chord - field.radius(50, 0)).toBeCloseTo(1.943918, 6);
  expect(field.radius(50, PI / 20)).toBeCloseTo(30, 9);
  // Radius w/√2 about the middle of the square.
  const centre = chord + w / 2;
  for (const t of [0, 0.05, 0.1, 0.15])
    expect(hypot(field.radius(50, t) * sin(t), field.radius(50, t) * Math.cos(t) - centre)).toBeCloseTo(w * SQRT1_2, 9);
  expect(field.creases(50).length).toBe(20);
});

// Vitruvius 3.5.14: a carpenter's square turned in the flute touches both fillets.
test('Vitruvius: of 24 semicircular flutes each sees both its edges under a right angle from every point', () => {
  const field = made({
    form: [{ element: 'cylinder', length: 100, start: 60 }],
    carvings: [{ carving: 'flutes', count: 24, deep: 0.5, land: 0.25, ends: 'square' }],
  });
  const half = PI / 24 / 1.25;
  const point = (t: number) => [field.radius(50, t) * sin(t), field.radius(50, t) * Math.cos(t)] as const;
  const [ay, az] = point(-half);
  const [by, bz] = point(half);
  for (const t of [-0.095, -0.06, -0.02, 0, 0.05, 0.09]) {
    const [y, z] = point(t);
    expect((ay - y) * (by - y) + (az - z) * (bz - z)).toBeCloseTo(0, 8);
  }
  // 48 edges, and 48 where the walls, which no bit can cut under, lean out to them.
  expect(field.creases(50).length).toBe(96);
});

// Rudiments of Ancient Architecture (1810): 20 or 24 flutes, the fillet between ¼ and ⅓ of a flute.
test.each([
  [1 / 4, 6.283185, 1.570796],
  [1 / 3, 5.890486, 1.963495],
])('Rudiments: 24 flutes on 60 with a fillet of %d of the flute are %d and %d wide', (land, flute, fillet) => {
  const field = made({
    form: [{ element: 'cylinder', length: 100, start: 60 }],
    carvings: [{ carving: 'flutes', count: 24, depth: 2, land, ends: 'square' }],
  });
  const [last, first, next] = [field.creases(50).at(-1)!, field.creases(50)[0]!, field.creases(50)[1]!];
  expect((first + TURN - last) * 30).toBeCloseTo(flute, 6);
  expect((next - first) * 30).toBeCloseTo(fillet, 6);
});

// The Cyclopedia's Tuscan torus: 12 parts high, projecting 6.
test('a Tuscan torus of 12 parts projects 6', () => {
  const { radius } = made({ form: [{ element: 'torus', length: 12, start: 40 }] });
  expect(radius(6, 0) - 20).toBe(6);
});

// William R. Ware, The American Vignola: a Tuscan column is 7 diameters high, base and capital half a diameter each.
test('Ware: a Tuscan column 60 thick stretches to 420 by the share of its shaft alone', () => {
  const D = 60;
  const column = made({
    length: 7 * D,
    form: [
      { element: 'cylinder', length: D / 4, start: 84 },
      { element: 'torus', length: D / 4, start: 72 },
      { element: 'entasis', share: 1, start: D },
      { element: 'cylinder', length: D / 6 },
      { element: 'ovolo', length: D / 6 },
      { element: 'cylinder', length: D / 6, start: (7 / 6) * D },
    ],
  });
  expect(column.length).toBe(420);
  expect(column.breaks.some((b) => Math.abs(b.x - 30) < 1e-9)).toBe(true);
  expect(sampledBounds(column, 390.001, 399.9, 50, 1)[1] * 2).toBeCloseTo(50, 9);
  expect(column.radius(415, 0) * 2).toBe(70);
});
