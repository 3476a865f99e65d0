import { describe, expect, test } from 'vitest';
import { SOLID_TOLERANCE } from '../../shared/tolerances.ts';
import { TURN, wrapHalfTurn } from '../../shared/units.ts';
import { surfaceVolume } from '../../src/mesh/integral.ts';
import { looseEdges, type Mesh, massOfMesh } from '../../src/mesh/mesh.ts';
import { meshOf } from '../../src/mesh/mesh-of.ts';
import type { Field } from '../../src/profiles/field.ts';
import { cone, cylinder, fieldFrom, fluted, prism, sphere, step } from '../support/fields.ts';
import { deviation } from './deviation.ts';
import { hardFields, squareToRound } from './hard-fields.ts';

const CLOSED_FORM_SHARE = 2e-4;

/** Area of a circle r less n circular lenses: textbook area of two overlapping circles. */
const flutedArea = (r: number, n: number, depth: number, c: number): number => {
  const D = r - depth + c;
  const [a, b] = [Math.acos((D * D + r * r - c * c) / (2 * D * r)), Math.acos((D * D + c * c - r * r) / (2 * D * c))];
  return Math.PI * r * r - n * (r * r * (a - Math.sin(2 * a) / 2) + c * c * (b - Math.sin(2 * b) / 2));
};
/** Half-round bead of radius 10 on a cylinder 15; Pappus: half disc area × path of its centre, plus the cylinder. */
const torusBead = fieldFrom({ length: 20, radius: (x) => 15 + Math.sqrt(Math.max(0, 100 - (x - 10) ** 2)) });
const torusVolume = Math.PI * 225 * 20 + 50 * Math.PI * TURN * (15 + 40 / (3 * Math.PI));

const closedForms: [string, Field, number][] = [
  ['a cylinder', cylinder(100, 20), Math.PI * 400 * 100],
  ['a cone', cone(100, 5, 0.2), (Math.PI * 100 * (25 + 125 + 625)) / 3],
  ['a sphere cut off at both ends', sphere(20, 1), Math.PI * (400 * 38 - (2 * 19 ** 3) / 3)],
  ['a step', step(100, 50, 20, 10), Math.PI * 50 * 500],
  ['a square prism', prism(100, 20), 1600 * 100],
  ['a torus bead', torusBead, torusVolume],
  ['a fluted cylinder', fluted(300, 20, 12, 2.5, 4), flutedArea(20, 12, 2.5, 4) * 300],
  ['a fluted cylinder, twisted', fluted(100, 20, 12, 2.5, 4, 0.5), flutedArea(20, 12, 2.5, 4) * 100],
  ['a fluted cylinder, twisted the other way', fluted(100, 20, 12, 2.5, 4, -1), flutedArea(20, 12, 2.5, 4) * 100],
];

describe('against closed forms', () => {
  test.each(closedForms)('the volume of %s is right within 0.02 %%', (_, field, volume) => {
    expect(Math.abs(massOfMesh(meshOf(field)).volume / volume - 1)).toBeLessThan(CLOSED_FORM_SHARE);
  });

  test.each(closedForms)('the integral that solids are checked by is right for %s', (_, field, volume) => {
    expect(Math.abs(surfaceVolume(field) / volume - 1)).toBeLessThan(1e-5);
  });

  test('a straight part gets no more rings than its ends', () => {
    // 2 caps of m and a band of 2 m; a prism's faces are two triangles each.
    expect(meshOf(prism(100, 20)).triangles.length / 3).toBe(16);
    const m = meshOf(cylinder(100, 20)).triangles.length / 3 / 4;
    expect(Number.isInteger(m)).toBe(true);
    expect(20 * (1 - Math.cos(Math.PI / m))).toBeLessThan(SOLID_TOLERANCE);
  });

  test('the area of a cylinder with its ends is right', () => {
    const { area, centre } = massOfMesh(meshOf(cylinder(100, 20)));
    expect(area / (TURN * 20 * 100 + TURN * 400)).toBeCloseTo(1, 3);
    expect(centre[0]).toBeCloseTo(50, 3);
  });
});

