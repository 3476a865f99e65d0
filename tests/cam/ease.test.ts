import fc from 'fast-check';
import { expect, test } from 'vitest';
import { EASE_LEAST, type Ease, easeAt, easeFor, easeOver } from '../../src/cam/ease.ts';
import { easeOf } from '../../src/cam/easing.ts';
import { planJob } from '../../src/cam/plan.ts';
import { SAFE, stagesOf, strengthOf } from '../../src/cam/strength.ts';
import { jobFor } from '../support/cam-job.ts';
import { cylinder, fieldFrom } from '../support/fields.ts';

const ease: Ease = {
  xs: Float64Array.of(0, 10, 20, 30),
  roughing: Float64Array.of(1, 1, 1, 1),
  finishing: Float64Array.of(1, 0.5, 0.8, 1),
  stepDown: Float64Array.of(1, 1, 1, 1),
};

test('between stations the smaller share holds, beyond the ends the end’s', () => {
  expect([-5, 0, 5, 10, 15, 25, 30, 99].map((x) => easeAt(ease, 'finishing', x))).toEqual([
    1, 1, 0.5, 0.5, 0.5, 0.8, 1, 1,
  ]);
  expect(easeAt(undefined, 'finishing', 5)).toBe(1);
});

test('over a way the least share of all places on it holds, whichever way it goes (against every place looked at)', () => {
  fc.assert(
    fc.property(fc.integer({ min: -50, max: 400 }), fc.integer({ min: -50, max: 400 }), (tenthsA, tenthsB) => {
      const [a, b] = [tenthsA / 10, tenthsB / 10];
      let least = 1;
      for (let i = 0; i <= 400; i++)
        least = Math.min(least, easeAt(ease, 'finishing', i === 400 ? b : a + ((b - a) * i) / 400));
      expect(easeOver(ease, 'finishing', a, b)).toBeLessThanOrEqual(least);
      expect(easeOver(ease, 'finishing', a, b)).toBe(easeOver(ease, 'finishing', b, a));
    }),
    { seed: 71, numRuns: 200 },
  );
  expect(easeOver(ease, 'finishing', 21, 29)).toBe(0.8);
});

test('shares are tidy, never more than is needed, and never below the least', () => {
  expect(easeFor(1.7)).toBe(1);
  expect(easeFor(0.79)).toBe(0.7);
  expect(easeFor(0.6)).toBe(0.6);
  expect(easeFor(0.05)).toBe(EASE_LEAST);
});

test('a stout part is cut at full feed everywhere', () => {
  expect(easeOf(jobFor(cylinder(100, 15)))).toBeUndefined();
});

/** Long and thin enough to bend a little past the tolerance in its middle at full feed. */
const rod = () => jobFor(cylinder(300, 7), { finishing: 'ball-6' });

test('a part that would bend past the tolerance is finished more slowly there, and then does not', () => {
  const job = rod();
  expect(strengthOf(job).finishingDeflection).toBeGreaterThan(job.tolerance);
  const slowed = easeOf(job)!;
  const middle = slowed.xs.findIndex((x) => x >= 150);
  expect(slowed.finishing[middle]!).toBeLessThan(1);
  expect(slowed.finishing[0]).toBe(1);
  const after = strengthOf({ ...job, ease: slowed });
  expect(after.finishingDeflection).toBeLessThanOrEqual(job.tolerance);
  expect(after.stations[middle]!.finishingFeed).toBe(slowed.finishing[middle]);
});

test('a thin neck is roughed with less force: bending and torque stay a half of what it bears', () => {
  const neck = fieldFrom({ length: 120, radius: (x) => (Math.abs(x - 60) < 12 ? 1.8 : 14) });
  const job = jobFor(neck);
  const slowed = easeOf(job)!;
  const rough = (j: typeof job) => stagesOf(j).answers.find((a) => a.load.stage === 'roughing')!;
  const safety = (a: ReturnType<typeof rough>) => Math.min(...a.bending, ...a.torsion);
  expect(safety(rough(job))).toBeLessThan(SAFE);
  expect(safety(rough({ ...job, ease: slowed }))).toBeGreaterThan(safety(rough(job)));
  expect(Math.min(...slowed.roughing)).toBeLessThan(1);
});

test('the plan keeps to it: no finishing block is faster than its place allows', () => {
  const job = { ...jobFor(cylinder(24, 6)), plan: { ...jobFor(cylinder(24, 6)).plan, scallop: 0.1 } };
  const slow: Ease = {
    xs: Float64Array.of(-20, 8, 16, 50),
    roughing: Float64Array.of(0.6, 0.6, 0.6, 0.6),
    finishing: Float64Array.of(1, 0.5, 0.5, 1),
    stepDown: Float64Array.of(1, 1, 1, 1),
  };
  const feeds = (stage: string) =>
    planJob({ ...job, ease: slow })
      .programs.flatMap((p) => p.passes)
      .filter((p) => p.stage === stage)
      .flatMap(({ moves }) =>
        Array.from({ length: moves.count }, (_, i) => i)
          .filter((i) => i > 0 && moves.feed[i]! > 0 && moves.kind[i] === 2)
          .map((i) => ({ from: moves.x[i - 1]!, to: moves.x[i]!, feed: moves.feed[i]! })),
      );
  const full = job.tools.finishing.limits.finishFeed;
  const finishing = feeds('finishing');
  expect(finishing.some((f) => f.feed <= full * 0.5 + 1e-9)).toBe(true);
  for (const f of finishing)
    expect(f.feed).toBeLessThanOrEqual(full * easeOver(slow, 'finishing', f.from, f.to) + 1e-9);
  const rough = feeds('roughing');
  expect(rough.length).toBeGreaterThan(0);
  for (const f of rough) expect(f.feed).toBeLessThanOrEqual(job.tools.roughing.limits.feed * 0.6 + 1e-9);
});
