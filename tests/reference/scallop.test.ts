/**
 * Ridge heights and pass distances. The numbers are the exact circle forms, worked out by an independent script and there
 * held against a brute-force sweep of the cut surface; the approximate rules are the path-interval formulas of
 * Lin & Koren, "Efficient tool-path planning for machining free-form surfaces" (1996), quoted from memory.
 */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { crossing, scallopHeight, scallopSpacing } from '../../src/cam/scallop.ts';

const flat = [
  [3, 0.5, 0.01043481],
  [3, 1, 0.04196011],
  [1.5, 0.5, 0.02098005],
  [3.175, 1, 0.03961725],
  [6.35, 2, 0.07923449],
];
const curved = [
  [3, 20, 1, 0.04842094, 0.03556263],
  [3, 10, 1, 0.05495637, 0.02921767],
  [3, 5, 1, 0.06829846, 0.01664352],
  [1.5, 12, 0.5, 0.02366963, 0.01831247],
];

test.each(flat)('a tip of %d mm at %d mm leaves %d mm on a flat, both ways', (R, s, h) => {
  // The table's last digit.
  expect(Math.abs(scallopHeight(R, s) - h)).toBeLessThan(1e-8);
  expect(scallopSpacing(R, scallopHeight(R, s))).toBeCloseTo(s, 10);
  expect(Math.abs(scallopSpacing(R, h) - s)).toBeLessThan(2e-7);
});

test.each(curved)(
  'a tip of %d mm over a radius of %d mm at %d mm leaves %d mm on a bead and %d mm in a cove, both ways',
  (R, rho, s, bead, cove) => {
    expect(scallopHeight(R, s, 1 / rho)).toBeCloseTo(bead, 8);
    expect(scallopHeight(R, s, -1 / rho)).toBeCloseTo(cove, 8);
    expect(scallopSpacing(R, scallopHeight(R, s, 1 / rho), 1 / rho)).toBeCloseTo(s, 10);
    expect(scallopSpacing(R, scallopHeight(R, s, -1 / rho), -1 / rho)).toBeCloseTo(s, 10);
    expect(Math.abs(scallopSpacing(R, bead, 1 / rho) - s)).toBeLessThan(1e-6);
  },
);

test('a quarter-inch tip over a one-inch bead leaves 0.04468223 mm at 1 mm', () => {
  expect(scallopHeight(3.175, 1, 1 / 25.4)).toBeCloseTo(0.04468223, 8);
});

test('a tip of 3 mm leaves 0.01 mm at 0.48948953 mm and 0.02 mm at 0.69166466 mm', () => {
  expect(scallopSpacing(3, 0.01)).toBeCloseTo(0.48948953, 8);
  expect(scallopSpacing(3, 0.02)).toBeCloseTo(0.69166466, 8);
});

test('a cove always leaves less than a flat and a flat less than a bead', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 0.2, max: 6, noNaN: true }),
      fc.double({ min: 1.05, max: 40, noNaN: true }),
      fc.double({ min: 0.05, max: 0.9, noNaN: true }),
      (R, ratio, share) => {
        const rho = R * ratio;
        const s = share * R;
        const [cove, plain, bead] = [scallopHeight(R, s, -1 / rho), scallopHeight(R, s), scallopHeight(R, s, 1 / rho)];
        expect(cove).toBeLessThan(plain);
        expect(plain).toBeLessThan(bead);
      },
    ),
    { seed: 20, numRuns: 300 },
  );
});

test('small ridges follow the published path-interval rules', () => {
  for (const [R, rho] of [
    [3, 20],
    [1.5, 12],
    [6.35, 30],
  ]) {
    const h = 1e-4;
    expect(scallopSpacing(R, h) / Math.sqrt(8 * R * h)).toBeCloseTo(1, 4);
    expect(scallopSpacing(R, h, 1 / rho) / Math.sqrt((8 * h * R * rho) / (R + rho))).toBeCloseTo(1, 4);
    expect(scallopSpacing(R, h, -1 / rho) / Math.sqrt((8 * h * R * rho) / (rho - R))).toBeCloseTo(1, 4);
  }
});

test('a tip that does not fit into a cove leaves no ridge there, whatever the spacing', () => {
  expect(scallopHeight(3, 1, -1 / 2)).toBe(0);
  expect(scallopSpacing(3, 0.02, -1 / 2)).toBe(Infinity);
});

test('passes further apart than their circles reach leave an endless ridge', () => {
  expect(scallopHeight(3, 6.1)).toBe(Infinity);
  expect(scallopSpacing(3, 5)).toBe(6);
});

test('the crossing of two outlines is the closed form for a ball, and the staircase of a flat end on a slope', () => {
  const ball = (d: number) => 3 - Math.sqrt(9 - d * d);
  for (const [R, s, h] of flat.filter((row) => row[0] === 3))
    expect(crossing(ball, R, 0, 0, s).height).toBeCloseTo(h, 6);
  const step = crossing(() => 0, 3, 10, 10.4, 0.8);
  expect(step).toEqual({ x: 3, height: 10.4 });
  expect(crossing(() => 0, 3, 10.4, 10, 0.8)).toEqual({ x: -2.2, height: 10.4 });
  expect(crossing(() => 0, 3, 10, 10, 6.5).height).toBe(Infinity);
});
