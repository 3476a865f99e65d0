import { describe, expect, test } from 'vitest';
import { TURN } from '../../shared/units.ts';
import { sectionAt } from '../../src/mesh/section.ts';
import { cylinder, fieldFrom, fluted, prism, step } from '../support/fields.ts';

describe('section properties against handbook closed forms', () => {
  test('a circle: πd²/4, πd⁴/64 either way, πd⁴/32 in torsion', () => {
    const s = sectionAt(cylinder(10, 12.5), 5);
    expect(s.area / (Math.PI * 156.25)).toBeCloseTo(1, 10);
    // d = 25: I = 19174.760 mm⁴, J = 38349.520 mm⁴.
    expect(s.smallest).toBeCloseTo(19174.76, 2);
    expect(s.largest).toBeCloseTo(19174.76, 2);
    expect(s.torsion).toBeCloseTo(38349.52, 1);
    expect(Math.hypot(s.y, s.z)).toBeLessThan(1e-9);
  });

  test('a square of half side a: 4a², 4a⁴/3, and a torsion constant below 2.2492 a⁴ but above the inner circle’s', () => {
    const s = sectionAt(prism(10, 20), 5);
    expect(s.area).toBeCloseTo(1600, 6);
    expect(s.smallest / ((4 / 3) * 160000)).toBeCloseTo(1, 8);
    // 2.2492 a⁴ (0.1406 of side⁴): Roark's Formulas for Stress and Strain, torsion of a square, from memory.
    expect(s.torsion).toBeLessThan(2.2492 * 160000);
    expect(s.torsion / (2 * 160000)).toBeCloseTo(1, 4);
  });

  test('a rectangle b × h: bh³/12 about its flat way, b³h/12 the other, the axes told apart', () => {
    // Large along y (θ = ±90°).
    const [b, h] = [30, 10];
    const field = fieldFrom({
      length: 10,
      symmetry: 2,
      creases: () =>
        [1, -1, 1, -1]
          .map((s, k) => (k < 2 ? 0 : TURN / 2) + s * Math.atan2(b, h))
          .map((t) => (t + TURN) % TURN)
          .sort((p, q) => p - q),
      radius: (_x, t) => Math.min(h / 2 / Math.abs(Math.cos(t)), b / 2 / Math.abs(Math.sin(t))),
    });
    const s = sectionAt(field, 5);
    expect(s.area).toBeCloseTo(300, 6);
    expect(s.aboutY).toBeCloseTo((b * h ** 3) / 12, 4);
    expect(s.aboutZ).toBeCloseTo((b ** 3 * h) / 12, 3);
    // 0.263 b h³ for b/h = 3 (Roark, from memory).
    expect(s.torsion).toBeLessThan(0.263 * b * h ** 3);
  });

  test('an ellipse: the torsion bound is the exact πa³b³/(a² + b²), second moments πab³/4', () => {
    const [a, b] = [12, 8];
    const field = fieldFrom({
      length: 10,
      symmetry: 2,
      radius: (_x, t) => (a * b) / Math.hypot(b * Math.cos(t), a * Math.sin(t)),
    });
    const s = sectionAt(field, 5);
    expect(s.smallest / ((Math.PI * a * b ** 3) / 4)).toBeCloseTo(1, 8);
    expect(s.largest / ((Math.PI * a ** 3 * b) / 4)).toBeCloseTo(1, 8);
    const exact = (Math.PI * a ** 3 * b ** 3) / (a * a + b * b);
    expect(s.torsion / exact).toBeCloseTo(1, 7);
  });

  test('a circle off the axis has its centre told and its moments about that centre', () => {
    // Circle of radius 10, centre 3 up: r = 3cosθ + √(100 − 9 sin²θ).
    const s = sectionAt(
      fieldFrom({
        length: 10,
        symmetry: 1,
        radius: (_x, t) => 3 * Math.cos(t) + Math.sqrt(100 - 9 * Math.sin(t) ** 2),
      }),
      5,
    );
    expect(s.z).toBeCloseTo(3, 8);
    expect(s.y).toBeCloseTo(0, 8);
    for (const moment of [s.smallest, s.largest, s.aboutY, s.aboutZ])
      expect(moment / ((Math.PI * 1e4) / 4)).toBeCloseTo(1, 8);
    expect(s.torsion).toBeLessThan((Math.PI * 1e4) / 2);
  });

  test('one lobe at 45° turns the product of inertia the right way', () => {
    // Long towards θ = 45°, which is −y and +z: product of y and z negative.
    const s = sectionAt(
      fieldFrom({ length: 10, symmetry: 2, radius: (_x, t) => 10 + 3 * Math.cos(2 * (t - TURN / 8)) }),
      5,
    );
    expect(s.product).toBeLessThan(-100);
    expect(s.largest).toBeGreaterThan(s.aboutY);
    expect(s.smallest).toBeLessThan(s.aboutY);
  });

  test('the inner circle wins where the outline is deeply cut', () => {
    const s = sectionAt(fluted(10, 20, 12, 2.5, 4), 5);
    expect(s.torsion).toBeGreaterThanOrEqual((Math.PI * 17.5 ** 4) / 2);
    expect(s.torsion).toBeLessThan((Math.PI * 20 ** 4) / 2);
  });

  test('at a shoulder the side decides which section is meant', () => {
    const field = step(100, 50, 20, 10);
    expect(sectionAt(field, 50, -1).area).toBeCloseTo(Math.PI * 400, 6);
    expect(sectionAt(field, 50, 1).area).toBeCloseTo(Math.PI * 100, 6);
  });
});
