import { describe, expect, test } from 'vitest';
import { radians } from '../../shared/units.ts';
import { cornersOf, turnedSpans, untouched, workSurface } from '../../src/cam/work.ts';
import { cone, cylinder, prism, step } from '../support/fields.ts';
import { jobFor } from '../support/jobs.ts';
import { pommels } from '../support/pommels.ts';

describe('the work surface', () => {
  const job = jobFor({ field: cone(100, 8, 0.05), width: 45, stubRadius: 6 });
  const work = workSurface(job);

  test('is the form between its ends', () => {
    for (const x of [1, 37.5, 99]) expect(work.radius(x, 1)).toBe(job.field.radius(x, 1));
  });

  test('has beside each end a stub as thick as the end, or as the stub must be', () => {
    expect(work.radius(-3, 1)).toBe(8);
    expect(work.radius(103, 1)).toBeCloseTo(13, 9);
    const thin = workSurface(jobFor({ field: cylinder(100, 4), width: 45, stubRadius: 6 }));
    expect(thin.radius(-3, 1)).toBe(6);
    expect(thin.radius(103, 2)).toBe(6);
  });

  test('is the untouched blank beyond the stubs', () => {
    expect(work.radius(-20, radians(45))).toBeCloseTo(22.5 * Math.SQRT2, 9);
    expect(work.radius(110, 0)).toBeCloseTo(22.5, 9);
    expect(work.from).toBe(job.blank.from);
    expect(work.to).toBe(job.blank.to);
  });

  test('has shoulders where its parts meet, and takes the side that is asked', () => {
    expect(work.breaks.filter((b) => b.kind === 'shoulder').map((b) => b.x)).toEqual([-6, 0, 100, 106]);
    expect(work.radius(-6, radians(45), 1)).toBe(8);
    expect(work.radius(-6, radians(45), -1)).toBeCloseTo(22.5 * Math.SQRT2, 9);
    expect(work.radius(-6, radians(45))).toBeCloseTo(22.5 * Math.SQRT2, 9);
  });

  test('is round only where form and stubs are', () => {
    expect(work.isRound(10, 90)).toBe(true);
    expect(work.isRound(-10, 0)).toBe(false);
    expect(work.creases(-10)).toEqual(cornersOf(job.blank));
    expect(work.creases(50)).toEqual([]);
  });

  test('bounds enclose what is found', () => {
    for (const [a, b] of [
      [-30, -5],
      [-8, 4],
      [20, 60],
      [95, 112],
    ] as const) {
      const [lo, hi] = work.bounds(a, b);
      for (let x = a; x <= b; x += 0.7)
        for (let t = 0; t < 6.3; t += 0.1) {
          const r = work.radius(x, t);
          expect(r).toBeGreaterThanOrEqual(lo - 1e-9);
          expect(r).toBeLessThanOrEqual(hi + 1e-9);
        }
    }
  });

  test('a carved end makes a stub around its widest, inside the blank', () => {
    const square = workSurface(jobFor({ field: prism(80, 20), width: 45 }));
    // The corner of the prism at 20·√2 = 28.28 pokes out of the blank's face at 22.5.
    expect(square.radius(-3, 0)).toBeCloseTo(22.5, 9);
    expect(square.radius(-3, radians(45))).toBeCloseTo(20 * Math.SQRT2, 6);
    // Crossings of that circle with the face: acos(22.5 / 28.28).
    expect(square.creases(-3)[0]).toBeCloseTo(Math.acos(22.5 / (20 * Math.SQRT2)), 6);
  });
});

describe('turned spans', () => {
  test('run over form and stubs where nothing is kept', () => {
    expect(turnedSpans(jobFor({ field: step(100, 40, 20, 9), width: 45 }))).toEqual([{ from: -6, to: 106 }]);
  });

  test('leave out pommels, and the stub beside a pommel', () => {
    const job = jobFor({ field: pommels(300, 45, [{ from: 0, to: 40 }]), width: 45 });
    expect(turnedSpans(job)).toEqual([{ from: 40, to: 306 }]);
    const both = jobFor({
      field: pommels(300, 45, [
        { from: 0, to: 40 },
        { from: 250, to: 300 },
      ]),
      width: 45,
    });
    expect(turnedSpans(both)).toEqual([{ from: 40, to: 250 }]);
    const middle = jobFor({ field: pommels(300, 45, [{ from: 100, to: 160 }]), width: 45 });
    expect(turnedSpans(middle)).toEqual([
      { from: -6, to: 100 },
      { from: 160, to: 306 },
    ]);
  });

  test('take in the sloped shoulder of a pommel: only what keeps its corners is untouched', () => {
    const job = jobFor({ field: pommels(300, 45, [{ from: 0, to: 60 }], 15), width: 45 });
    const [kept] = untouched(job);
    expect(kept!.from).toBe(0);
    expect(kept!.to).toBeGreaterThan(44.4);
    expect(kept!.to).toBeLessThanOrEqual(45);
    expect(turnedSpans(job)[0]!.from).toBe(kept!.to);
  });
});