describe('on hard fields', () => {
  test.each(hardFields())('%s: closed, outward, on the field, of its volume', (_, field) => {
    const mesh = meshOf(field);
    expect(looseEdges(mesh)).toBe(0);
    expect(mesh.outward).toBe(true);
    const { volume } = massOfMesh(mesh);
    // Issue bar for any part: 0.05 %.
    expect(Math.abs(volume / surfaceVolume(field) - 1)).toBeLessThan(2e-4);
    expect(deviation(field, mesh, 20_000, 7)).toBeLessThan(SOLID_TOLERANCE);
  });

  test.each(hardFields())('%s: closed at a coarse and at a fine tolerance', (_, field) => {
    for (const tolerance of [0.3, 0.08]) {
      const mesh = meshOf(field, { tolerance });
      expect(looseEdges(mesh)).toBe(0);
      expect(deviation(field, mesh, 5_000, 11)).toBeLessThan(tolerance);
    }
  });

  test.each(hardFields())('%s: the screen mesh of few rings is closed as well', (_, field) => {
    const mesh = meshOf(field, { rings: 60, columns: 36 });
    expect(looseEdges(mesh)).toBe(0);
    expect(massOfMesh(mesh).volume / surfaceVolume(field)).toBeGreaterThan(0.9);
    expect(massOfMesh(mesh).volume / surfaceVolume(field)).toBeLessThan(1.1);
  });

  test('lobes that wind by whole repeats from look to look are not taken for straight ones', () => {
    // Eight lobes, two turns: at every sixteenth of the length the section looks the same.
    const field = fieldFrom({
      length: 160,
      symmetry: 8,
      turning: (x) => (TURN * x) / 80,
      radius: (x, t) => 12 + 0.5 * Math.cos(8 * (t - (TURN * x) / 80)),
    });
    expect(deviation(field, meshOf(field, { tolerance: 0.1 }), 10_000, 5)).toBeLessThan(0.1);
  });

  test('a finer tolerance gives a nearer mesh and more triangles', () => {
    const field = fluted(60, 20, 8, 2.5, 4, 0.3);
    const [rough, fine] = [meshOf(field, { tolerance: 0.1 }), meshOf(field, { tolerance: 0.01 })];
    expect(fine.triangles.length).toBeGreaterThan(3 * rough.triangles.length);
    expect(deviation(field, fine, 10_000, 3)).toBeLessThan(0.01);
  });
});

/** Edges of a mesh as point pairs, lower number first. */
function edgesOf({ triangles: t }: Mesh): [number, number][] {
  const seen = new Map<number, [number, number]>();
  for (let k = 0; k < t.length; k += 3)
    for (let e = 0; e < 3; e++) {
      const [a, b] = [t[k + e]!, t[k + ((e + 1) % 3)]!];
      if (a < b) seen.set(a * 2 ** 26 + b, [a, b]);
      else seen.set(b * 2 ** 26 + a, [b, a]);
    }
  return [...seen.values()];
}

