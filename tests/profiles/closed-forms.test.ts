/** Radii and volumes against solids whose volume is a formula of elementary geometry (Pappus, Archimedes, areas of lenses). */
import { expect, test } from 'vitest';
import { TURN } from '../../shared/units.ts';
import type { Carving } from '../../src/profiles/carvings/registry.ts';
import type { Element } from '../../src/profiles/elements/registry.ts';
import { fieldVolume, sectionArea } from '../../src/profiles/quadrature.ts';
import { made, squareSection } from './probe.ts';

const { PI, sqrt, sin, cos, tan, acos, atan } = Math;
const near = (value: number, exact: number, relative = 1e-9) =>
  expect(Math.abs(value / exact - 1)).toBeLessThan(relative);
const volume = (form: Element[], carvings: Carving[] = []) => fieldVolume(made({ form, carvings }));
const shaft = (length: number, start: number): Element => ({ element: 'cylinder', length, start });
const square = { ends: 'square' } as const;

test('a cylinder, a cone and a step between two cylinders have their volumes', () => {
  near(volume([shaft(50, 20)]), PI * 100 * 50);
  near(volume([{ element: 'taper', length: 60, start: 40, end: 10 }]), (PI * 60 * (400 + 100 + 25)) / 3);
  near(volume([shaft(50, 20), shaft(10, 30)]), PI * 100 * 50 + PI * 225 * 10);
});

test('a ball between two equal necks is a zone of one sphere', () => {
  const [h, neck] = [30, 8];
  // Archimedes: a zone of height h between circles a and b holds πh(3a² + 3b² + h²)/6.
  near(volume([{ element: 'ball', length: h, start: 2 * neck }]), (PI * h * (6 * neck * neck + h * h)) / 6);
  const { radius } = made({ form: [{ element: 'ball', length: h, start: 16, end: 24 }] });
  const middle = (h * h + 144 - 64) / (2 * h);
  for (const x of [0, 3, 11, 29, 30]) near(radius(x, 0) ** 2 + (x - middle) ** 2, 64 + middle * middle, 1e-13);
});

test('a bead and a torus are cylinders with half a ring, a cove is one without', () => {
  const [r, s] = [20, 6];
  const disc = (PI * s * s) / 2;
  const out = (4 * s) / (3 * PI);
  near(volume([{ element: 'bead', length: 2 * s, start: 2 * r }]), PI * r * r * 2 * s + TURN * (r + out) * disc);
  near(volume([{ element: 'torus', length: 2 * s, start: 2 * r }]), PI * r * r * 2 * s + TURN * (r + out) * disc);
  near(volume([{ element: 'cove', length: 2 * s, start: 2 * r }]), PI * r * r * 2 * s - TURN * (r - out) * disc);
});

test('ovolo and cavetto are a cylinder with and without a quarter disc turned about the axis', () => {
  const [r, R] = [15, 8];
  const quarter = (PI * R * R) / 4;
  const out = (4 * R) / (3 * PI);
  const ovolo: Element = { element: 'ovolo', length: R, start: 2 * r };
  near(volume([ovolo]), PI * r * r * R + TURN * (r + out) * quarter);
  // The hollow is a quarter disc about the far corner of the square.
  const whole = PI * (r + R) ** 2 * R;
  near(volume([{ element: 'cavetto', length: R, start: 2 * r }]), whole - TURN * (r + R - out) * quarter);
});

test('a vee cut takes a triangle turned about the axis', () => {
  const [r, h, d] = [18, 6, 3];
  near(volume([{ element: 'vee', length: h, start: 2 * r }]), PI * r * r * h - TURN * (r - d / 3) * ((h * d) / 2));
});

test('a reel of half waves holds what its integral says', () => {
  // ∫ (a + b(1 − cos πs)/2)² over s = 0…1 is a² + ab + 3b²/8.
  const [a, b, h] = [10, 8, 50];
  near(
    volume([{ element: 'vase', length: h, start: 2 * a, belly: 2 * (a + b), at: 0.4 }]),
    PI * h * (a * a + a * b + (3 * b * b) / 8),
  );
});

/** Area common to two circles r and c whose centres are d apart. */
function lens(r: number, c: number, d: number): number {
  const p = acos((d * d + r * r - c * c) / (2 * d * r));
  const q = acos((d * d + c * c - r * r) / (2 * d * c));
  return r * r * (p - sin(2 * p) / 2) + c * c * (q - sin(2 * q) / 2);
}

test('flutes of a circular arc take a lens each, straight or twisted', () => {
  const [r, n, depth, land, length] = [20, 12, 1.6, 0.25, 80];
  const half = PI / n / (1 + land);
  const sagitta = depth - r * (1 - cos(half));
  const arc = ((r * sin(half)) ** 2 + sagitta ** 2) / (2 * sagitta);
  const area = PI * r * r - n * lens(r, arc, r - depth + arc);
  const flutes: Carving = { carving: 'flutes', count: n, depth, land, ...square };
  near(volume([shaft(length, 2 * r)], [flutes]), area * length);
  near(volume([shaft(length, 2 * r)], [flutes, { carving: 'twist', turns: 0.7 }]), area * length);
});

