import { expect, test } from 'vitest';
import { necking } from '../../src/cam/stages/necking.ts';
import type { Field } from '../../src/profiles/field.ts';
import { cylinder } from '../support/fields.ts';
import { jobFor, toolOf } from '../support/jobs.ts';
import { skinned, turnsAt, turnsBack } from '../support/skin.ts';

function necked(field: Field = cylinder(40, 12), plan = {}, change = {}) {
  const base = jobFor({ field, width: 26, plan, roughing: toolOf('flat-4', { stepDown: 2, ...change }) });
  const job = { ...base, keepOut: [] };
  const ctx = skinned(job, 0.3);
  return { ctx, job, passes: necking(ctx, job.tools.roughing) };
}

test('both ends are turned down to the stub and never below it, the tail end first', () => {
  const { passes, ctx, job } = necked();
  const low = (end: string) =>
    Math.min(...passes.filter((p) => p.label.startsWith(end)).map((p) => Math.min(...p.moves.r)));
  for (const end of ['tail', 'chuck']) {
    expect(low(end)).toBeGreaterThanOrEqual(job.stubs.tail.radius);
    expect(low(end)).toBeLessThan(job.stubs.tail.radius + job.tolerance);
  }
  const ends = passes.map((p) => p.label.slice(0, 4));
  expect(ends.indexOf('chuc')).toBeGreaterThan(ends.lastIndexOf('tail'));
  expect(ctx.wood.highestOver(42.5, 43.5)).toBeLessThan(6.1);
  expect(ctx.wood.highestOver(-3.5, -2.5)).toBeLessThan(6.1);
});

test('the bit stays off the form’s faces and θ only grows', () => {
  const { passes } = necked();
  for (const { moves } of passes)
    for (let i = 0; i < moves.count; i++)
      if (moves.kind[i] === 2) expect(moves.x[i] < -2 || moves.x[i] > 42).toBe(true);
  expect(turnsBack(passes)).toBe(0);
});

test('each layer goes at most half a step-down deeper, ramps in, and closes with a full ring', () => {
  const { passes, job } = necked();
  let last = Infinity;
  for (const { moves, label } of passes.filter((p) => p.label.startsWith('tail'))) {
    const floor = Math.min(...moves.r);
    if (last < Infinity) expect(last - floor).toBeLessThan(0.5 * job.tools.roughing.limits.stepDown + 1e-6);
    last = floor;
    expect(
      turnsAt(moves, Math.max(...[...moves.x].filter((_, i) => moves.kind[i] === 2)), 1e-9),
      label,
    ).toBeGreaterThan(1);
    for (let i = 1; i < moves.count; i++) {
      if (moves.kind[i] !== 2) continue;
      const arc = (moves.theta[i] - moves.theta[i - 1]) * moves.r[i];
      expect(moves.r[i - 1] - moves.r[i]).toBeLessThan(arc * Math.tan((3.05 * Math.PI) / 180) + 0.02);
    }
  }
});

test('an end where the blank’s section goes on is sawn, unless a neck is asked for', () => {
  const field: Field = { ...cylinder(40, 12), kept: [{ from: 0, to: 10 }] };
  const ends = (plan = {}) => new Set(necked(field, plan).passes.map((p) => p.label.slice(0, 4)));
  expect(ends()).toEqual(new Set(['tail']));
  expect(ends({ necking: true })).toEqual(new Set(['tail', 'chuc']));
});

test('a bit wider than the stub is told and cuts nothing', () => {
  const { passes, ctx } = necked(cylinder(40, 12), {}, {});
  expect(passes.length).toBeGreaterThan(0);
  const wide = toolOf('flat-10');
  const fresh = skinned(ctx.job, 0.3);
  expect(necking(fresh, wide)).toEqual([]);
  expect(fresh.problems.map((p) => p.code)).toEqual(['bit-too-thick', 'bit-too-thick']);
});
