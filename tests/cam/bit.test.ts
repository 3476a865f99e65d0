import { expect, test } from 'vitest';
import { cuspRadius, heightAt, profileHeight, profileOf } from '../../src/cam/bit.ts';
import { underside } from '../support/oracle.ts';
import { bitOf, dice, kinds, wildBit } from '../support/wild.ts';

// Plane geometry of each tip, worked by hand for round numbers.
test.each([
  ['a flat is level to its rim', bitOf('flat'), 3, 0],
  ['a ball at 3/5 of its radius has risen by a fifth of it', bitOf('ball', { diameter: 10, tipRadius: 5 }), 3, 1],
  ['a ball at its rim has risen by its radius', bitOf('ball', { diameter: 10, tipRadius: 5 }), 5, 5],
  ['a bull-nose is level inside its corner', bitOf('bull', { diameter: 10, tipRadius: 2 }), 3, 0],
  ['a bull-nose at its rim has risen by its corner', bitOf('bull', { diameter: 10, tipRadius: 2 }), 5, 2],
  ['a 90° vee rises as it widens', bitOf('vee', { includedAngle_deg: 90 }), 2, 2],
  ['a vee with a flat starts at the edge of it', bitOf('vee', { includedAngle_deg: 90, tipDiameter: 1 }), 2, 1.5],
  ['a 60° vee rises by √3', bitOf('vee', { includedAngle_deg: 60 }), 1, Math.sqrt(3)],
  [
    'a tapered ball leaves its circle where the flank is tangent',
    bitOf('tapered-ball', { tipRadius: 1, includedAngle_deg: 60 }),
    Math.sqrt(3) / 2,
    0.5,
  ],
  [
    'a tapered ball rises along its flank by the cotangent',
    bitOf('tapered-ball', { tipRadius: 1, includedAngle_deg: 60 }),
    Math.sqrt(3) / 2 + 1,
    0.5 + Math.sqrt(3),
  ],
])('%s', (_name, bit, d, height) => {
  expect(heightAt(bit, d)).toBeCloseTo(height, 12);
});

test('nothing of a bit lies outside its diameter', () => {
  for (const kind of kinds) expect(heightAt(wildBit(kind, dice(3)), 30)).toBe(Infinity);
});

test('every profile starts at 0, never falls, is convex, and agrees with its drawing (seed 11, 40 bits of each kind)', () => {
  const roll = dice(11);
  for (const kind of kinds)
    for (let k = 0; k < 40; k++) {
      const bit = wildBit(kind, roll);
      const p = profileOf(bit);
      const n = 200;
      const h = Array.from({ length: n + 1 }, (_, i) => profileHeight(p, (p.radius * i) / n));
      expect(h[0]).toBe(0);
      const inner = h.slice(1, -1);
      // A circle's end is a square root of what rounding leaves: 1e-7 is all that doubles can promise there.
      expect(Math.max(...h.map((v, i) => Math.abs(v - underside(bit, (p.radius * i) / n))))).toBeLessThan(1e-7);
      expect(Math.min(...inner.map((v, i) => v - h[i]!))).toBeGreaterThanOrEqual(-1e-12);
      expect(Math.min(...inner.map((v, i) => h[i + 2]! + h[i]! - 2 * v))).toBeGreaterThanOrEqual(-1e-7);
    }
});

test('scallops are left by the ball, the corner or the tip circle, not by a point', () => {
  expect(cuspRadius(bitOf('ball', { diameter: 6 }))).toBe(3);
  expect(cuspRadius(bitOf('bull', { tipRadius: 1 }))).toBe(1);
  expect(cuspRadius(bitOf('tapered-ball', { tipRadius: 0.5, includedAngle_deg: 10 }))).toBe(0.5);
  expect(cuspRadius(bitOf('flat'))).toBe(0);
});
