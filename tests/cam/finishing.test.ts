/** Finishing held against brute force: the bit's own solid over the work, and the envelope of all its positions. */
import { expect, test } from 'vitest';
import { CONTACT_BELOW } from '../../shared/tolerances.ts';
import { finishing, formSpans } from '../../src/cam/stages/finishing.ts';
import { strokeCount } from '../../src/cam/stages/strokes.ts';
import type { Field } from '../../src/profiles/field.ts';
import { cone, cylinder, fieldFrom, fluted, prism, step } from '../support/fields.ts';
import { type JobParts, jobFor, toolOf } from '../support/jobs.ts';
import { leftBy } from '../support/ridges.ts';
import { leastAbove, random, skinned, turnsAt, turnsBack } from '../support/skin.ts';

const wavy = (length: number) => fieldFrom({ length, radius: (x) => 12 + 2.5 * Math.sin(x / 4) });
const finished = (field: Field, parts: Partial<JobParts> = {}) => {
  const job = jobFor({ field, width: 2 * field.maxRadius + 2, ...parts });
  const ctx = skinned(job);
  const passes = finishing(ctx, job.tools.finishing);
  return { job, ctx, passes, moves: passes.at(-1)!.moves, bit: job.tools.finishing.bit };
};

const kinds = ['flat-6', 'ball-6', 'ball-eighth', 'bull-6', 'vee-60', 'tapered-one'];
const shapes: [string, () => Field][] = [
  ['a cone', () => cone(14, 8, 0.4)],
  ['a shoulder down', () => step(20, 10, 11, 8)],
  ['a shoulder up', () => step(20, 10, 8, 11)],
  ['waves', () => wavy(16)],
  ['twisted flutes', () => fluted(6, 9, 5, 1, 4, 0.1)],
  ['a prism', () => prism(6, 7)],
];
test.each(shapes.flatMap(([name, field]) => kinds.map((kind) => [name, kind, field] as const)))(
  'the finishing of %s with %s is never below what the work allows, and θ never goes back',
  (_name, kind, field) => {
    const { ctx, passes, bit } = finished(field(), { finishing: toolOf(kind) });
    expect(passes.length).toBeGreaterThan(0);
    expect(leastAbove(ctx, bit, passes, 14)).toBeGreaterThan(-CONTACT_BELOW);
    expect(turnsBack(passes)).toBe(0);
    for (const { moves } of passes)
      for (let i = 1; i < moves.count; i++) expect(moves.theta[i] - moves.theta[i - 1]).toBeLessThan(Math.PI / 2);
  },
);

test('the spiral starts and ends with a full ring, from the tail end to the chuck end', () => {
  const { moves } = finished(wavy(20));
  const cuts = [...moves.kind.keys()].filter((i) => moves.kind[i] === 2);
  const [first, last] = [moves.x[cuts[0]], moves.x[cuts.at(-1)!]];
  expect(first).toBeGreaterThan(19);
  expect(last).toBeLessThan(1);
  expect(turnsAt(moves, first)).toBeGreaterThan(1 - 1e-6);
  expect(turnsAt(moves, last)).toBeGreaterThan(1 - 1e-6);
  for (let k = 1; k < cuts.length; k++) expect(moves.x[cuts[k]]).toBeLessThanOrEqual(moves.x[cuts[k - 1]] + 1e-9);
});

test('every pass starts lifted and ends lifted', () => {
  const { passes, job } = finished(wavy(12));
  for (const { moves } of passes) {
    expect(moves.kind[0]).toBe(0);
    expect(moves.r[0]).toBeGreaterThan(job.field.maxRadius);
    expect(moves.kind[moves.count - 1]).toBe(0);
    expect(moves.r[moves.count - 1]).toBeGreaterThan(moves.r[moves.count - 2]);
  }
});

test.each([
  ['a cylinder', 'ball-6', () => cylinder(16, 9)],
  ['a cone', 'ball-eighth', () => cone(16, 7, 0.6)],
  ['waves', 'ball-6', () => wavy(16)],
  ['a cylinder', 'bull-6', () => cylinder(16, 9)],
  ['a cylinder', 'vee-90', () => cylinder(16, 9)],
  ['flutes that the ball fits into', 'ball-6', () => fluted(12, 10, 5, 1, 5, 0)],
  ['twisted flutes that the ball fits into', 'ball-6', () => fluted(12, 10, 5, 0.8, 6, 0.06)],
] as const)(
  'the ridges on %s (%s) stay within a tenth of what was wanted, beside the tolerance',
  (_name, kind, field) => {
    const { job, moves, bit } = finished(field(), { finishing: toolOf(kind), plan: { scallop: 0.03 } });
    const next = random(11);
    const f = job.field;
    for (let k = 0; k < 30; k++) {
      const x = 4 + next() * (f.length - 8);
      const theta = next() * 2 * Math.PI;
      const r = f.radius(x, theta);
      // What is left is measured along the ray; the ridge is meant square to the surface.
      const around = (f.radius(x, theta + 1e-4) - f.radius(x, theta - 1e-4)) / 2e-4 / r;
      const slope = (f.radius(x + 1e-3, theta) - f.radius(x - 1e-3, theta)) / 2e-3;
      const left = (leftBy(bit, moves, x, theta) - r) / Math.hypot(1, around, slope);
      expect(left).toBeGreaterThan(-0.002);
      expect(left).toBeLessThan(0.03 * 1.1 + job.tolerance);
    }
  },
);

