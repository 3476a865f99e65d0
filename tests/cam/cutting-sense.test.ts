import { expect, test } from 'vitest';
import { senseOf, senseSentence, senseSentences } from '../../src/cam/cutting-sense.ts';
import { planJob } from '../../src/cam/plan.ts';
import { loadsSentence, toolLoads } from '../../src/cam/tool-loads.ts';
import { jobFor, passOf } from '../support/cam-job.ts';
import { cylinder } from '../support/fields.ts';

/** The tooth's way against the feed, from the frame itself: spindle −z, point (x, −r·sin θ, r·cos θ) brought to the top. */
function climbs(feed: [number, number], wood: [number, number]): boolean {
  // Where the wood lies beside the bit, a tooth of a spindle turning clockwise from above moves with −ẑ × wood.
  const tooth: [number, number] = [wood[1], -wood[0]];
  // It climbs where the tooth goes against the bit's own feed: with the work, as it comes.
  return tooth[0] * feed[0] + tooth[1] * feed[1] < 0;
}

test('along x the wood lies at larger θ, that is toward −y: a stroke toward +x climbs, one toward −x does not', () => {
  // From above, [x, y].
  expect(climbs([1, 0], [0, -1])).toBe(true);
  expect(climbs([-1, 0], [0, -1])).toBe(false);
  const forth = passOf('roughing', '', [
    [2, 0, 10, 0, 900],
    [2, 50, 10, 0, 900],
  ]);
  const back = passOf('roughing', '', [
    [2, 50, 10, 0, 900],
    [2, 0, 10, 0, 900],
  ]);
  expect(senseOf([forth])).toEqual({ along: 1, climb: 1, conventional: 0 });
  expect(senseOf([back])).toEqual({ along: 1, climb: 0, conventional: 1 });
});

test('going round, the bit travels toward −y over the work: a spiral toward −x climbs, one toward +x does not', () => {
  expect(climbs([0, -1], [-1, 0])).toBe(true);
  expect(climbs([0, -1], [1, 0])).toBe(false);
  const turn = (to: number) =>
    passOf('finishing', '', [
      [2, 0, 10, 0, 900],
      [2, to, 10, 1, 900],
    ]);
  expect(senseOf([turn(-0.2)])).toEqual({ along: 0, climb: 1, conventional: 0 });
  expect(senseOf([turn(0.2)])).toEqual({ along: 0, climb: 0, conventional: 1 });
  expect(senseOf([turn(0)])).toEqual({ along: 0, climb: 0, conventional: 0 });
  expect(senseOf([])).toBeUndefined();
});

test('the finishing spiral that is planned climbs across the grain, and says so', () => {
  const job = jobFor(cylinder(14, 6));
  const coarse = { ...job, plan: { ...job.plan, scallop: 0.2 } };
  const { programs } = planJob(coarse);
  const passes = programs.flatMap((p) => p.passes).filter((p) => p.stage === 'finishing');
  const sense = senseOf(passes)!;
  expect(sense.climb).toBeGreaterThan(0.5);
  expect(sense.conventional).toBeLessThan(0.1);
  expect(senseSentences(coarse.tools.finishing, programs).join(' ')).toMatch(/^Finishing goes across the grain/);
  expect(senseSentence('Roughing', { along: 0.5, climb: 0.3, conventional: 0.7 })).toBe(
    'Roughing goes 50 % along the grain, the rest across it; 30 % climbing, 70 % conventional with a spindle that turns clockwise from above.',
  );
});

test('loads of a bit follow from its numbers: F = 1.25·u·a·f, P = u·a·w·v, T = F·R', () => {
  const job = jobFor(cylinder(100, 20));
  const { limits, bit } = job.tools.roughing;
  const l = toolLoads(job, job.tools.roughing);
  const u = job.material.cuttingForce * 1.25;
  expect(l.chip).toBeCloseTo(limits.feed / (limits.rpm * bit.teeth), 12);
  expect(l.force).toBeCloseTo(u * limits.stepDown * l.chip, 9);
  expect(l.power).toBeCloseTo((u * limits.stepDown * limits.stepOver * limits.feed) / 60 / 1000, 9);
  expect(l.torque).toBeCloseTo((l.force * job.blank.width) / Math.SQRT2 / 1000, 9);
  // FL³/3EI of a bar as thick as the bit.
  expect(l.bitGive).toBeCloseTo(
    (l.force * bit.stickOut ** 3) / ((3 * 600_000 * (Math.PI * bit.diameter ** 4)) / 64),
    12,
  );
  expect(loadsSentence(l, 0.6)).toMatch(/^Load [\d.]+ N on a dull edge: \d+ W/);
});
