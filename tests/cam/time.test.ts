import fc from 'fast-check';
import { expect, test } from 'vitest';
import { benches, controls } from '../../shared/catalog.ts';
import { axisTime, blockTime } from '../../src/cam/block-time.ts';
import { MotionBuilder } from '../../src/cam/motion.ts';
import type { StageName } from '../../src/cam/path.ts';
import { estimateTime } from '../../src/cam/time.ts';
import { row } from '../support/cam-job.ts';

const control = row(controls, 'four-axis-inverse-time');
const middle = row(benches, 'middle');

const step = fc.record({
  rapid: fc.boolean(),
  dx: fc.double({ min: -30, max: 30, noNaN: true }),
  dr: fc.double({ min: -6, max: 6, noNaN: true }),
  a: fc.double({ min: -3, max: 3, noNaN: true }),
  stage: fc.constantFrom<StageName>('corners', 'roughing', 'finishing'),
});

const built = (steps: { rapid: boolean; dx: number; dr: number; a: number; stage: StageName }[]) => {
  const m = new MotionBuilder();
  for (const s of steps)
    m.add(s.stage, s.rapid, s.dx, s.dr, s.a, s.rapid ? 0 : blockTime(middle, s.dx, 20, 20 + s.dr, s.a, 2000));
  return m.motion();
};

test('the estimate is never below what feeds and axis speeds allow, and its stages add up to it', () => {
  fc.assert(
    fc.property(fc.array(step, { minLength: 1, maxLength: 40 }), (steps) => {
      const motion = built(steps);
      const t = estimateTime(motion, middle, control);
      let least = 0;
      for (let i = 0; i < motion.count; i++)
        least += Math.max(motion.time[i]!, axisTime(middle, motion.dx[i]!, motion.dr[i]!, motion.dTheta[i]!));
      expect(t.total_s).toBeGreaterThanOrEqual(least * (1 - 1e-9));
      expect(t.stages.reduce((a, s) => a + s.time_s, 0)).toBeCloseTo(t.total_s, 9);
      expect(t.acceleration_s).toBeGreaterThanOrEqual(-1e-9);
      expect(Number.isFinite(t.total_s)).toBe(true);
    }),
    { seed: 71, numRuns: 200 },
  );
});

test('more acceleration, a longer look ahead and a wider corner never take longer', () => {
  fc.assert(
    fc.property(fc.array(step, { minLength: 1, maxLength: 40 }), (steps) => {
      const motion = built(steps);
      const t = (o: object) => estimateTime(motion, middle, control, o).total_s;
      const base = t({ blocks: 8, junction: 0.02 });
      expect(t({ blocks: 8, junction: 0.02, acceleration: 1.5 })).toBeLessThanOrEqual(base * (1 + 1e-9));
      expect(t({ blocks: 80, junction: 0.02 })).toBeLessThanOrEqual(base * (1 + 1e-9));
      expect(t({ blocks: 8, junction: 0.2 })).toBeLessThanOrEqual(base * (1 + 1e-9));
    }),
    { seed: 72, numRuns: 100 },
  );
});

test('a way run backwards takes as long', () => {
  fc.assert(
    fc.property(fc.array(step, { minLength: 1, maxLength: 20 }), (steps) => {
      const t = (s: typeof steps) => {
        const motion = built(s.map((q) => ({ ...q, rapid: true })));
        return estimateTime(motion, { ...middle, blocksPerSecond: 1e6 }, control, { blocks: 1e6 }).total_s;
      };
      const back = [...steps].reverse().map((s) => ({ ...s, dx: -s.dx, dr: -s.dr, a: -s.a }));
      expect(t(back) / t(steps)).toBeCloseTo(1, 6);
    }),
    { seed: 73, numRuns: 60 },
  );
});

test('rapids count to the stage they happen in, waiting to the whole', () => {
  const m = new MotionBuilder();
  m.add('roughing', true, 100, 0, 0, 0);
  m.add('finishing', false, 100, 0, 0, 10);
  m.wait(2);
  const t = estimateTime(m.motion(), middle, control);
  expect(t.stages.map((s) => s.stage)).toEqual(['roughing', 'finishing']);
  expect(t.dwell_s).toBe(2);
  expect(t.total_s).toBeCloseTo(t.stages[0]!.time_s + t.stages[1]!.time_s + 2, 9);
  expect(t.rapid_s).toBeCloseTo(t.stages[0]!.time_s, 9);
});

test('the rotary on a linear output is measured in that output’s units', () => {
  const m = new MotionBuilder();
  m.add('roughing', true, 0, 0, 20 * Math.PI, 0);
  const motion = m.motion();
  const degrees = estimateTime(motion, middle, control).total_s;
  // Ten turns at one a second, 1500 °/s²: whatever the word is called, the axis is the same.
  expect(degrees).toBeCloseTo(10 + 360 / 1500, 9);
  expect(estimateTime(motion, middle, row(controls, 'y-output-turn-100')).total_s).toBeCloseTo(degrees, 9);
});

test('rapids in many short lines wait for a control that reads slowly', () => {
  const m = new MotionBuilder();
  for (let i = 0; i < 100; i++) m.add('roughing', true, 0.1, 0, 0, 0);
  expect(estimateTime(m.motion(), { ...middle, blocksPerSecond: 10 }, control).total_s).toBeCloseTo(10, 0);
});

test('no blocks take no time', () => {
  expect(estimateTime(new MotionBuilder().motion(), middle, control).total_s).toBe(0);
});