test('a shoulder is left only by the bit’s own radius: a flat end makes both floors and the wall to the last hair', () => {
  for (const field of [step(24, 12, 11, 8), step(24, 12, 8, 11)]) {
    const { moves, bit, job } = finished(field, { finishing: toolOf('flat-6') });
    const low = field.radius(2, 0) < field.radius(22, 0) ? 12 - 0.02 : 12 + 0.02;
    for (const x of [3, 21, low, 24 - low])
      for (const theta of [0.3, 2, 4.4])
        expect(leftBy(bit, moves, x, theta) - field.radius(x, theta)).toBeLessThan(job.tolerance);
  }
});

test('kept ranges are left out: one spiral for each stretch between them, and the bit stays beside their faces', () => {
  const field = fieldFrom({
    length: 60,
    kept: [{ from: 22, to: 38 }],
    symmetry: 4,
    breaks: [
      { x: 22, kind: 'shoulder' },
      { x: 38, kind: 'shoulder' },
    ],
    radius: (x, theta, side) => {
      const square = 10 / Math.max(Math.abs(Math.cos(theta)), Math.abs(Math.sin(theta)));
      const inside = x > 22 && x < 38;
      const edge = (x === 22 && side !== -1) || (x === 38 && side !== 1);
      return inside || edge ? square : 7;
    },
  });
  const job = jobFor({ field, width: 20 });
  expect(formSpans(job)).toEqual([
    { from: 0, to: 22 },
    { from: 38, to: 60 },
  ]);
  const ctx = skinned(job, 0.3);
  const passes = finishing(ctx, job.tools.finishing);
  expect(passes).toHaveLength(2);
  passes.forEach((pass, k) => {
    for (let i = 0; i < pass.moves.count; i++) {
      if (pass.moves.kind[i] === 0) continue;
      if (k === 0) expect(pass.moves.x[i]).toBeGreaterThan(40.9);
      else expect(pass.moves.x[i]).toBeLessThan(19.1);
    }
  });
  expect(leastAbove(ctx, job.tools.finishing.bit, passes, 30)).toBeGreaterThan(-CONTACT_BELOW);
});

test('wood higher than a step-down is taken in layers first, so that no bite is deeper', () => {
  const field = cylinder(14, 9);
  const job = jobFor({ field, width: 24, section: 'round', finishing: toolOf('ball-6', { stepDown: 1 }) });
  const ctx = skinned(job, 2.6);
  const passes = finishing(ctx, job.tools.finishing);
  // A ball takes seven tenths of its step-down in a layer: 0.7, 1.4, 2.1, and the spiral takes what is left of 2.6.
  expect(passes.length).toBe(4);
  const again = skinned(job, 2.6);
  let deepest = 0;
  for (const { moves } of passes)
    for (let i = 1; i < moves.count; i++) {
      if (moves.kind[i] === 0) continue;
      const at = (v: Float64Array, k: number) => v[k];
      const bite = again.wood.take(
        job.tools.finishing.bit,
        at(moves.x, i - 1),
        at(moves.r, i - 1),
        at(moves.theta, i - 1),
        at(moves.x, i),
        at(moves.r, i),
        at(moves.theta, i),
      );
      deepest = Math.max(deepest, bite.depth);
    }
  expect(deepest).toBeLessThan(0.85);
  expect(deepest).toBeGreaterThan(0.5);
});

test('the wood map follows a finishing pass: what is left on round work is the skin gone', () => {
  const { ctx, job } = finished(wavy(20));
  for (let x = 4; x < 16; x += 0.7) {
    const left = ctx.wood.outer(x, 1) - job.field.radius(x, 1);
    expect(left).toBeLessThan(0.35);
    expect(left).toBeGreaterThan(-0.01);
  }
  expect(ctx.wood.lowest(job.tools.finishing.bit, 10, 2)).toBeLessThan(
    ctx.contact(job.tools.finishing.bit).lowest(10, 2) + 0.05,
  );
});

test('a round part takes five blocks a turn, a fluted one no more than 130', () => {
  const perTurn = (moves: { count: number; theta: Float64Array }) =>
    moves.count / ((moves.theta[moves.count - 1] - moves.theta[0]) / (2 * Math.PI));
  expect(perTurn(finished(cylinder(20, 10)).moves)).toBeLessThan(6);
  expect(perTurn(finished(fluted(8, 12, 6, 1, 5, 0)).moves)).toBeLessThan(130);
});

test('strokes lie so close that a cylinder’s ridges keep the scallop, by the convex closed form', () => {
  const job = jobFor({ field: cylinder(20, 10), width: 22 });
  const ctx = skinned(job);
  const { bit } = job.tools.finishing;
  const count = strokeCount(ctx.work, ctx.contact(bit), bit, 0.02, { from: 2, to: 18 });
  // Convex form: cos(δ/2) = ((ρ+R)² + (ρ+h)² − R²) / (2(ρ+R)(ρ+h)).
  const cos = (13 ** 2 + 10.02 ** 2 - 9) / (2 * 13 * 10.02);
  expect(count).toBeGreaterThan((Math.PI / Math.acos(cos)) * 0.97);
  expect(count).toBeLessThan((Math.PI / Math.acos(cos)) * 1.06);
});

test('lengthwise strokes follow the flutes’ turning, θ only growing, and leave the wanted ridge', () => {
  for (const turns of [0, 0.08, -0.08]) {
    const { job, ctx, passes, moves, bit } = finished(fluted(14, 10, 4, 0.8, 5, turns), {
      plan: { finishing: 'along', scallop: 0.04 },
    });
    expect(turnsBack(passes)).toBe(0);
    expect(leastAbove(ctx, bit, passes, 40)).toBeGreaterThan(-CONTACT_BELOW);
    const next = random(3);
    for (let k = 0; k < 12; k++) {
      const [x, theta] = [4 + next() * 6, next() * 2 * Math.PI];
      expect(leftBy(bit, moves, x, theta) - job.field.radius(x, theta)).toBeLessThan(0.04 * 1.1 + job.tolerance);
    }
  }
});
