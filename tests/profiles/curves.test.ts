import fc from 'fast-check';
import { expect, test } from 'vitest';
import { monotoneCurve } from '../../src/profiles/monotone.ts';
import { outlineDrawing, ringPositions } from '../../src/profiles/sample.ts';
import { made } from './probe.ts';

const SEED = 20240611;
const points = fc
  .array(fc.tuple(fc.integer({ min: 1, max: 400 }), fc.integer({ min: 20, max: 900 })), { minLength: 2, maxLength: 12 })
  .map((steps) => {
    let x = 0;
    return steps.map(([gap, y]) => {
      x += gap / 10;
      return [x, y / 10] as const;
    });
  });

test(`a monotone curve passes through its points and never leaves the range of two neighbours (seed ${SEED})`, () => {
  fc.assert(
    fc.property(points, (rows) => {
      const xs = rows.map(([x]) => x);
      const ys = rows.map(([, y]) => y);
      const curve = monotoneCurve(xs, ys);
      xs.forEach((x, i) => {
        expect(curve(x)).toBe(ys[i]);
      });
      for (let i = 1; i < xs.length; i++) {
        const [low, high] = [Math.min(ys[i - 1]!, ys[i]!), Math.max(ys[i - 1]!, ys[i]!)];
        const rising = Math.sign(ys[i]! - ys[i - 1]!);
        let before = ys[i - 1]!;
        for (let k = 1; k <= 40; k++) {
          const y = curve(xs[i - 1]! + ((xs[i]! - xs[i - 1]!) * k) / 40);
          if (y < low - 1e-12 || y > high + 1e-12 || (y - before) * rising < -1e-12) return false;
          before = y;
        }
      }
      return true;
    }),
    { seed: SEED, numRuns: 400 },
  );
});

test(`a measured table passes through all its readings, shoulders and corners included (seed ${SEED})`, () => {
  const readings = fc.array(
    fc.record({
      gap: fc.integer({ min: 1, max: 200 }),
      diameter: fc.integer({ min: 10, max: 900 }),
      step: fc.boolean(),
      corner: fc.boolean(),
    }),
    { minLength: 3, maxLength: 15 },
  );
  fc.assert(
    fc.property(readings, fc.boolean(), (rows, smooth) => {
      let at = -3;
      const table = rows.flatMap((row, i) => {
        at += i ? row.gap / 10 : 0;
        const reading = { at, diameter: row.diameter / 10, corner: row.corner };
        return row.step && i && i < rows.length - 1
          ? [reading, { ...reading, diameter: row.diameter / 10 + 3 }]
          : [reading];
      });
      const field = made({ form: [{ element: 'measured', readings: table, fit: smooth ? 'smooth' : 'straight' }] });
      expect(field.length).toBeCloseTo(at + 3, 9);
      const seen: number[] = [];
      table.forEach((p, i) => {
        const x = p.at + 3;
        const side = table[i - 1]?.at === p.at ? 1 : -1;
        const shoulder = field.breaks.find((b) => Math.abs(b.x - x) < 1e-9);
        seen.push(Math.abs(field.radius(shoulder?.x ?? x, 0, side) * 2 - p.diameter));
      });
      return Math.max(...seen) < 1e-9;
    }),
    { seed: SEED, numRuns: 200 },
  );
});

const design = {
  form: [
    { element: 'bead', length: 12, start: 30 },
    { element: 'ogee', length: 14, end: 44 },
    { element: 'cylinder', length: 60, start: 36 },
    { element: 'cove', length: 20 },
  ],
  carvings: [{ carving: 'lobes', starts: 2, depth: 5, turns: 2, over: [2, 2] }],
} as const;

test('positions for drawing keep every chord within the tolerance, and are few', () => {
  const field = made(structuredClone(design) as never);
  for (const tolerance of [0.2, 0.02]) {
    const { x, side } = ringPositions(field, tolerance);
    let worst = 0;
    for (let i = 1; i < x.length; i++) {
      const [a, b] = [x[i - 1]!, x[i]!];
      if (a === b) {
        expect([side[i - 1], side[i]]).toEqual([-1, 1]);
        continue;
      }
      for (const theta of [0, 0.4, 1, 2.2]) {
        const r = (at: number, s: -1 | 0 | 1) => field.radius(at, theta + field.turning(at), s);
        for (const t of [0.1, 0.37, 0.5, 0.8])
          worst = Math.max(worst, Math.abs(r(a + (b - a) * t, 0) - (r(a, 1) + (r(b, -1) - r(a, 1)) * t)));
      }
    }
    // The curve is looked at in three places of a chord: between them a half-round may bulge a little more.
    expect(worst).toBeLessThan(1.6 * tolerance);
    // Half-rounds start square to the axis: their ends alone take a dozen halvings each.
    expect(x.length).toBeLessThan(40 + 24 / Math.sqrt(tolerance));
  }
});

test('positions hold every break, shoulders twice, and no step longer than asked', () => {
  const field = made(structuredClone(design) as never);
  const { x } = ringPositions(field, 0.05, 4);
  for (const b of field.breaks) expect(x.filter((v) => v === b.x).length, `${b.x}`).toBe(b.kind === 'shoulder' ? 2 : 1);
  for (let i = 1; i < x.length; i++) expect(x[i]! - x[i - 1]!).toBeLessThanOrEqual(4);
  expect([x[0], x.at(-1)]).toEqual([0, 106]);
});

test('the drawn outline is the largest and smallest radius of each section', () => {
  const field = made(structuredClone(design) as never);
  const { x, side, most, least } = outlineDrawing(field, 0.05, 2);
  const at = x.findIndex((v) => v > 50 && v < 60);
  expect(most[at]).toBeCloseTo(18, 6);
  expect(least[at]).toBeCloseTo(13, 6);
  x.forEach((v, i) => {
    if (field.isRound(v, v)) expect(most[i]).toBe(field.radius(v, 0, side[i] as -1 | 0 | 1));
  });
});