test('a flute is one arc: every point of it lies on one circle', () => {
  const { radius } = made({
    form: [shaft(50, 50)],
    carvings: [{ carving: 'flutes', count: 10, depth: 3, land: 0.4, ...square }],
  });
  const half = PI / 10 / 1.4;
  const point = (t: number) => [radius(25, t) * sin(t), radius(25, t) * cos(t)] as const;
  const sagitta = 3 - 25 * (1 - cos(half));
  const arc = ((25 * sin(half)) ** 2 + sagitta ** 2) / (2 * sagitta);
  for (const t of [-0.99, -0.5, -0.1, 0, 0.3, 0.77, 0.999].map((k) => k * half)) {
    const [y, z] = point(t);
    near(Math.hypot(y, z - (22 + arc)), arc, 1e-12);
  }
  expect(radius(25, half * 1.001)).toBe(25);
});

test('vee flutes leave a star, elliptic flutes take half-ellipses', () => {
  const [r, n, depth] = [20, 8, 4];
  const half = PI / n / 1.5;
  const vee = made({
    form: [shaft(40, 2 * r)],
    carvings: [{ carving: 'flutes', count: n, depth, land: 0.5, section: 'vee', ...square }],
  });
  // A sector of the circle becomes two triangles with the bottom as a corner.
  near(sectionArea(vee, 20), PI * r * r - n * (half * r * r - r * (r - depth) * sin(half)));
  const oval = made({
    form: [shaft(40, 2 * r)],
    carvings: [{ carving: 'flutes', count: n, depth, land: 0.5, section: 'elliptic', ...square }],
  });
  const [b, s] = [r * sin(half), depth - r * (1 - cos(half))];
  for (const t of [0, 0.1, 0.2].map((k) => k * (half / 0.26))) {
    const [y, z] = [oval.radius(20, t) * sin(t), oval.radius(20, t) * cos(t)];
    near((y / b) ** 2 + ((z - r * cos(half)) / s) ** 2, 1, 1e-12);
  }
});

test('half-round flutes come up to their edges without a jump, along walls that lean from the radius', () => {
  const half = PI / 16 / 1.5;
  for (const section of ['round', 'elliptic'] as const) {
    const { radius, creases } = made({
      form: [shaft(40, 40)],
      carvings: [{ carving: 'flutes', count: 16, deep: 0.5, land: 0.5, section, ...square }],
    });
    expect(creases(20).length).toBe(4 * 16);
    near(radius(20, half - 1e-9), 20, 1e-7);
    // The wall's direction against the radius at the edge.
    const [y, z] = [radius(20, half - 1e-4) * sin(half - 1e-4), radius(20, half - 1e-4) * cos(half - 1e-4)];
    near(Math.atan2(20 * sin(half) - y, 20 * cos(half) - z) - half, PI / 60, 1e-6);
  }
});

test('facets leave a regular polygon, or a circle with segments cut off', () => {
  const [a, n] = [15, 6];
  near(
    volume([shaft(30, 50)], [{ carving: 'facets', flats: n, across: 2 * a, ...square }]),
    30 * n * a * a * tan(PI / n),
  );
  const h = acos(18 / 20);
  const segment = 400 * (h - sin(h) * cos(h));
  near(volume([shaft(30, 40)], [{ carving: 'facets', flats: 5, depth: 2, ...square }]), 30 * (PI * 400 - 5 * segment));
  const full = made({ form: [shaft(30, 40)], carvings: [{ carving: 'facets', flats: 8, ...square }] });
  near(full.radius(10, PI / 8), 20, 1e-12);
  near(full.radius(10, 0), 20 * cos(PI / 8), 1e-12);
});

test('half-round reeds are circles that touch', () => {
  const [r, n] = [20, 10];
  const c = (r * sin(PI / n)) / (1 + sin(PI / n));
  const { radius } = made({ form: [shaft(30, 40)], carvings: [{ carving: 'reeds', count: n, ...square }] });
  for (const t of [0, 0.1, 0.2, 0.31])
    near(Math.hypot(radius(15, t) * sin(t), radius(15, t) * cos(t) - (r - c)), c, 1e-9);
  near(radius(15, PI / n), (r - c) * cos(PI / n), 1e-7);
});

