import { expect, test } from 'vitest';
import { TURN } from '../../shared/units.ts';
import { boundOf, efficiency } from '../../src/cam/bound.ts';
import type { Job } from '../../src/cam/job.ts';
import { CUT, RAPID } from '../../src/cam/path.ts';
import { writeProgram } from '../../src/cam/write.ts';
import { jobFor, passOf } from '../support/cam-job.ts';
import { cylinder, fieldFrom, fluted, sphere, step } from '../support/fields.ts';

const bound = (job: Job) => Object.fromEntries(boundOf(job).map((b) => [b.stage, b.bound_s])) as Record<string, number>;

/** The job with numbers of the bits replaced. */
const having = (job: Job, limits: object, plan: object = {}, maxSpeed = job.bench.rotary.maxSpeed): Job => ({
  ...job,
  bench: { ...job.bench, rotary: { ...job.bench.rotary, maxSpeed } },
  plan: { ...job.plan, ...plan },
  tools: {
    ...job.tools,
    roughing: { ...job.tools.roughing, limits: { ...job.tools.roughing.limits, ...limits } },
    finishing: { ...job.tools.finishing, limits: { ...job.tools.finishing.limits, ...limits } },
  },
});

test('finishing a cylinder: turns × way round over the feed, or turns over the rotary’s speed', () => {
  // r 20, L 200, 1500 mm/min; the scallop that a 6 mm ball leaves at a pitch of 0.5: 3 − √(9 − 0.0625).
  const scallop = 3 - Math.sqrt(9 - 0.0625);
  const job = having(jobFor(cylinder(200, 20)), { finishFeed: 1500 }, { scallop }, 20);
  expect(bound(job).finishing! / 60).toBeCloseTo(33.51, 2);
  const slow = having(jobFor(cylinder(200, 20)), { finishFeed: 1500 }, { scallop }, 10);
  expect(bound(slow).finishing! / 60).toBeCloseTo(400 / 10, 2);
  // Along the part the rotary does not bind.
  const along = having(jobFor(cylinder(200, 20)), { finishFeed: 1500 }, { scallop, finishing: 'along' }, 10);
  expect(bound(along).finishing! / 60).toBeCloseTo(33.51, 2);
});

test('where bending asks for half the feed, finishing cannot be quicker than that', () => {
  const job = having(jobFor(cylinder(200, 20)), { finishFeed: 1500 }, { finishing: 'along' });
  const share = (value: number) => Float64Array.of(value, value);
  const ease = { xs: Float64Array.of(-50, 250), roughing: share(1), finishing: share(0.5), stepDown: share(1) };
  const finishing = (j: Job) => boundOf(j).find((b) => b.stage === 'finishing')!.bound_s;
  expect(finishing({ ...job, ease }) / finishing(job)).toBeCloseTo(2, 9);
});

test('a flat bit on a cylinder may advance by its width', () => {
  const job = having(jobFor(cylinder(200, 20), { finishing: 'flat-6' }), { finishFeed: 1500 });
  expect(bound(job).finishing).toBeCloseTo(((200 / 6) * TURN * 20) / 25, 6);
});

test('corners: the four corners’ area at full width and step-down, the tip a step below the wood', () => {
  const job = having(jobFor(cylinder(200, 20), { side: 40.8 }), { stepDown: 2, feed: 1200 });
  // At radius ρ outside the circle a = 20.4 wood stands over 8·(π/4 − acos(a/ρ)); the form with allowance is the circle itself.
  const a = 20.4;
  let way = 0;
  const n = 20_000;
  for (let i = 0; i < n; i++) {
    const rho = a + ((i + 0.5) * a * (Math.SQRT2 - 1)) / n;
    const arc = 8 * (Math.PI / 4 - Math.acos(a / rho));
    way += (Math.max(rho - 2, a) * arc * a * (Math.SQRT2 - 1)) / n;
  }
  const expected = (way * 200) / (2 * 6) / 20;
  expect(bound(job).corners! / expected).toBeCloseTo(1, 2);
});