describe('creases', () => {
  test('the arrises of twisted flutes are chains of triangle edges from end to end', () => {
    const field = fluted(100, 20, 12, 2.5, 4, 0.5);
    const mesh = meshOf(field);
    const at = (v: number) => mesh.positions.subarray(3 * v, 3 * v + 3);
    const onArris = (v: number) => {
      const [x, y, z] = at(v) as unknown as [number, number, number];
      const theta = Math.atan2(-y, z);
      return field.creases(x).findIndex((c) => Math.abs(wrapHalfTurn(c - theta)) < 1e-5);
    };
    let covered = 0;
    for (const [a, b] of edgesOf(mesh)) {
      const run = Math.abs(at(b)[0]! - at(a)[0]!);
      if (run === 0 || onArris(a) < 0 || onArris(b) < 0) continue;
      // An edge between neighbouring arrises across a land or flute turns away from the field's turning.
      const turned = wrapHalfTurn(Math.atan2(-at(b)[1]!, at(b)[2]!) - Math.atan2(-at(a)[1]!, at(a)[2]!));
      if (Math.abs(turned - field.turning(at(b)[0]!) + field.turning(at(a)[0]!)) < 1e-4) covered += run;
    }
    expect(covered).toBeCloseTo(24 * 100, 2);
  });

  test('arrises keep their radius where nothing bends along them', () => {
    const field = fluted(100, 20, 12, 2.5, 4);
    const { positions: p } = meshOf(field);
    let arrises = 0;
    for (let k = 0; k < p.length; k += 3) {
      const theta = Math.atan2(-p[k + 1]!, p[k + 2]!);
      if (!field.creases(p[k]!).some((c) => Math.abs(wrapHalfTurn(c - theta)) < 1e-6)) continue;
      arrises++;
      expect(Math.hypot(p[k + 1]!, p[k + 2]!)).toBeCloseTo(20, 4);
    }
    expect(arrises).toBe(48);
  });

  test('arrises stay in place where one chord would do between two of them', () => {
    // A hundred arrises told of on a cylinder: the chord between two lies 0.0099 mm deep, within the tolerance.
    const field = fieldFrom({
      length: 30,
      symmetry: 100,
      creases: () => Array.from({ length: 100 }, (_, k) => (k * TURN) / 100),
      radius: () => 20,
    });
    const { positions: p } = meshOf(field);
    let arrises = 0;
    for (let k = 0; k < p.length; k += 3) {
      const share = (Math.atan2(-p[k + 1]!, p[k + 2]!) / TURN) * 100;
      if (Math.hypot(p[k + 1]!, p[k + 2]!) < 1 || Math.abs(share - Math.round(share)) > 1e-4) continue;
      arrises++;
      expect(Math.abs(Math.hypot(p[k + 1]!, p[k + 2]!) - 20)).toBeLessThan(1e-4);
    }
    expect(arrises).toBe(200);
  });

  test('a faint arris that wanders is followed sideways as closely as the tolerance', () => {
    const path = (x: number) => 1 + 0.3 * Math.sin(x / 10);
    const field = fieldFrom({
      length: 60,
      symmetry: 1,
      creases: (x) => [path(x), path(x) + TURN / 2],
      radius: (x, t) => 15 + 0.01 * Math.abs(wrapHalfTurn(t - path(x))),
    });
    const mesh = meshOf(field);
    const polar = (v: number) => {
      const [x, y, z] = mesh.positions.subarray(3 * v, 3 * v + 3) as unknown as [number, number, number];
      return { x, y, z, off: Math.abs(wrapHalfTurn(Math.atan2(-y, z) - path(x))) };
    };
    let followed = 0;
    for (const [a, b] of edgesOf(mesh).map(([u, v]) => [polar(u), polar(v)] as const)) {
      if (a.off > 1e-5 || b.off > 1e-5 || a.x === b.x) continue;
      followed += Math.abs(b.x - a.x);
      const theta = Math.atan2(-(a.y + b.y), a.z + b.z);
      expect(15 * Math.abs(wrapHalfTurn(theta - path((a.x + b.x) / 2)))).toBeLessThan(SOLID_TOLERANCE);
    }
    expect(followed).toBeCloseTo(60, 3);
  });

  test('the corners of a prism stand exactly where they belong', () => {
    const { positions: p } = meshOf(prism(50, 20));
    const corners = [];
    for (let k = 0; k < p.length; k += 3) if (p[k + 1] !== 0 || p[k + 2] !== 0) corners.push([p[k + 1], p[k + 2]]);
    expect(corners.length).toBe(8);
    for (const [y, z] of corners) {
      expect(Math.abs(y!)).toBeCloseTo(20, 5);
      expect(Math.abs(z!)).toBeCloseTo(20, 5);
    }
  });

  test('a crease of the outline has a ring that lies on it, not beside it', () => {
    const field = fieldFrom({
      length: 40,
      breaks: [{ x: 13.7, kind: 'crease' }],
      radius: (x) => 10 + Math.abs(x - 13.7) / 2,
    });
    const { positions: p } = meshOf(field);
    const xs = new Set<number>();
    for (let k = 0; k < p.length; k += 3) xs.add(p[k]!);
    expect([...xs].map((x) => Math.round(x * 1e4) / 1e4).sort((a, b) => a - b)).toEqual([0, 13.7, 40]);
  });
});

describe('shoulders', () => {
  test('two rings at the very same x, and a flat washer between them of the exact area', () => {
    const { positions: p, triangles: t } = meshOf(step(100, 50, 20, 10));
    let area = 0;
    for (let k = 0; k < t.length; k += 3) {
      const [a, b, c] = [3 * t[k]!, 3 * t[k + 1]!, 3 * t[k + 2]!];
      if (p[a] !== 50 || p[b] !== 50 || p[c] !== 50) continue;
      // The wood is at smaller x, so the washer looks to +x: its signed area in (y, z) is positive.
      area +=
        ((p[b + 1]! - p[a + 1]!) * (p[c + 2]! - p[a + 2]!) - (p[c + 1]! - p[a + 1]!) * (p[b + 2]! - p[a + 2]!)) / 2;
    }
    expect(area / (Math.PI * 300)).toBeCloseTo(1, 4);
  });

  test('where the radii cross at a shoulder the two rings share their points', () => {
    const field = squareToRound(20, 24);
    const { positions: p } = meshOf(field);
    // A 40 mm square and a circle of 24 cross at eight angles: cos φ = 20/24 off each flat's middle.
    const off = Math.acos(20 / 24);
    let met = 0;
    for (let k = 0; k < p.length; k += 3) {
      if (p[k] !== 30) continue;
      const theta = Math.atan2(-p[k + 1]!, p[k + 2]!);
      const fromFlat = Math.abs(wrapHalfTurn(4 * theta) / 4);
      if (Math.abs(Math.hypot(p[k + 1]!, p[k + 2]!) - 24) < 0.02 && Math.abs(fromFlat - off) < 1e-4) met++;
    }
    expect(met).toBe(8);
  });
});

