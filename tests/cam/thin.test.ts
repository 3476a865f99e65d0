import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type Samples, type Thinning, thin } from '../../src/cam/thin.ts';

const QUARTER = Math.PI / 2;
const rules = (change: Partial<Thinning> = {}): Thinning => ({
  tolerance: 0.01,
  widest: 0.01,
  shortest: 0,
  quantum: 0.001,
  turn: QUARTER * 0.98,
  ...change,
});

function samplesOf(low: number[], step: number, x: (theta: number) => number = () => 0, knots: number[] = []): Samples {
  const theta = Float64Array.from(low, (_, i) => i * step);
  const knot = new Uint8Array(low.length);
  for (const k of [0, low.length - 1, ...knots]) knot[k] = 1;
  return { run: theta, theta, x: Float64Array.from(theta, x), low: Float64Array.from(low), knot };
}

/** Radius of the thinned path at sample i. */
function pathAt(samples: Samples, kept: ReturnType<typeof thin>): Float64Array {
  const out = new Float64Array(samples.run.length);
  for (let k = 0; k + 1 < kept.index.length; k++) {
    const [a, b] = [kept.index[k], kept.index[k + 1]];
    for (let i = a; i <= b; i++) {
      const s = (samples.run[i] - samples.run[a]) / (samples.run[b] - samples.run[a]);
      out[i] = kept.r[k] + (kept.r[k + 1] - kept.r[k]) * s;
    }
  }
  return out;
}

const walk = fc
  .array(fc.double({ min: -0.03, max: 0.03, noNaN: true }), { minLength: 20, maxLength: 300 })
  .map((steps) => {
    let r = 15;
    return steps.map((d) => {
      r += d;
      return r;
    });
  });

test('a thinned path is never below its samples nor above them by more than the tolerance, in whole last decimals', () => {
  fc.assert(
    fc.property(
      walk,
      fc.constantFrom(0.004, 0.01, 0.05),
      fc.constantFrom(0.001, 0.00254 / 2),
      (low, tolerance, quantum) => {
        const samples = samplesOf(low, 0.02);
        const kept = thin(samples, rules({ tolerance, widest: tolerance, quantum }));
        const path = pathAt(samples, kept);
        for (let i = 0; i < low.length; i++) {
          expect(path[i]).toBeGreaterThanOrEqual(low[i] - 1e-8);
          expect(path[i]).toBeLessThanOrEqual(low[i] + tolerance + 1e-8);
        }
        for (const r of kept.r) expect(Math.abs(r / quantum - Math.round(r / quantum))).toBeLessThan(1e-6);
      },
    ),
    { seed: 7, numRuns: 300 },
  );
});

test('θ grows from block to block and no block turns a quarter', () => {
  fc.assert(
    fc.property(fc.integer({ min: 10, max: 200 }), fc.double({ min: 0.05, max: 1.5, noNaN: true }), (n, step) => {
      const samples = samplesOf(new Array(n).fill(12.3), step);
      const kept = thin(samples, rules());
      for (let k = 1; k < kept.index.length; k++) {
        const d = samples.theta[kept.index[k]] - samples.theta[kept.index[k - 1]];
        expect(d).toBeGreaterThan(0);
        expect(d).toBeLessThan(QUARTER);
      }
    }),
    { seed: 8, numRuns: 200 },
  );
});

test('a cylinder keeps five blocks a turn and nothing else', () => {
  const samples = samplesOf(new Array(721).fill(20), (2 * Math.PI) / 720);
  expect(thin(samples, rules()).index.length).toBe(6);
});

test('first, last and knots are kept, so that x stays straight within every block', () => {
  const samples = samplesOf(new Array(100).fill(9), 0.05, (t) => (t < 2 ? t : 2 + 3 * (t - 2)), [40]);
  const kept = [...thin(samples, rules()).index];
  expect(kept).toContain(40);
  expect(kept[0]).toBe(0);
  expect(kept.at(-1)).toBe(99);
});

test('a fluted section takes about 110 blocks a turn at 0.01 mm, fewer when the tolerance is wider', () => {
  // A ball of radius 2 over a section 20 + 0.6·cos 12θ lowered to one side: smooth waves of the size of flutes.
  const low = Array.from({ length: 721 }, (_, i) => 18.4 + 1.6 * Math.abs(Math.cos((i * Math.PI) / 120)) ** 0.5);
  const count = (tolerance: number) =>
    thin(samplesOf(low, (2 * Math.PI) / 720), rules({ tolerance, widest: tolerance })).index.length - 1;
  const [fine, usual, coarse] = [count(0.005), count(0.01), count(0.05)];
  expect(usual).toBeLessThan(fine);
  expect(coarse).toBeLessThan(usual);
  expect(usual).toBeGreaterThan(40);
  expect(usual).toBeLessThan(150);
});

test('blocks too short for the control are lengthened within the wider tolerance before anything is slowed', () => {
  const low = Array.from({ length: 400 }, (_, i) => 15 + 0.02 * Math.sin(i / 3));
  const samples = samplesOf(low, 0.004);
  const lengths = (kept: ReturnType<typeof thin>) =>
    [...kept.index].slice(1).map((b, k) => (samples.theta[b] - samples.theta[kept.index[k]]) * 15);
  const short = (list: number[]) => list.filter((l) => l < 0.5).length / list.length;
  const narrow = thin(samples, rules({ tolerance: 0.005, widest: 0.005, shortest: 0.5 }));
  const wide = thin(samples, rules({ tolerance: 0.005, widest: 0.02, shortest: 0.5 }));
  expect(short(lengths(wide))).toBeLessThan(0.5 * short(lengths(narrow)));
  const path = pathAt(samples, wide);
  for (let i = 0; i < low.length; i++) {
    expect(path[i]).toBeGreaterThanOrEqual(low[i] - 1e-8);
    expect(path[i]).toBeLessThanOrEqual(low[i] + 0.02 + 1e-8);
  }
});

test('a tolerance below two last decimals, a run that stands still, and samples a quarter turn apart are refused', () => {
  expect(() => thin(samplesOf([1, 1], 0.1), rules({ tolerance: 0.0015 }))).toThrow(RangeError);
  expect(() => thin(samplesOf([1, 1], 0), rules())).toThrow(RangeError);
  expect(() => thin(samplesOf([1, 1], 1.6), rules())).toThrow(RangeError);
});
