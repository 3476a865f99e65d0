import { describe, expect, test } from 'vitest';
import type { Job, Plan } from '../../src/cam/job.ts';
import { LARGEST_TURN } from '../../src/cam/link.ts';
import { CUT, RAPID } from '../../src/cam/path.ts';
import { planJob } from '../../src/cam/plan.ts';
import { Dexels } from '../support/dexel.ts';
import { fieldFrom } from '../support/fields.ts';
import { jobFor, toolOf } from '../support/jobs.ts';

const field = fieldFrom({ length: 50, radius: (x) => 11 + 3 * Math.cos((x / 50) * 2 * Math.PI) });
const job: Job = jobFor({
  field,
  width: 36,
  plan: { necking: true, scallop: 0.05 },
  stubRadius: 5,
  tailStub: 14,
  chuckStub: 20,
});
const roomy: Job = {
  ...job,
  stubs: {
    chuck: { from: -12, to: 0, radius: 5 },
    tail: { from: 50, to: 62, radius: 5 },
  },
};

describe('a whole plan', () => {
  const seen: [number, string][] = [];
  const plan: Plan = planJob(roomy, (share, what) => void seen.push([share, what]));

  test('has a program for each change of bit, in the order of the stages', () => {
    expect(plan.programs.map((p) => p.tool.bit.id)).toEqual(['flat-6', 'ball-6', 'flat-6']);
    const stages = plan.programs.map((p) => [...new Set(p.passes.map((q) => q.stage))]);
    expect(stages).toEqual([['corners', 'roughing'], ['finishing'], ['necking']]);
  });

  test('starts each program with a lift to the safe radius, and each pass with a rapid', () => {
    for (const program of plan.programs) {
      const first = program.passes[0]!.moves;
      expect(first.kind[0]).toBe(RAPID);
      expect(first.r[0]).toBeGreaterThanOrEqual(roomy.safeRadius);
      for (const p of program.passes.filter((q) => q.stage !== 'necking')) {
        expect(p.moves.kind[0]).toBe(RAPID);
        expect(p.moves.kind[p.moves.count - 1]).toBe(RAPID);
      }
    }
  });

  test('turns less than a quarter in one block, and gives every cut a feed within the limits', () => {
    for (const { passes, tool } of plan.programs) {
      let theta = passes[0]!.moves.theta[0]!;
      for (const { moves: m } of passes)
        for (let k = 0; k < m.count; k++) {
          expect(Math.abs(m.theta[k]! - theta)).toBeLessThanOrEqual(LARGEST_TURN + 1e-9);
          theta = m.theta[k]!;
          if (m.kind[k] === CUT) {
            expect(m.feed[k]).toBeGreaterThan(0);
            expect(m.feed[k]).toBeLessThanOrEqual(Math.max(tool.limits.feed, tool.limits.finishFeed));
          } else if (m.kind[k] === RAPID) expect(m.feed[k]).toBe(0);
        }
    }
  });

  test('cuts nothing of the form and leaves little on it', () => {
    const dexels = new Dexels(roomy, 0.4, 480);
    for (const { passes, tool } of plan.programs) {
      const v = dexels.run(passes, tool.bit.kind as 'flat' | 'ball', tool.bit.diameter, tool.limits.rampAngle_deg);
      // The judge steps along blocks and sees their chords: a hundredth of a millimetre is its own doing.
      expect(v.gouge, v.gougeAt).toBeLessThan(roomy.tolerance);
      expect(v.linkInWood, v.linkAt).toBeLessThan(0.05);
    }
    const rest = dexels.highest(2, 48, (x, theta) => field.radius(x, theta));
    expect(rest.most, rest.at).toBeLessThan(0.2);
  });

  test('tells how far it is, never backwards', () => {
    const shares = seen.map(([s]) => s);
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
    expect(shares.at(-1)).toBe(1);
    expect(new Set(seen.map(([, w]) => w)).size).toBeGreaterThanOrEqual(4);
  });

  test('is the same whenever it is made', () => {
    expect(planJob(roomy)).toEqual(plan);
  });

  test('stops when the one who listens throws', () => {
    expect(() =>
      planJob(roomy, (share) => {
        if (share > 0.1) throw new Error('enough');
      }),
    ).toThrow('enough');
  });

  test('necks nothing where it is not asked to', () => {
    const bare = planJob({ ...roomy, plan: { ...roomy.plan, necking: false } });
    expect(bare.programs.flatMap((p) => p.passes).some((p) => p.stage === 'necking')).toBe(false);
  });

  test('one bit for roughing and finishing makes one program', () => {
    const tool = toolOf('flat-6');
    const one = planJob({ ...roomy, tools: { ...roomy.tools, roughing: tool, finishing: tool } });
    expect(one.programs.length).toBe(1);
  });
});