describe('metamorphic', () => {
  const base = fluted(80, 20, 8, 2.5, 4, 0.3);
  const volume = massOfMesh(meshOf(base)).volume;
  const turnedBy = (angle: number): Field => ({
    ...base,
    radius: (x, t, s) => base.radius(x, t - angle, s),
    ring: (x, ts, out, s) =>
      base.ring(
        x,
        ts.map((t) => t - angle),
        out,
        s,
      ),
    creases: (x) =>
      base
        .creases(x)
        .map((c) => (c + angle) % TURN)
        .sort((a, b) => a - b),
  });

  test('turned about its axis the part keeps its volume and its number of triangles', () => {
    for (const angle of [TURN / 8, 0.123, 2]) {
      const mesh = meshOf(turnedBy(angle));
      expect(massOfMesh(mesh).volume / volume).toBeCloseTo(1, 5);
      expect(Math.abs(mesh.triangles.length / meshOf(base).triangles.length - 1)).toBeLessThan(0.05);
    }
  });

  test('mirrored it keeps its volume and stays outward', () => {
    const mesh = meshOf(fluted(80, 20, 8, 2.5, 4, -0.3));
    expect(massOfMesh(mesh).volume / volume).toBeCloseTo(1, 5);
  });

  test('twice as large with twice the tolerance it has eight times the volume and as many triangles', () => {
    const big = meshOf(fluted(160, 40, 8, 5, 8, 0.3), { tolerance: 2 * SOLID_TOLERANCE });
    expect(massOfMesh(big).volume / (8 * volume)).toBeCloseTo(1, 5);
    expect(Math.abs(big.triangles.length / meshOf(base).triangles.length - 1)).toBeLessThan(0.02);
  });

  test('end for end it keeps its volume and its centre is mirrored', () => {
    const back = fieldFrom({ length: 40, radius: (x) => 6 + 0.1 * (40 - x) + Math.sin((40 - x) / 5) });
    const there = fieldFrom({ length: 40, radius: (x) => 6 + 0.1 * x + Math.sin(x / 5) });
    const [a, b] = [massOfMesh(meshOf(there)), massOfMesh(meshOf(back))];
    // The rings fall elsewhere, walked from the other end: a tenth of the bar for any part.
    expect(Math.abs(a.volume / b.volume - 1)).toBeLessThan(5e-5);
    expect(Math.abs(a.centre[0] + b.centre[0] - 40)).toBeLessThan(SOLID_TOLERANCE / 10);
  });

  test('the same field gives the same bytes', () => {
    const [a, b] = [meshOf(base), meshOf(fluted(80, 20, 8, 2.5, 4, 0.3))];
    expect(a.positions).toEqual(b.positions);
    expect(a.triangles).toEqual(b.triangles);
  });
});

test('points lie in the part frame: right-handed about +x, θ = 0 up', () => {
  const field = fieldFrom({ length: 10, symmetry: 1, radius: (_x, t) => 10 + 3 * Math.sin(t) });
  // Largest at θ = 90°, which is −y.
  const { centre } = massOfMesh(meshOf(field));
  expect(centre[1]).toBeLessThan(-1);
  expect(Math.abs(centre[2])).toBeLessThan(1e-3);
});

test('a tolerance or a budget that is no usable number is a programmer’s error', () => {
  for (const tolerance of [0, -1, Number.NaN, Infinity])
    expect(() => meshOf(cylinder(10, 5), { tolerance })).toThrow(RangeError);
  expect(() => meshOf(cylinder(10, 5), { rings: 0, columns: 20 })).toThrow(RangeError);
  expect(() => meshOf(cylinder(10, 5), { rings: 10, columns: 2 })).toThrow(RangeError);
});

test('loose edges are counted when a triangle is missing or turned over', () => {
  const mesh = meshOf(cylinder(10, 5));
  expect(looseEdges({ ...mesh, triangles: mesh.triangles.slice(3) })).toBeGreaterThan(0);
  const turned = mesh.triangles.slice();
  [turned[0], turned[1]] = [turned[1]!, turned[0]!];
  expect(looseEdges({ ...mesh, triangles: turned })).toBeGreaterThan(0);
});
