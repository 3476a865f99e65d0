import { expect, test } from 'vitest';
import { CONTACT_BELOW } from '../../shared/tolerances.ts';
import { finishing } from '../../src/cam/stages/finishing.ts';
import { grooves, trackStep } from '../../src/cam/stages/grooves.ts';
import { cylinder, fluted, step } from '../support/fields.ts';
import { bitNamed, jobFor, toolOf } from '../support/jobs.ts';
import { leftBy } from '../support/ridges.ts';
import { leastAbove, random, skinned, turnsBack } from '../support/skin.ts';

/** Flutes of radius c, narrower than the 6 mm ball that finishes; a smaller bit follows. */
function narrow(detail: string, c: number, turns: number) {
  const field = fluted(16, 10, 3, 0.9, c, turns);
  const base = jobFor({ field, width: 22 });
  const tool = toolOf(detail, { stepDown: 0.6, plunge: 0.6 });
  const job = { ...base, tools: { ...base.tools, detail: [tool] } };
  const ctx = skinned(job, 0.3, job.tools.finishing.bit);
  const finish = finishing(ctx, job.tools.finishing);
  const passes = grooves(ctx, tool);
  // The flute's half angle at the surface.
  const centre = 10 - 0.9 + c;
  const half = Math.acos((100 + centre * centre - c * c) / (20 * centre));
  return { field, job, ctx, tool, finish, passes, half };
}

test.each([
  ['tapered-half', 1.4, 0.06],
  ['vee-30', 1.4, 0],
  ['ball-eighth', 1.8, -0.06],
])('%s clears flutes of radius %d that the finishing bit could not enter, and gouges nothing', (detail, c, turns) => {
  const { field, job, ctx, tool, finish, passes, half } = narrow(detail, c, turns);
  expect(passes).toHaveLength(3);
  expect(passes.every((p) => p.stage === 'grooves')).toBe(true);
  expect(leastAbove(ctx, tool.bit, passes, 40)).toBeGreaterThan(-CONTACT_BELOW);
  const next = random(9);
  let before = 0;
  let after = 0;
  for (let k = 0; k < 20; k++) {
    const x = 6 + next() * 4;
    const theta = field.turning(x) + (next() - 0.5) * 1.9 * half;
    const r = field.radius(x, theta);
    const left = leftBy(job.tools.finishing.bit, finish.at(-1)!.moves, x, theta) - r;
    before = Math.max(before, left);
    after = Math.max(after, Math.min(left, ...passes.map((p) => leftBy(tool.bit, p.moves, x, theta) - r)));
  }
  expect(before).toBeGreaterThan(0.3);
  expect(after).toBeLessThan(0.1);
});

test('along turned flutes θ never goes back', () => {
  for (const turns of [0.06, -0.06]) expect(turnsBack(narrow('ball-eighth', 1.8, turns).passes)).toBe(0);
});

test('no bite is deeper than the step-down', () => {
  const field = fluted(16, 10, 3, 0.9, 1.4, 0);
  const base = jobFor({ field, width: 22 });
  const tool = toolOf('tapered-half', { stepDown: 0.4, plunge: 0.4 });
  const job = { ...base, tools: { ...base.tools, detail: [tool] } };
  const [ctx, again] = [0, 1].map(() => skinned(job, 0.2, job.tools.finishing.bit));
  let deepest = 0;
  for (const { moves: m } of grooves(ctx, tool))
    for (let i = 1; i < m.count; i++)
      if (m.kind[i] !== 0)
        deepest = Math.max(
          deepest,
          again.wood.take(tool.bit, m.x[i - 1], m.r[i - 1], m.theta[i - 1], m.x[i], m.r[i], m.theta[i]).depth,
        );
  expect(deepest).toBeGreaterThan(0.2);
  expect(deepest).toBeLessThan(0.4 + 0.08);
});