test('roughing a long cylinder from a round blank comes near volume / (step-down × step-over × feed)', () => {
  const base = jobFor(cylinder(400, 20));
  const blank = { ...base.blank, section: 'round' as const, width: 60, height: 60, sides: 0 };
  const job = having({ ...base, blank }, { stepDown: 1, stepOver: 2, feed: 1200 });
  const b = bound(job);
  expect(b.corners).toBe(0);
  const volume = Math.PI * (30 ** 2 - 20.4 ** 2) * 400;
  const plain = volume / (1 * 2 * 20);
  // Less, since the tip runs inside the wood it takes, and one stroke may be as wide as the bit.
  expect(b.roughing! / plain).toBeLessThan(1);
  expect(b.roughing! / plain).toBeGreaterThan(0.9);
});

test('a cove that the bit does not fit into is not charged', () => {
  const notch = (half: number) => fieldFrom({ length: 100, radius: (x) => (Math.abs(x - 50) < half ? 8 : 20) });
  expect(bound(jobFor(notch(1))).roughing).toBeCloseTo(bound(jobFor(cylinder(100, 20))).roughing!, 6);
  expect(bound(jobFor(notch(8))).roughing!).toBeGreaterThan(bound(jobFor(cylinder(100, 20))).roughing! * 1.2);
});

test('kept lengths cost nothing', () => {
  const whole = jobFor(cylinder(200, 20));
  const kept = jobFor({ ...cylinder(200, 20), kept: [{ from: 0, to: 100 }] });
  for (const stage of ['corners', 'finishing']) expect(bound(kept)[stage]! / bound(whole)[stage]!).toBeCloseTo(0.5, 2);
});

test('half the step-down or half the feed doubles roughing’s bound, and smaller scallops raise finishing’s', () => {
  const job = jobFor(step(200, 120, 20, 9));
  const roughing = (limits: object) => bound(having(job, limits)).roughing!;
  const { feed } = job.tools.roughing.limits;
  expect(roughing({ feed: feed / 2 }) / roughing({ feed })).toBeCloseTo(2, 9);
  expect(roughing({ stepDown: 0.5 }) / roughing({ stepDown: 1 })).toBeGreaterThan(1.8);
  expect(bound(having(job, {}, { scallop: 0.005 })).finishing! / bound(job).finishing!).toBeGreaterThan(1.9);
});

test('every stage’s bound is finite and not negative on plain and carved forms', () => {
  for (const field of [sphere(25, 5), fluted(120, 20, 12, 2, 3, 0.3), step(100, 40, 10, 18)])
    for (const b of boundOf(jobFor(field))) {
      expect(b.bound_s).toBeGreaterThanOrEqual(0);
      expect(Number.isFinite(b.bound_s)).toBe(true);
    }
});

test('a spiral cut at the limits takes longer than the bound, but not twice as long', () => {
  const job = jobFor(cylinder(200, 20));
  const { finishFeed } = job.tools.finishing.limits;
  const pitch = 2 * Math.sqrt(2 * 3 * 0.02 - 0.02 ** 2);
  const turns = 200 / pitch;
  const rows: number[][] = [
    [RAPID, 0, 32, 0],
    [CUT, 0, 20, 0, 500],
    [CUT, 0, 20, TURN, finishFeed],
  ];
  for (let i = 1; i <= 100; i++) rows.push([CUT, 2 * i, 20, TURN * (1 + (turns * i) / 100), finishFeed]);
  rows.push([CUT, 200, 20, TURN * (turns + 2), finishFeed], [RAPID, 200, 32, TURN * (turns + 2)]);
  const planned = { tool: job.tools.finishing, passes: [passOf('finishing', 'spiral', rows)] };
  const written = writeProgram(job, planned, { index: 1, of: 1 });
  const share = efficiency(bound(job).finishing!, written.time.total_s);
  expect(share).toBeLessThan(1);
  expect(share).toBeGreaterThan(0.9);
});

test('no time, no efficiency', () => {
  expect(efficiency(10, 0)).toBe(0);
  expect(efficiency(30, 60)).toBe(0.5);
});
