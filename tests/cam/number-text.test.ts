import fc from 'fast-check';
import { expect, test } from 'vitest';
import { comment, plainNumber, roundDown, roundNearest, roundUp } from '../../src/cam/number-text.ts';

test('numbers are plain digits: no exponents, no trailing zeros, no minus nought', () => {
  // NISTIR 6556 §3.3.2.1 knows digits and one point, no exponent.
  expect(plainNumber(1e-7, 4)).toBe('0');
  expect(plainNumber(-1e-7, 4)).toBe('0');
  expect(plainNumber(1.5, 3)).toBe('1.5');
  expect(plainNumber(100, 0)).toBe('100');
  expect(plainNumber(100, 3)).toBe('100');
  expect(plainNumber(-0.0005, 3)).toMatch(/^(-0\.001|0)$/);
  expect(plainNumber(16384, 3)).toBe('16384');
});

test('every number reads back within half a last digit and fits the standard’s form', () => {
  fc.assert(
    fc.property(fc.double({ min: -1e9, max: 1e9, noNaN: true }), fc.integer({ min: 0, max: 6 }), (v, d) => {
      const text = plainNumber(v, d);
      expect(text).toMatch(/^-?\d+(\.\d*[1-9])?$/);
      expect(text).not.toBe('-0');
      expect(Math.abs(Number(text) - v)).toBeLessThanOrEqual(0.5 * 10 ** -d + 1e-6 * 10 ** -d + Math.abs(v) * 1e-15);
    }),
    { seed: 41, numRuns: 500 },
  );
});

test('what is no number is refused', () => {
  expect(() => plainNumber(Number.NaN, 3)).toThrow();
  expect(() => plainNumber(Infinity, 3)).toThrow();
});

test('rounding up and down never goes to the other side, and leaves round numbers alone', () => {
  fc.assert(
    fc.property(fc.double({ min: -500, max: 500, noNaN: true }), fc.integer({ min: 2, max: 5 }), (v, d) => {
      const up = roundUp(v, d);
      const down = roundDown(v, d);
      expect(up).toBeGreaterThanOrEqual(v - 2e-6 * 10 ** -d);
      expect(up).toBeLessThan(v + 10 ** -d);
      expect(down).toBeLessThanOrEqual(v + 2e-6 * 10 ** -d);
      expect(roundUp(roundNearest(v, d), d)).toBe(roundNearest(v, d));
    }),
    { seed: 42, numRuns: 500 },
  );
  expect(roundUp(20.0004, 3)).toBe(20.001);
  expect(roundDown(20.0006, 3)).toBe(20);
  expect(Object.is(roundDown(0, 3), 0)).toBe(true);
});

test('comments hold one line of plain ASCII without brackets inside', () => {
  expect(comment('Ø 20 (twice) – 90° “x”\n next')).toBe('( 20 [twice] - 90 deg x next)'.replace('( ', '('));
  expect(comment('a'.repeat(400))).toHaveLength(256);
});
