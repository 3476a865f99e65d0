/** The wood between a thin end and its stub: closed forms of bits in a corner (plane geometry), and the planner's own map of the wood. */
import { describe, expect, test } from 'vitest';
import { bits } from '../../shared/catalog.ts';
import { bridgeOf } from '../../src/cam/bridge.ts';
import { planJob } from '../../src/cam/plan.ts';
import { stagesOf, strengthOf } from '../../src/cam/strength.ts';
import { Wood } from '../../src/cam/wood.ts';
import { parsePart } from '../../src/part.ts';
import { resolvePart } from '../../src/resolve.ts';
import { jobFor, row } from '../support/cam-job.ts';
import { cylinder, fieldFrom } from '../support/fields.ts';

const bit = (id: string) => row(bits, id);

describe('a thin cylinder beside a stub of radius 6', () => {
  const job = jobFor(cylinder(100, 3), { side: 30 });
  const corner = (t: number) => 3 + 3 - Math.sqrt(9 - (3 - t) ** 2);

  test('a round bit leaves its own radius in the corner: r + R − √(R² − (R − t)²)', () => {
    const left = bridgeOf(job, [bit('ball-6')], () => 3);
    for (const t of [0.1, 0.7, 1.5, 2.4, 2.9]) {
      expect(left(100 - t)).toBeLessThanOrEqual(corner(t) + 1e-6);
      // Between two steps, a 32nd of the bit's radius apart, the lower counts.
      expect(left(100 - t)).toBeGreaterThanOrEqual(corner(Math.min(3, t + 3 / 32)) - 1e-6);
    }
    expect(left(100)).toBeCloseTo(6, 6);
    expect(left(50)).toBe(0);
    expect(left(105)).toBe(0);
  });

  test('a square one leaves nothing, and of several bits the one that gets deepest counts', () => {
    for (const t of [0.3, 1, 2, 5])
      for (const both of [[bit('flat-6')], [bit('ball-6'), bit('flat-6')]])
        expect(bridgeOf(job, both, () => 3)(100 - t)).toBeCloseTo(3, 6);
  });
});

test('into a slot narrower than itself no bit gets: the stub’s radius stands there', () => {
  const low = (x: number) => (x > 96 ? 1.5 : 12);
  const job = jobFor(fieldFrom({ length: 100, radius: low }));
  const left = bridgeOf(job, [bit('flat-6')], low);
  for (const x of [96.5, 98, 99.9]) expect(left(x)).toBeCloseTo(6, 6);
  // A form that ends as thick as its stub has no notch.
  expect(bridgeOf(jobFor(cylinder(100, 9)), [bit('flat-6')], () => 9)(99)).toBe(0);
});

/** A document with its job. */
function jobOf(form: readonly object[], carvings: readonly object[] = []) {
  const blank = { section: 'square', width: 30, material: 'white-oak' };
  const read = parsePart(JSON.stringify({ name: 'Gate finial', form, carvings, blank }));
  if (!('part' in read)) throw new Error('no part');
  const { job } = resolvePart(read.part);
  if (!job) throw new Error('no job');
  return job;
}

test('never more wood is claimed than the planner leaves, and not much less', () => {
  const job = jobOf([
    { element: 'cylinder', length: 8, start: 16 },
    { element: 'ball', length: 22, start: 12, end: 4 },
  ]);
  const { edges, rows } = stagesOf(job);
  const wood = new Wood(job.blank);
  for (const { tool, passes } of planJob(job, () => undefined).programs)
    for (const { moves: m } of passes)
      for (let i = 1; i < m.count; i++)
        wood.take(tool.bit, m.x[i - 1]!, m.r[i - 1]!, m.theta[i - 1]!, m.x[i]!, m.r[i]!, m.theta[i]!);
  let stands = Infinity;
  for (let k = 0; k < wood.rows; k++) {
    const x = wood.from + k * wood.dx;
    if (x < job.field.length - 4 || x > job.field.length) continue;
    for (const r of wood.radii.subarray(k * wood.columns, (k + 1) * wood.columns)) stands = Math.min(stands, r);
  }
  let claimed = Infinity;
  for (let i = 0; i + 1 < edges.length; i++)
    if (edges[i]! >= job.field.length - 4 && edges[i + 1]! <= job.field.length)
      claimed = Math.min(claimed, rows.finished[i]!.thinnest);
  expect(claimed).toBeLessThan(stands + job.tolerance);
  // At the face itself no more than the stub's least radius is counted on.
  expect(claimed).toBeGreaterThan(0.9 * stands);
  expect(claimed).toBeGreaterThan(job.field.radius(job.field.length, 0) + 1);
});

describe('the factor of one end does not hang on where the cells fall: a length elsewhere is drawn out by 10 mm in 40 steps', () => {
  const last = { element: 'cylinder', length: 6, start: 14 };
  const thin = { element: 'ball', length: 22, start: 12, end: 4 };
  const ends: Record<string, { taper: number; end: object[]; carvings?: object[] }> = {
    'a ball that ends thinner than its stub': { taper: 60, end: [thin] },
    'the same with flutes before it': {
      taper: 200,
      end: [thin],
      carvings: [{ carving: 'flutes', over: [1, 1], inset: 6, count: 8, depth: 1.5 }],
    },
    'a neck with a steep end': {
      taper: 60,
      end: [
        { element: 'ball', length: 22, start: 12, end: 5 },
        { element: 'cylinder', length: 14, start: 5 },
      ],
    },
    'a narrow cove on a long part': { taper: 400, end: [{ element: 'cove', length: 5, start: 14, depth: 4 }, last] },
    'the notch between two balls': {
      taper: 300,
      end: [{ element: 'ball', length: 14, start: 7 }, { element: 'ball', length: 14, start: 7 }, last],
    },
    'a slender end that bends': { taper: 60, end: [{ element: 'cylinder', length: 120, start: 4 }] },
  };
  for (const [name, { taper, end, carvings }] of Object.entries(ends))
    test(name, () => {
      const factors = Array.from({ length: 41 }, (_, k) => {
        const form = [
          { element: 'cylinder', length: 20, start: 16 },
          { element: 'taper', length: taper + k / 4, start: 26, end: 14 },
          ...end,
        ];
        const { safetyFactor, finishingSafety, neck } = strengthOf(jobOf(form, carvings));
        return [safetyFactor, finishingSafety, neck.safety];
      });
      for (const which of [0, 1, 2]) {
        const row = factors.map((f) => f[which]!);
        for (let k = 1; k < row.length; k++) expect(Math.abs(row[k]! / row[k - 1]! - 1)).toBeLessThan(0.02);
        // An end of its own length under forces of its own: the whole way the answer stays nearly what it was.
        expect(Math.max(...row) / Math.min(...row)).toBeLessThan(1.08);
      }
    });
});
