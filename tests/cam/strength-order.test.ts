/** The stick at every moment of its order, against closed forms of straight bars (Roark's Formulas; torsion of a round bar). */
import { describe, expect, test } from 'vitest';
import type { Job, PlannedProgram } from '../../src/cam/job.ts';
import { MoveBuilder, type Pass } from '../../src/cam/path.ts';
import { bendingLimit, bitForce, torsionLimit } from '../../src/cam/strength.ts';
import { orderProblems, strengthInOrder } from '../../src/cam/strength-order.ts';
import { jobFor } from '../support/cam-job.ts';
import { cylinder } from '../support/fields.ts';

const LENGTH = 300;
const STOCK = 10;

/** A round stick of 20 mm between a chuck's face at 0 and a centre at 300. */
function stick(): Job {
  const base = jobFor(cylinder(LENGTH, 4));
  return {
    ...base,
    blank: { section: 'round', width: 2 * STOCK, height: 2 * STOCK, sides: 0, from: -20, to: LENGTH },
    holding: { chuckGrip: 20, chuckStub: 0, tailStub: 0, tailstock: true },
  };
}

/** A groove as wide as the bit, one turn for each radius. */
function groove(job: Job, x: number, radii: readonly number[], label: string): Pass {
  const { feed } = job.tools.roughing.limits;
  const moves = new MoveBuilder();
  moves.rapid(x, 20, 0);
  moves.rapid(x, radii[0]!, 0);
  radii.forEach((r, layer) => {
    for (let k = 1; k <= 72; k++) moves.cut(x, r, 2 * Math.PI * (layer + k / 72), feed);
  });
  return { stage: 'roughing', label, moves: moves.moves() };
}
const program = (job: Job, ...passes: Pass[]): PlannedProgram => ({ tool: job.tools.roughing, passes });

describe('a groove in a stick', () => {
  const job = stick();
  const depth = Math.min(1, job.tools.roughing.limits.stepDown);
  const force = bitForce(job.tools.roughing, job.material, depth, job.tools.roughing.limits.feed);

  test('is bent by F·L/4 on the section that it leaves', () => {
    const r = STOCK - depth;
    const { weakest } = strengthInOrder(job, [program(job, groove(job, LENGTH / 2, [r], 'one'))])!;
    const bending = (force * LENGTH) / 4 / ((Math.PI * r ** 3) / 4);
    const twist = (16 * force * STOCK) / (Math.PI * (2 * r) ** 3);
    const expected = Math.min(bendingLimit(job.material) / bending, torsionLimit(job.material) / twist);
    expect(weakest.safetyFactor / expected).toBeGreaterThan(0.97);
    expect(weakest.safetyFactor / expected).toBeLessThan(1.03);
    expect(weakest.how).toBe('bending');
    expect(Math.abs(weakest.weakestX - LENGTH / 2)).toBeLessThan(4);
    expect(weakest.radius).toBeCloseTo(r, 2);
  });

  test('is twisted by a cut on its tail side, and not by one on its chuck side', () => {
    const deep = [9, 8, 7, 6, 5, 4, 3, 2];
    const neck = groove(job, 270, deep, 'neck');
    const at = (x: number) => strengthInOrder(job, [program(job, neck, groove(job, x, [STOCK - depth], 'after'))])!;
    const tail = at(290).weakest;
    const twist = (16 * force * STOCK) / (Math.PI * 4 ** 3);
    expect(tail).toMatchObject({ label: 'after', how: 'twist' });
    expect(tail.safetyFactor / (torsionLimit(job.material) / twist)).toBeGreaterThan(0.97);
    expect(tail.safetyFactor / (torsionLimit(job.material) / twist)).toBeLessThan(1.03);
    expect(at(15).weakest.how).toBe('bending');
  });

  test('keeps more strength when what lies behind it is cut before it', () => {
    const first = groove(job, 285, [9, 8, 7], 'tail');
    const neck = groove(job, 262, [9, 8, 7, 6, 5, 4, 3, 2], 'neck');
    const wise = strengthInOrder(job, [program(job, first, neck)])!.weakest;
    const foolish = strengthInOrder(job, [program(job, neck, first)])!.weakest;
    expect(foolish.safetyFactor).toBeLessThan(0.8 * wise.safetyFactor);
  });
});

test('a stick that would break is refused, one that is near it warned of', () => {
  const moment = { stage: 'roughing', label: 'x', cutX: 1, weakestX: 2, radius: 2, how: 'twist' } as const;
  const severity = (safetyFactor: number) =>
    orderProblems({ weakest: { ...moment, safetyFactor }, moments: 1 })[0]!.severity;
  expect([0.9, 1.5, 2.5].map(severity)).toEqual(['refuse', 'warn', 'note']);
  expect(strengthInOrder(stick(), [])).toBeUndefined();
});
