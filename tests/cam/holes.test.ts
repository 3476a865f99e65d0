import { expect, test } from 'vitest';
import { holes, undrilled } from '../../src/cam/stages/holes.ts';
import type { Field, Hole } from '../../src/profiles/field.ts';
import { cylinder } from '../support/fields.ts';
import { jobFor, toolOf } from '../support/jobs.ts';
import { skinned } from '../support/skin.ts';

function drilled(list: Hole[], change = {}) {
  const field: Field = { ...cylinder(60, 15), holes: list };
  const base = jobFor({ field, width: 31 });
  const tool = toolOf('flat-4', change);
  const job = { ...base, tools: { ...base.tools, drills: [tool] } };
  const ctx = skinned(job, 0);
  return { ctx, tool, passes: holes(ctx, tool), job };
}
const hole = (x: number, theta: number, depth: number, diameter = 4): Hole => ({ x, theta, depth, diameter });

test('each hole goes straight down to its depth below the surface, at its place and angle', () => {
  const list = [hole(20, 0.5, 8), hole(40, 4, 6)];
  const { passes } = drilled(list);
  expect(passes).toHaveLength(2);
  for (const { moves, stage } of passes) {
    expect(stage).toBe('holes');
    const cuts = [...moves.kind.keys()].filter((i) => moves.kind[i] === 2);
    const at = list.find((h) => Math.abs(h.x - moves.x[cuts[0]]) < 1e-9)!;
    expect(Math.min(...cuts.map((i) => moves.r[i]))).toBeCloseTo(15 - at.depth, 9);
    for (const i of cuts) {
      expect(moves.x[i]).toBeCloseTo(at.x, 12);
      const turns = (moves.theta[i] - at.theta) / (2 * Math.PI);
      expect(Math.abs(turns - Math.round(turns))).toBeLessThan(1e-9);
    }
  }
});

test('it pecks: no bite deeper than a diameter nor than the bit may plunge, and out of the hole after each', () => {
  for (const [change, most] of [
    [{ plunge: 9 }, 4],
    [{ plunge: 1.5 }, 1.5],
  ] as const) {
    const { moves } = drilled([hole(30, 0, 11)], change).passes[0];
    let deepest = 15;
    let pecks = 0;
    for (let i = 1; i < moves.count; i++) {
      if (moves.kind[i] === 2) {
        expect(deepest - moves.r[i]).toBeLessThanOrEqual(most + 1e-9);
        deepest = moves.r[i];
        pecks++;
        expect(moves.r[i + 1]).toBeGreaterThan(15);
        expect(moves.kind[i + 1]).toBe(0);
      } else if (moves.kind[i] === 0) {
        // A rapid stays clear of the bottom by half a millimetre.
        expect(moves.r[i]).toBeGreaterThanOrEqual(deepest + 0.5 - 1e-9);
      }
    }
    expect(pecks).toBe(Math.ceil(11 / most));
  }
});

test('the rotary only grows from hole to hole, and every hole starts and ends lifted', () => {
  const { passes } = drilled([0, 2, 4, 6].map((t) => hole(30, t, 5)));
  let theta = -Infinity;
  for (const { moves } of passes) {
    for (let i = 0; i < moves.count; i++) {
      expect(moves.theta[i]).toBeGreaterThanOrEqual(theta - 1e-9);
      theta = moves.theta[i];
    }
    expect(moves.r[moves.count - 1]).toBeGreaterThan(15);
    expect(moves.kind[0]).toBe(0);
  }
});

test('the wood knows the hole', () => {
  const { ctx } = drilled([hole(30, 0, 8)]);
  expect(ctx.wood.outer(30, 0)).toBeLessThan(7.2);
  expect(ctx.wood.outer(36, 0)).toBeGreaterThan(14.9);
});

test('a drill makes only holes of its own diameter; one that none makes is told', () => {
  const { passes, job } = drilled([hole(20, 0, 5), hole(40, 0, 5, 3)]);
  expect(passes).toHaveLength(1);
  const problems = undrilled({ job });
  expect(problems).toHaveLength(1);
  expect(problems[0].message).toContain('3 mm');
});

test('a hole deeper than the rotary centre stops there and says so', () => {
  const { passes, ctx } = drilled([hole(20, 0, 20)]);
  expect(Math.min(...passes[0].moves.r)).toBeGreaterThanOrEqual(0);
  expect(ctx.problems[0].message).toMatch(/rotary centre/);
});
