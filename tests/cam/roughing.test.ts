import { describe, expect, test } from 'vitest';
import type { Job, Tool } from '../../src/cam/job.ts';
import type { Pass } from '../../src/cam/path.ts';
import { stageContext } from '../../src/cam/stages/context.ts';
import { corners } from '../../src/cam/stages/corners.ts';
import { levelsBetween } from '../../src/cam/stages/layers.ts';
import { roughing } from '../../src/cam/stages/roughing.ts';
import { turnedSpans } from '../../src/cam/work.ts';
import { Dexels, type Verdict } from '../support/dexel.ts';
import { cylinder, fieldFrom, fluted, prism, step } from '../support/fields.ts';
import { type JobParts, jobFor, toolOf } from '../support/jobs.ts';
import { pommels } from '../support/pommels.ts';
import { standing } from '../support/standing.ts';

const wave = (length: number, turns = 2) =>
  fieldFrom({ length, radius: (x) => 13 + 5 * Math.cos((x / length) * 2 * Math.PI * turns) });

interface Made {
  job: Job;
  dexels: Dexels;
  verdict: Verdict;
  passes: Pass[];
}

function run(parts: JobParts, coarse = 1): Made {
  const job = jobFor(parts);
  const ctx = stageContext(job);
  const tool = job.tools.roughing;
  const before = corners(ctx, tool);
  const passes = roughing(ctx, tool);
  const dexels = new Dexels(job, 0.6 * coarse, coarse > 1 ? 240 : 360);
  dexels.run(before, 'flat', tool.bit.diameter, tool.limits.rampAngle_deg);
  const verdict = dexels.run(passes, 'flat', tool.bit.diameter, tool.limits.rampAngle_deg);
  return { job, dexels, verdict, passes };
}

function sound({ job, verdict: v }: Made): void {
  const { limits } = job.tools.roughing;
  expect(v.gouge, v.gougeAt).toBe(0);
  expect(v.bite, v.biteAt).toBeLessThanOrEqual(limits.stepDown);
  expect(v.linkInWood, v.linkAt).toBeLessThan(0.05);
  expect(v.slantedRapid).toBe(0);
  expect(v.turn).toBeLessThan(Math.PI / 2);
  expect(v.air / v.time).toBeLessThanOrEqual(0.25);
}

/** Highest wood above where the roughing bit's tip may stand. */
function left({ job, dexels }: Made): number {
  const off = job.tools.roughing.bit.diameter / 2 + 1.3;
  const at = standing(job);
  return Math.max(...turnedSpans(job).map((s) => dexels.highest(s.from + off, s.to - off, at).most));
}

describe('roughing', () => {
  test('a cylinder is left with the allowance and no more', () => {
    const made = run({ field: cylinder(60, 12), width: 45 });
    sound(made);
    expect(made.verdict.plunge, made.verdict.plungeAt).toBeLessThanOrEqual(made.job.tools.roughing.limits.plunge);
    expect(left(made)).toBeLessThan(made.job.plan.allowance + 0.15);
    const low = -made.dexels.highest(6, 54, () => 0).most;
    expect(-low).toBeGreaterThanOrEqual(12 + made.job.plan.allowance - 0.03);
  });

  test('a wave is followed within each layer, no terraces left', () => {
    const made = run({ field: wave(150), width: 45 });
    sound(made);
    // Slopes up to 0.42: the wood beside the bit stands that much higher for the same distance.
    expect(left(made)).toBeLessThan(made.job.plan.allowance * 1.42 + 0.15);
  });

  test.each([
    ['down', 20, 9],
    ['up', 9, 20],
  ])('a shoulder %s is kept clear by the allowance', (_name, r1, r2) => {
    const made = run({ field: step(90, 45, r1, r2), width: 45 });
    sound(made);
    const high = made.dexels.highest(r1 > r2 ? 44.4 : 45, r1 > r2 ? 45 : 45.6, () => 0);
    expect(high.most).toBeGreaterThanOrEqual(20);
    expect(left(made)).toBeLessThan(made.job.plan.allowance + 0.15);
  });

  test('the walls beside pommels are smoothed, so that no layer meets what another left', () => {
    const made = run({
      field: pommels(150, 45, [
        { from: 0, to: 40 },
        { from: 110, to: 150 },
      ]),
      width: 45,
    });
    sound(made);
  });

  test('a round blank is entered by a ramp alone', () => {
    const made = run({ field: wave(80), section: 'round', width: 45 });
    sound(made);
    expect(made.verdict.plunge, made.verdict.plungeAt).toBeLessThan(0.2);
  });

  test.each(['along', 'around'] as const)('%s, when the document says so', (way) => {
    const made = run({ field: wave(80, 1), width: 40, plan: { roughing: way } });
    sound(made);
    expect(left(made)).toBeLessThan(made.job.plan.allowance * 1.42 + 0.35);
  });

  test('facets are roughed without a gouge', () => {
    const made = run({ field: prism(60, 12), width: 45 });
    sound(made);
    expect(left(made)).toBeLessThan(1.2);
  });

  test('flutes too narrow for the bit are passed over', () => {
    const made = run({ field: fluted(60, 18, 8, 2, 4, 0.3), width: 45 });
    sound(made);
    expect(left(made)).toBeLessThan(1);
  });

  test('a bit that cannot plunge only ramps', () => {
    const tool: Tool = toolOf('flat-6', { plunge: 0, rampAngle_deg: 1.5 });
    const made = run({ field: wave(80), width: 45, roughing: { ...tool, bit: { ...tool.bit, centreCutting: false } } });
    sound(made);
    expect(made.verdict.plunge, made.verdict.plungeAt).toBeLessThan(0.3);
  });

  test('slender work is cut in bays from the tail, its thinnest place last', () => {
    const thin = 300;
    const field = fieldFrom({
      length: 600,
      radius: (x) => 14 - 6 * Math.exp(-(((x - thin) / 25) ** 2)) - 4 * Math.exp(-(((x - 500) / 25) ** 2)),
    });
    const job = jobFor({ field, width: 40, bench: 'long' });
    const ctx = stageContext(job);
    corners(ctx, job.tools.roughing);
    const passes = roughing(ctx, job.tools.roughing);
    const middles = passes.map((p) => {
      const cut = Array.from(p.moves.x).filter((_, k) => p.moves.kind[k] === 2);
      return (Math.min(...cut) + Math.max(...cut)) / 2;
    });
    expect(middles[0]).toBeGreaterThan(400);
    expect(Math.abs(middles.at(-1)! - thin)).toBeLessThan(30);
    expect(passes.at(-1)!.label).toContain('thin part');
  });

  test('layers are equal, no deeper than their share of the step-down, and end at the bottom', () => {
    const tool = toolOf('flat-6', { stepDown: 2 });
    const levels = levelsBetween(30, 20.5, tool, 0.9);
    expect(levels.at(-1)).toBeCloseTo(20.5, 9);
    const steps = [30, ...levels].slice(1).map((l, k) => [30, ...levels][k]! - l);
    for (const s of steps) expect(s).toBeLessThanOrEqual(1.8 + 1e-9);
    expect(Math.max(...steps) - Math.min(...steps)).toBeLessThan(1e-9);
    expect(levelsBetween(10, 12, tool)).toEqual([]);
  });
});
