/** Ray against bit: closed forms against marching along the ray. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bits } from '../../shared/catalog.ts';
import { enter, inside, leave, rise, shapeOf } from '../../src/cam/proof/shape.ts';

const MARCH = 2000;
/** Evenly spread numbers: the library's own doubles crowd around 0. */
const even = (min: number, max: number) =>
  fc.integer({ min: 0, max: 1_000_003 }).map((k) => min + ((max - min) * k) / 1_000_003);

/** First and last point inside, by walking along the ray in small steps and then halving. */
function march(s: ReturnType<typeof shapeOf>, tip: number, u: number, sin: number, cos: number, far: number) {
  const within = (t: number) => {
    const d = Math.hypot(u, t * sin);
    return d <= s.R && t * cos >= tip + rise(s, d);
  };
  const edge = (a: number, b: number) => {
    let lo = a;
    let hi = b;
    for (let k = 0; k < 60; k++) {
      const mid = (lo + hi) / 2;
      if (within(mid) === within(b)) hi = mid;
      else lo = mid;
    }
    return (lo + hi) / 2;
  };
  let first = -1;
  let last = -1;
  for (let k = 0; k <= MARCH; k++)
    if (within((far * k) / MARCH)) {
      if (first < 0) first = k;
      last = k;
    }
  if (first < 0) return undefined;
  const at = (k: number) => (far * k) / MARCH;
  return {
    from: first === 0 ? 0 : edge(at(first - 1), at(first)),
    to: last === MARCH ? Infinity : edge(at(last + 1), at(last)),
  };
}

describe.each(bits.map((b) => [b.id, b] as const))('%s', (_id, bit) => {
  const s = shapeOf(bit);
  test('enters and leaves where marching along the ray says', () => {
    let met = 0;
    let tunnelled = 0;
    fc.assert(
      fc.property(even(0.5, 30), even(-1.05, 1.05), even(-1, 1), (tip, share, turned) => {
        // Crowded to the middle, where a thin bit is met, and still out to 70°.
        const delta = 1.22 * turned ** 3;
        const u = share * s.R;
        const sin = Math.sin(delta);
        const cos = Math.cos(delta);
        const far = 60;
        const found = march(s, tip, u, sin, cos, far);
        const t = enter(s, tip, u, sin, cos);
        if (!found) {
          // Marching may step over a graze shorter than its own step.
          if (t < far) expect(leave(s, tip, u, sin, cos, t) - t).toBeLessThan((1.5 * far) / MARCH);
          return;
        }
        met++;
        expect(t).toBeCloseTo(found.from, 5);
        const to = leave(s, tip, u, sin, cos, t);
        if (found.to === Infinity) expect(to).toBeGreaterThan(far - 1e-6);
        else {
          tunnelled++;
          expect(to).toBeCloseTo(found.to, 5);
        }
      }),
      { seed: 7, numRuns: 500 },
    );
    expect(met).toBeGreaterThan(20);
    expect(tunnelled).toBeGreaterThan(5);
  });
  test('the lower surface rises from nought, never falls, and has no jump within the cutting radius', () => {
    expect(rise(s, 0)).toBe(0);
    let last = 0;
    for (let k = 1; k <= 2000; k++) {
      const h = rise(s, (s.R * k) / 2000);
      expect(h).toBeGreaterThanOrEqual(last - 1e-12);
      expect(h - last).toBeLessThan(0.15 * s.R);
      last = h;
    }
    expect(last).toBeCloseTo(s.rim, 9);
    expect(rise(s, s.R * 1.0001)).toBe(Infinity);
  });
  test('straight below, a ray meets the very tip', () => {
    expect(enter(s, 12, 0, 0, 1)).toBeCloseTo(12, 12);
    expect(inside(s, 12, 0, 0, 1, 12.001)).toBe(true);
    expect(inside(s, 12, 0, 0, 1, 11.999)).toBe(false);
  });
});
