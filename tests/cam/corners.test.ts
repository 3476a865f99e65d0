import { describe, expect, test } from 'vitest';
import { innerRadius } from '../../src/cam/blank.ts';
import type { Job } from '../../src/cam/job.ts';
import { stageContext } from '../../src/cam/stages/context.ts';
import { corners } from '../../src/cam/stages/corners.ts';
import { turnedSpans } from '../../src/cam/work.ts';
import type { Field } from '../../src/profiles/field.ts';
import { Dexels, type Verdict } from '../support/dexel.ts';
import { fieldFrom, prism, step } from '../support/fields.ts';
import { type JobParts, jobFor } from '../support/jobs.ts';
import { pommels } from '../support/pommels.ts';
import { standing } from '../support/standing.ts';

const wave = (length: number): Field =>
  fieldFrom({ length, radius: (x) => 14 + 5 * Math.cos((x / length) * 2 * Math.PI * 2) });

function run(parts: JobParts, coarse = 1): { job: Job; dexels: Dexels; verdict: Verdict; passes: number } {
  const job = jobFor(parts);
  const ctx = stageContext(job);
  const tool = job.tools.roughing;
  const passes = corners(ctx, tool);
  const dexels = new Dexels(job, 0.6 * coarse, coarse > 1 ? 240 : 360);
  const verdict = dexels.run(passes, 'flat', tool.bit.diameter, tool.limits.rampAngle_deg);
  for (const p of passes) expect(p.stage).toBe('corners');
  return { job, dexels, verdict, passes: passes.length };
}

/** What every plan of corners must keep. */
function sound({ job, dexels, verdict: v }: ReturnType<typeof run>): void {
  const { limits, bit } = job.tools.roughing;
  expect(v.gouge, v.gougeAt).toBe(0);
  expect(v.bite, v.biteAt).toBeLessThanOrEqual(limits.stepDown);
  expect(v.linkInWood, v.linkAt).toBeLessThan(0.05);
  expect(v.plunge, v.plungeAt).toBeLessThanOrEqual(limits.plunge);
  expect(v.slantedRapid).toBe(0);
  expect(v.turn).toBeLessThan(Math.PI / 2);
  // Nothing beyond the round inside, but where the form itself stands higher, and where the bit's own radius and the wood
  // that it leaves beside a wall keep it off.
  const off = bit.diameter / 2 + 1.3;
  const lowest = standing(job);
  for (const s of turnedSpans(job)) {
    const round = innerRadius(job.blank);
    // A flat end stays above the slopes of a form, by the allowance upward and sideways.
    const form = (x: number, theta: number, wood: number) =>
      wood > round ? Math.max(round, lowest(x, theta) + 1.2) : round;
    const high = dexels.highest(Math.max(0, s.from + off), Math.min(job.field.length, s.to - off), form);
    expect(high.most, high.at).toBeLessThanOrEqual(0.02);
  }
}

const sections: [string, Partial<JobParts> & { width: number }][] = [
  ['square', { width: 45 }],
  ['rectangle', { section: 'rectangle', width: 58, height: 45 }],
  ['octagon', { section: 'polygon', sides: 8, width: 45 }],
];

describe.each(sections)('corners of a blank that is a %s', (_name, blank) => {
  test.each([50, 300])('%i mm long come off whole, never too deep, with little air', (length) => {
    const made = run({ field: wave(length), ...blank });
    sound(made);
    expect(made.verdict.air / made.verdict.time).toBeLessThanOrEqual(0.25);
  });
});

describe('corners of a square', () => {
  test('700 mm long', () => {
    const made = run({ field: wave(700), width: 45, bench: 'long' }, 2);
    sound(made);
    expect(made.verdict.air / made.verdict.time).toBeLessThanOrEqual(0.1);
  });

  test.each(['small', 'middle', 'long'])('of a short part on the %s bench', (bench) => {
    const made = run({ field: wave(50), width: 40, bench, chuckStub: 18, tailStub: 8 });
    sound(made);
    expect(made.verdict.air / made.verdict.time).toBeLessThanOrEqual(0.25);
  });

  test.each(['along', 'around'] as const)('%s, when the document says so', (way) => {
    const made = run({ field: wave(100), width: 45, plan: { corners: way } });
    sound(made);
    if (way === 'along') expect(made.passes).toBeGreaterThanOrEqual(8);
    else expect(made.passes).toBeLessThanOrEqual(8);
  });

  test.each([
    [
      'at both ends',
      [
        { from: 0, to: 40 },
        { from: 120, to: 160 },
      ],
    ],
    ['in the middle', [{ from: 60, to: 100 }]],
    ['at the chuck', [{ from: 0, to: 50 }]],
  ])('pommels %s stay square', (_where, kept) => {
    const made = run({ field: pommels(160, 45, kept), width: 45 });
    sound(made);
    for (const k of kept) {
      const i = Math.round(((k.from + k.to) / 2 - made.job.blank.from) / made.dexels.dx);
      expect(made.dexels.S[i * made.dexels.columns + made.dexels.columns / 8]).toBeCloseTo(22.5 * Math.SQRT2, 6);
    }
    expect(made.verdict.air / made.verdict.time).toBeLessThanOrEqual(0.25);
  });

  test('a sloped shoulder is shaped, not left as a square', () => {
    const made = run({ field: pommels(160, 45, [{ from: 0, to: 60 }], 15), width: 45 });
    sound(made);
    // The form's corner at x = 56 is 11 mm under the blank's: what is left there stands not much above it.
    const i = Math.round((56 - made.job.blank.from) / made.dexels.dx);
    expect(made.dexels.S[i * made.dexels.columns + 45]).toBeLessThan(22.5 * Math.SQRT2 - 6);
  });

  test('a form that fills the square keeps its corners', () => {
    const made = run({ field: prism(80, 20), width: 45 });
    sound(made);
    const i = Math.round((40 - made.job.blank.from) / made.dexels.dx);
    expect(made.dexels.S[i * made.dexels.columns + 45]).toBeGreaterThanOrEqual(20 * Math.SQRT2);
  });

  test('opposite corners follow each other, all at one depth before the next', () => {
    const job = jobFor({ field: step(300, 100, 18, 12), width: 45 });
    const labels = corners(stageContext(job), job.tools.roughing).map((p) => p.label);
    expect(labels.slice(0, 4).map((l) => Number(l.split('corner ')[1]))).toEqual([45, 225, 135, 315]);
    const layers = labels.map((l) => Number(/layer (\d+)/.exec(l)?.[1]));
    expect(layers).toEqual([...layers].sort((a, b) => a - b));
  });

  test('a round blank has none', () => {
    const job = jobFor({ field: wave(100), section: 'round', width: 45 });
    expect(corners(stageContext(job), job.tools.roughing)).toEqual([]);
  });
});