test('barley twist holds the same whatever its turns: a circle with a wave', () => {
  // ½∮(r − d(1 − cos nφ)/2)² dφ = π((r − d/2)² + d²/8).
  const [r, d] = [18, 6];
  for (const turns of [0, 2.5])
    near(
      volume([shaft(60, 2 * r)], [{ carving: 'lobes', starts: 2, depth: d, turns, ...square }]),
      60 * PI * ((r - d / 2) ** 2 + (d * d) / 8),
    );
  // Of a rope: ∮ d(1 − |cos(nφ/2)|) and its square.
  const rope = PI * r * r - r * d * (TURN - 4) + ((d * d) / 2) * (TURN - 8 + PI);
  near(
    volume([shaft(60, 2 * r)], [{ carving: 'lobes', starts: 3, depth: d, shape: 'rope', turns: 1, ...square }]),
    60 * rope,
  );
});

test('a spiral groove is as deep, as wide and as far apart as told', () => {
  const [r, width, depth, pitch] = [20, 4, 1.2, 40];
  const field = made({
    form: [shaft(120, 2 * r)],
    carvings: [{ carving: 'groove', starts: 1, width, depth, pitch, section: 'vee', ...square }],
  });
  for (const x of [10, 33.3, 80]) {
    const middle = (TURN * x) / pitch;
    near(field.radius(x, middle), r - depth, 1e-12);
    // One pitch on along x, and nothing a third of a pitch on.
    if (x < 80) near(field.radius(x + pitch, middle), r - depth, 1e-9);
    expect(field.radius(x + pitch / 3, middle)).toBe(r);
    // Square across the groove at the surface: half the width along the normal of the unrolled helix.
    const lean = atan((TURN * r) / pitch);
    const [dx, da] = [-sin(lean) * (width / 2), cos(lean) * (width / 2)];
    expect(field.radius(x + dx * 0.999, middle + (da * 0.999) / r)).toBeLessThan(r - 1e-5);
    near(field.radius(x + dx, middle + da / r), r, 1e-12);
    near(field.radius(x + dx / 2, middle + da / 2 / r), r - depth / 2, 1e-12);
  }
});

test('where crossed grooves cross, the depth is once, not twice', () => {
  const field = made({
    form: [shaft(100, 40)],
    carvings: [{ carving: 'crossed', starts: 4, width: 4, depth: 1.2, turns: 0.5, ...square }],
  });
  expect(field.minRadius).toBeGreaterThan(20 - 1.2 - 0.02);
  near(field.radius(25, TURN / 8), 18.8, 1e-12);
  near(field.radius(25, -TURN / 8), 18.8, 1e-12);
});

test('a groove across a fluted shaft is cut into the flutes as deep as into the lands', () => {
  const flutes: Carving = { carving: 'flutes', count: 6, depth: 4, land: 0.5, ...square };
  const plain = made({ form: [shaft(100, 40)], carvings: [flutes] });
  const cut = made({
    form: [shaft(100, 40)],
    carvings: [flutes, { carving: 'groove', starts: 1, width: 5, depth: 1, turns: 3, ...square }],
  });
  for (const x of [7, 20, 41, 66])
    near(cut.radius(x, (3 * TURN * x) / 100), plain.radius(x, (3 * TURN * x) / 100) - 1, 1e-12);
});

test('run-outs rise as told: round like a ball, straight, or not at all', () => {
  const at = (ends: 'round' | 'straight' | 'square', x: number, side: -1 | 1 = 1) =>
    made({
      form: [shaft(100, 40)],
      carvings: [{ carving: 'flutes', count: 8, depth: 3, land: 1, ends, run: 3, from: 20, to: 80 }],
    }).radius(x, 0, side);
  // Run-out as long as it is deep: the bottom is a quarter circle about (23, 20).
  for (const x of [20.3, 21, 22.5]) near((23 - x) ** 2 + (20 - at('round', x)) ** 2, 9, 1e-12);
  for (const x of [20.3, 21, 22.5]) near(at('straight', x), 20 - (x - 20), 1e-12);
  expect([at('square', 20, -1), at('square', 20, 1), at('square', 80, -1), at('square', 80, 1)]).toEqual([
    20, 17, 17, 20,
  ]);
});

test('a square pommel is a prism, and its square shoulder a flat washer', () => {
  const [a, l] = [20, 30];
  const field = made({ form: [{ element: 'pommel', length: l, end: 30 }, shaft(20, 30)] }, squareSection(2 * a));
  near(fieldVolume(field), 4 * a * a * l + PI * 225 * 20);
  expect(field.radius(l, PI / 4)).toBeCloseTo(a * sqrt(2), 12);
  expect(field.radius(l, PI / 4, 1)).toBe(15);
});

test('a sloped shoulder is a cone that cuts the prism', () => {
  const field = made(
    { form: [{ element: 'pommel', length: 40, shoulder: 'sloped', shoulders: 'chuck', run: 10, start: 30 }] },
    squareSection(40),
  );
  const cone = (x: number) => 15 + ((20 * sqrt(2) - 15) * x) / 10;
  for (const x of [0, 2, 3.7, 5, 8, 9.9])
    for (const t of [0, 0.2, 0.5, PI / 4]) near(field.radius(x, t), Math.min(cone(x), 20 / cos(t)), 1e-12);
});
