import fc from 'fast-check';
import { expect, test } from 'vitest';
import { benches, controls } from '../../shared/catalog.ts';
import { TURN } from '../../shared/units.ts';
import { axisTime, blockTime, contactLength, feedLength, feedWord, roundFeed } from '../../src/cam/block-time.ts';
import { wordsFor } from '../../src/cam/control.ts';
import { row } from '../support/cam-job.ts';

const middle = row(benches, 'middle');

/** Simpson's rule on the integrand itself: the oracle of the closed form. */
function simpson(dx: number, r0: number, r1: number, a: number, n = 4000): number {
  const f = (t: number) => Math.sqrt(dx * dx + (r1 - r0) ** 2 + ((r0 + (r1 - r0) * t) * a) ** 2);
  let sum = f(0) + f(1);
  for (let i = 1; i < n; i++) sum += f(i / n) * (i % 2 ? 4 : 2);
  return sum / (3 * n);
}

test('the closed form of the contact’s way is the integral', () => {
  fc.assert(
    fc.property(
      fc.double({ min: -50, max: 50, noNaN: true }),
      fc.double({ min: 0.3, max: 60, noNaN: true }),
      fc.oneof(fc.double({ min: 0.3, max: 60, noNaN: true }), fc.constant(0)),
      fc.double({ min: -8, max: 8, noNaN: true }),
      (dx, r0, other, a) => {
        const r1 = other === 0 ? r0 + 1e-5 : other;
        const exact = simpson(dx, r0, r1, a);
        expect(Math.abs(contactLength(dx, r0, r1, a) - exact)).toBeLessThan(1e-6 * (1 + exact));
      },
    ),
    { seed: 21, numRuns: 300 },
  );
});

test('a plain circle, a plain line and a plain plunge', () => {
  expect(contactLength(0, 20, 20, TURN)).toBeCloseTo(TURN * 20, 12);
  expect(contactLength(3, 5, 9, 0)).toBe(5);
  // Archimedean spiral from the centre, r = aθ over one turn: (a/2)(θ√(1+θ²) + asinh θ), a = 1.
  const t = TURN;
  expect(contactLength(0, 0, t, t)).toBeCloseTo(0.5 * (t * Math.hypot(1, t) + Math.asinh(t)), 9);
});

test('radii that hardly differ lose no digits', () => {
  for (const d of [1e-3, 1e-5, 2e-5, 1e-7, 1e-10, 0])
    expect(contactLength(0, 20, 20 + d, 1)).toBeCloseTo(Math.hypot(d, 20 + d / 2), 7);
});

test('hardly any turning is a straight line', () => {
  expect(contactLength(3, 20, 24, 5e-324)).toBe(5);
  expect(contactLength(3, 20, 24, 1e-9)).toBeCloseTo(5, 12);
});

test('a block takes as long as the slowest of feed, axes and reading asks', () => {
  expect(blockTime(middle, 100, 20, 20, 0, 3000)).toBeCloseTo(2, 12);
  // Faster than the axis: 100 mm at 6000 mm/min.
  expect(blockTime(middle, 100, 20, 20, 0, 50_000)).toBeCloseTo(1, 12);
  // 10 mm down at 2500 mm/min.
  expect(blockTime(middle, 0, 30, 20, 0, 50_000)).toBeCloseTo(0.24, 12);
  // Half a turn at 60 turns a minute, however small the radius.
  expect(blockTime(middle, 0, 0.3, 0.3, TURN / 2, 2000)).toBeCloseTo(0.5, 12);
  // No quicker than the control reads.
  expect(blockTime(middle, 1e-3, 20, 20, 0, 2000)).toBeCloseTo(1 / 400, 12);
});

test('no speed is a programmer’s error', () => {
  expect(() => blockTime(middle, 1, 20, 20, 0, 0)).toThrow(/> 0/);
  expect(() => roundFeed(Number.NaN, 1000)).toThrow(/> 0/);
});

test('F is rounded down to five digits and kept in range', () => {
  expect(roundFeed(1234.567, 1e6)).toEqual({ value: 1234.5, decimals: 1 });
  expect(roundFeed(0.0123456789, 1e6).value).toBe(0.012345);
  expect(roundFeed(99999.99, 1e6).value).toBe(99999);
  expect(roundFeed(1200 - 1e-10, 1e6).value).toBe(1200);
  expect(roundFeed(5e5, 2e5)).toEqual({ value: 2e5, decimals: 0 });
});

/** Words are written with three decimals, so no step is smaller. */
const grid = (span: number) => fc.integer({ min: -span * 1000, max: span * 1000 }).map((n) => n / 1000);
const steps = fc.record({
  dx: grid(20),
  dr: grid(5),
  a: grid(2),
  feed: fc.double({ min: 50, max: 20_000, noNaN: true }),
});

test.each(controls.map((c) => [c.id, c] as const))(
  '%s never runs an axis faster than the bench allows',
  (_, control) => {
    fc.assert(
      fc.property(steps, ({ dx, dr, a, feed }) => {
        fc.pre(Math.abs(dx) + Math.abs(dr) + Math.abs(a) > 1e-6);
        const t = blockTime(middle, dx, 20, 20 + dr, a, feed);
        const from = wordsFor(control, 0, 20, 0);
        const to = wordsFor(control, dx, 20 + dr, a);
        const d = { axial: to.axial - from.axial, radial: to.radial - from.radial, rotary: to.rotary - from.rotary };
        const f = feedWord(control, d, t);
        // Read F as the rule says, without the writer's own length.
        const length =
          control.feedRule === 'all-words' || control.rotary.linear
            ? Math.sqrt(d.axial ** 2 + d.radial ** 2 + d.rotary ** 2)
            : Math.sqrt(d.axial ** 2 + d.radial ** 2) || Math.abs(d.rotary);
        const taken = control.feedRule === 'inverse-time' ? 60 / f.value : (60 * length) / f.value;
        expect(taken).toBeGreaterThanOrEqual(t * (1 - 1e-9));
        expect(taken).toBeLessThan(t * 1.0002);
        expect(f.time).toBeCloseTo(taken, 9);
        expect(taken).toBeGreaterThanOrEqual(axisTime(middle, dx, dr, a) * (1 - 1e-9));
        expect(f.value).toBeLessThanOrEqual(control.feedMax);
      }),
      { seed: 31, numRuns: 200 },
    );
  },
);

test('a linear-first control measures the linear words alone, and the rotary where it moves alone', () => {
  const control = row(controls, 'four-axis-linear-first');
  expect(feedLength(control, { axial: 3, radial: 4, rotary: 100 })).toBe(5);
  expect(feedLength(control, { axial: 0, radial: 0, rotary: -90 })).toBe(90);
  expect(feedLength(row(controls, 'four-axis-all-words'), { axial: 2, radial: 3, rotary: 6 })).toBe(7);
});

test('a rotary on a linear output counts as a linear word whatever the rule', () => {
  const control = { ...row(controls, 'y-output-turn-100'), feedRule: 'linear-first' as const };
  expect(feedLength(control, { axial: 2, radial: 3, rotary: 6 })).toBe(7);
});

test('inverse time is one over the minutes', () => {
  const f = feedWord(row(controls, 'four-axis-inverse-time'), { axial: 1, radial: 0, rotary: 0 }, 30);
  // NISTIR 6556 §3.5.19: F2.0 means half a minute.
  expect(f.value).toBe(2);
});