test('a bit that cannot be plunged comes down by its ramp', () => {
  const field = fluted(24, 10, 3, 0.9, 1.8, 0);
  const base = jobFor({ field, width: 22 });
  const plain = toolOf('ball-eighth', { stepDown: 0.6, plunge: 0, rampAngle_deg: 3 });
  const tool = { ...plain, bit: { ...plain.bit, centreCutting: false } };
  const job = { ...base, tools: { ...base.tools, detail: [tool] } };
  const ctx = skinned(job, 0.3, job.tools.finishing.bit);
  const before = skinned(job, 0.3, job.tools.finishing.bit);
  const [pass] = grooves(ctx, tool);
  const m = pass.moves;
  for (let i = 1; i < m.count && m.kind[i - 1] !== 2; i++) {
    // The first cut: where it goes down into wood it goes no steeper than 3°.
    if (m.kind[i] !== 2) continue;
    const run = Math.hypot(m.x[i] - m.x[i - 1], (m.theta[i] - m.theta[i - 1]) * 10);
    const inWood = before.wood.lowest(tool.bit, m.x[i], m.theta[i]) - m.r[i];
    if (inWood > 0.02) expect(m.r[i - 1] - m.r[i]).toBeLessThan(run * Math.tan((3.2 * Math.PI) / 180) + 0.02);
  }
});

test('where the finishing bit has reached everything there is nothing to do', () => {
  const field = fluted(16, 10, 3, 0.8, 6, 0);
  const base = jobFor({ field, width: 22 });
  const tool = toolOf('tapered-half');
  const job = { ...base, tools: { ...base.tools, detail: [tool] } };
  const ctx = skinned(job, 0.3);
  finishing(ctx, job.tools.finishing);
  const passes = grooves(ctx, tool);
  // At the very ends the stubs keep the finishing bit out; between them nothing is cut.
  for (const { moves } of passes)
    for (let i = 0; i < moves.count; i++)
      if (moves.kind[i] === 2) expect(Math.min(moves.x[i], 16 - moves.x[i])).toBeLessThan(5);
  const plain = jobFor({ field: cylinder(20, 9), width: 20 });
  const done = skinned(plain);
  finishing(done, plain.tools.finishing);
  expect(grooves(done, tool)).toEqual([]);
});

test('tracks lie as far apart as the ridge allows: a ball by its circle, a vee by its flanks', () => {
  expect(trackStep(bitNamed('ball-6'), 0.02)).toBeCloseTo(0.69166466, 6);
  expect(trackStep({ ...bitNamed('vee-90'), tipDiameter: 0 }, 0.1)).toBeCloseTo(0.2, 9);
});

test('beside a shoulder the small bit goes round where the ball’s own radius has left its fillet, and nowhere else', () => {
  const field = step(40, 20, 14, 9);
  const base = jobFor({ field, width: 30 });
  const tool = toolOf('tapered-half', { stepDown: 0.8, plunge: 0.8 });
  const job = { ...base, tools: { ...base.tools, detail: [tool] } };
  const ctx = skinned(job, 0.3, job.tools.finishing.bit);
  const finish = finishing(ctx, job.tools.finishing);
  const passes = grooves(ctx, tool);
  expect(passes.length).toBeGreaterThan(0);
  expect(leastAbove(ctx, tool.bit, passes, 15)).toBeGreaterThan(-CONTACT_BELOW);
  expect(turnsBack(passes)).toBe(0);
  for (const { moves } of passes)
    for (let i = 0; i < moves.count; i++)
      if (moves.kind[i] === 2) expect(moves.x[i] > 18 && moves.x[i] < 25).toBe(true);
  const left = (x: number) => {
    const ball = leftBy(job.tools.finishing.bit, finish.at(-1)!.moves, x, 1);
    return [ball, Math.min(ball, ...passes.map((p) => leftBy(tool.bit, p.moves, x, 1)))].map((r) => r - 9);
  };
  // Half way up the ball's fillet, R − √(R² − (R − e)²), beside it the small bit's floor.
  const [before, after] = left(21);
  expect(before).toBeGreaterThan(3 - Math.sqrt(9 - 4) - 0.01);
  expect(after).toBeLessThan(0.06);
});
