/** Planted errors, found again from diameters: by closed forms, and from wood that the written programs leave on a machine with faults. */
import { beforeAll, describe, expect, test } from 'vitest';
import type { Bit } from '../../shared/catalog.ts';
import { believedMatch } from '../../src/build/believed.ts';
import { causesTold, matchedPart } from '../../src/build/matched.ts';
import { proofJobOf } from '../../src/build/proof-job.ts';
import type { Built } from '../../src/build.ts';
import { type Causes, matchReadings, type Reading, wornBit } from '../../src/cam/match.ts';
import { layGrid, rowFrom } from '../../src/cam/proof/grid.ts';
import { follow } from '../../src/cam/proof/motion.ts';
import { Cutter } from '../../src/cam/proof/remove.ts';
import { shapeOf } from '../../src/cam/proof/shape.ts';
import { Walker } from '../../src/cam/proof/walk.ts';
import { Wood } from '../../src/cam/proof/wood.ts';
import { readReadings } from '../../src/part/readings.ts';
import { checkPart, type Part } from '../../src/part.ts';
import { fieldOf } from '../../src/profiles/build-field.ts';
import { buildRaw, refusals } from '../support/built.ts';
import { jobFor } from '../support/jobs.ts';

/** Cylinder 24, cone down to 12 at 45°, cylinder 12, cone up at 45°, cylinder 18. */
const form = [
  { element: 'cylinder', length: 12, start: 24 },
  { element: 'taper', length: 6, start: 24, end: 12 },
  { element: 'cylinder', length: 10, start: 12 },
  { element: 'taper', length: 6, start: 12, end: 18 },
  { element: 'cylinder', length: 12, start: 18 },
] as const;
const LENGTH = 46;
const raw = {
  name: 'Stepped peg',
  form,
  blank: { section: 'round', width: 28 },
  plan: { scallop: 0.01, necking: false, allowance: 0.3 },
  bits: { finishing: 'ball-6', detail: [] },
};
const checked = checkPart(raw);
if (!('part' in checked)) throw new Error(checked.problems[0]!.message);
const part: Part = checked.part;
const field = fieldOf(part).field!;
const job = jobFor({ field, width: 28, section: 'round' });
const R = 3;

/** Outline and slope away from every corner by more than a bit. */
const PLACES: [number, number, number][] = [
  [2, 12, 0],
  [5, 12, 0],
  [8, 12, 0],
  [15, 9, -1],
  [16, 8, -1],
  [22, 6, 0],
  [23, 6, 0],
  [24, 6, 0],
  [31, 7.5, 0.5],
  [32, 8, 0.5],
  [38, 9, 0],
  [41, 9, 0],
  [44, 9, 0],
];
/**
 * Diameter that a ball leaves on cylinders and cones: planned tip r + R(√(1+m²) − 1) (ball tangent to a line of slope m), which a
 * ball of R − wear/2 touches from zero + tail·x′/L lower; over the side by e a turned cylinder comes out at √((r+R)² + e²) − R.
 */
function left(x: number, r: number, m: number, c: Causes): number {
  const s = Math.hypot(1, m) - 1;
  // The bit touches at x when it stands down the slope by its radius times the sine of the slope's angle.
  const at = x - ((R - c.wear / 2) * m) / Math.hypot(1, m);
  const lower = c.zero + (c.tail * at) / LENGTH;
  const worn = R - c.wear / 2;
  const radius = r + (R - worn) * s - lower;
  return 2 * (c.aside ? Math.hypot(radius + R, c.aside) - R : radius);
}
/** Noise of a hand and a caliper: ±0.01 mm, the same every time. */
const noise = (i: number) => 0.01 * Math.sin(12.9898 * (i + 1) * (i + 3));
const readings = (c: Partial<Causes>, places = PLACES): Reading[] =>
  places.map(([x, r, m], i) => ({
    x,
    diameter: left(x, r, m, { zero: 0, tail: 0, wear: 0, aside: 0, ...c }) + noise(i),
  }));

describe('from diameters by closed forms it finds', () => {
  test.each<[string, Partial<Causes>]>([
    ['nothing, where nothing is off', {}],
    ['a bit that stood too low', { zero: 0.12 }],
    ['a bit that stood too high', { zero: -0.2 }],
    ['a tailstock that is too high', { tail: 0.3 }],
    ['a worn bit', { wear: 0.3 }],
    ['a bit wider than declared', { wear: -0.25 }],
    ['a zero and a worn bit together', { zero: 0.15, wear: 0.3 }],
    ['a zero and a tailstock together', { zero: -0.1, tail: 0.25 }],
  ])('%s', (_, planted) => {
    const { causes, after } = matchReadings(job, readings(planted));
    for (const name of ['zero', 'tail', 'wear'] as const) {
      const bound = name === 'wear' ? 0.05 : 0.015;
      expect(Math.abs(causes[name] - (planted[name] ?? 0)), `${name} ${causes[name]}`).toBeLessThan(bound);
    }
    expect(causes.aside).toBe(0);
    expect(after).toBeLessThan(0.012);
  });

  test('a head beside the centre, from cylinders of three radii', () => {
    const round = PLACES.filter(([, , m]) => m === 0);
    const { causes } = matchReadings(job, readings({ aside: 1.6 }, round));
    expect(Math.abs(causes.aside - 1.6)).toBeLessThan(0.15);
    expect(Math.abs(causes.zero)).toBeLessThan(0.03);
  });

  test('and what it says of a cause is borne out by its error', () => {
    const { causes, errors } = matchReadings(job, readings({ zero: 0.15, wear: 0.3 }));
    expect(Math.abs(causes.zero - 0.15)).toBeLessThan(3 * errors.zero!);
    expect(Math.abs(causes.wear - 0.3)).toBeLessThan(3 * errors.wear!);
    expect(errors.tail).toBeUndefined();
  });
});

test('a mistyped reading is named and left out', () => {
  const list = readings({ zero: 0.12 });
  list[4] = { ...list[4]!, diameter: list[4]!.diameter + 1 };
  const { causes, rows } = matchReadings(job, list);
  expect(rows.map((r) => r.odd)).toEqual(list.map((_, i) => i === 4));
  expect(causes.zero).toBeCloseTo(0.12, 1.7);
});

test('two readings tell a zero and no more', () => {
  const { causes, errors } = matchReadings(job, readings({ zero: 0.12 }, PLACES.slice(0, 2)));
  expect(Object.keys(errors)).toEqual(['zero']);
  expect(causes.zero).toBeCloseTo(0.12, 1.7);
});

describe('readings that no setting explains are refused in one sentence', () => {
  const flats = PLACES.filter(([, , m]) => m === 0);
  /** @param change of what a part without faults would measure, mm across */
  const off = (change: (d: number, i: number) => number) =>
    readings({}, flats).map((r, i) => ({ ...r, diameter: change(r.diameter, i) }));
  const told = (list: readonly Reading[], of: Part = part) => {
    const found = believedMatch(of, job, list);
    return 'problem' in found ? found.problem.message : found.match.causes;
  };
  test('thicker than the stock, thinner than nothing, far from the form', () => {
    expect(told(off(() => 100))).toMatch(
      /^at x 2 mm a diameter of 100 mm is thicker than .* 28 mm across; so are 8 more$/,
    );
    expect(told(off((d, i) => (i === 3 ? -d : d)))).toMatch(
      /^at x 22 mm a diameter of -1\d(\.\d+)? mm is no thickness$/,
    );
    // A comma forgotten, or inches: 24 mm are 0.94 of them.
    expect(told(off((d) => d / 25.4))).toMatch(/^at x 2 mm a diameter of 0\.9\d mm is further from the 24 mm /);
    const found = believedMatch(
      part,
      job,
      off((d) => d / 25.4),
    );
    expect('problem' in found && found.problem).toMatchObject({
      severity: 'refuse',
      allowed: expect.stringMatching(/measure again, and check the unit: readings are in mm/),
    });
  });

  test('stock as it stands is measured from corner to corner, and may be a little over', () => {
    const square = jobFor({ field, width: 28, section: 'square' });
    const at = (diameter: number) =>
      believedMatch(part, square, [
        { x: 2, diameter },
        { x: 5, diameter },
      ]);
    // 28·√2 = 39.6.
    expect(at(41)).toMatchObject({ problem: { message: expect.stringContaining('39.6 mm from corner to corner') } });
    expect(at(40)).toMatchObject({ problem: { message: expect.stringContaining('further from') } });
    expect(at(24.3)).toHaveProperty('match');
  });

  test('a zero off by more than three millimetres, alone or with the trim of an earlier part', () => {
    const most = readings({ zero: 2.9 }, flats);
    expect(told(most)).toMatchObject({ zero: expect.closeTo(2.9, 1) });
    expect(told(readings({ zero: 3.2 }, flats))).toMatch(/a radial zero that was off by 3\.2\d? mm; more than 3 mm/);
    expect(told(most, { ...part, trim: { radial: 0.5 } })).toMatch(
      /^the readings would mean together with .* 3\.4?\d* mm;/,
    );
    expect(told(most, { ...part, trim: { radial: -0.5 } })).toMatchObject({ zero: expect.closeTo(2.9, 1) });
  });

  test('a bit worn by more than a tenth of its diameter', () => {
    expect(told(readings({ wear: 0.5 }))).toMatchObject({ wear: expect.closeTo(0.5, 1) });
    expect(told(readings({ wear: 1.2 }))).toMatch(
      /a finishing bit whose diameter is off by 1\.\d+ mm; more than 0\.6 mm/,
    );
  });
});

test('much that stays unexplained is said beside what was found, and nothing of it where all is explained', () => {
  const clear = matchReadings(job, readings({ zero: 0.12 }));
  expect(causesTold(clear, 'Z').join()).not.toMatch(/unexplained/);
  const wild = readings({}).map((r, i) => ({ ...r, diameter: r.diameter + (i % 2 ? 0.6 : -0.6) }));
  const told = causesTold(matchReadings(job, wild), 'Z');
  expect(told.at(-1)).toMatch(/^0\.[56]\d mm across on average stay unexplained: .*; measure again/);
  expect(told.join()).not.toMatch(/nothing is off/);
});

/** The wood that programs leave on a machine whose finishing bit is worn and whose tip stands lower than it is told, mm across at x. */
function cutBy(built: Built, faults: { zero: number; finishing: Bit }, at: readonly number[]): number[] {
  const question = proofJobOf(built.job!, built.programs);
  const grid = layGrid(question, { cell: 0.2, most: 400_000, tolerance: 0 });
  grid.part.fill(0);
  const wood = new Wood(grid);
  for (const [i, program] of question.programs.entries()) {
    const finishing = built.programs[i]!.tools[0] === built.job!.tools.finishing;
    const shape = shapeOf(finishing ? faults.finishing : program.bit);
    const walker = new Walker(new Cutter(wood, shape, Infinity, () => undefined), shape);
    // The machine knows of no trim: words are what they are, and its tip stands lower by what is off.
    const m = follow(
      program.text,
      question.control,
      question.bench,
      { axial: 0, radial: faults.zero },
      (code, line) => {
        throw new Error(`${code} in line ${line}`);
      },
    );
    for (let k = 1; k < m.count; k++) {
      const place = (j: number) => ({ x: m.x[j]!, r: m.r[j]!, theta: m.theta[j]! });
      if (!m.rapid[k] && Number.isFinite(m.x[k - 1]!)) walker.along(place(k - 1), place(k), () => undefined);
      if (k % 64 === 0) wood.tightenAlong(grid.xs[0]!, grid.xs.at(-1)!);
    }
  }
  // A caliper with narrow jaws: between the two rings beside x, all round.
  const { columns, xs } = grid;
  const across = (row: number) => {
    const ring = wood.outer.subarray(row * columns, (row + 1) * columns);
    return (2 * ring.reduce((sum, r) => sum + r, 0)) / columns;
  };
  return at.map((x) => {
    const row = rowFrom(grid, x);
    const share = row ? (xs[row]! - x) / (xs[row]! - xs[row - 1]!) : 0;
    return across(row) * (1 - share) + (share ? across(row - 1) * share : 0);
  });
}

describe('on a machine with a worn bit and a zero that is off', () => {
  let built: Built;
  const xs = [3, 6, 9, 15, 15.5, 22, 23, 31, 32, 38, 41, 44];
  const flat = (x: number) => PLACES.some(([at, , m]) => m === 0 && Math.abs(at - x) <= 1);
  const faults = { zero: 0.15, wear: 0.4 };
  const machine = () => ({ zero: faults.zero, finishing: wornBit(built.job!.tools.finishing.bit, faults.wear) });
  beforeAll(async () => {
    built = await buildRaw(raw, { solid: 'none' });
  });

  test('the first part tells both, and the corrected document makes the next one right', async () => {
    expect(refusals(built)).toEqual([]);
    const measured = cutBy(built, machine(), xs);
    const match = matchReadings(
      built.job!,
      xs.map((x, i) => ({ x, diameter: measured[i]! })),
    );
    expect(match.before).toBeGreaterThan(0.15);
    // The ridges of the spiral, 0.01 mm as planned, stand on what the bit would leave if it went everywhere.
    expect(Math.abs(match.causes.zero - faults.zero)).toBeLessThan(0.015);
    expect(Math.abs(match.causes.wear - faults.wear)).toBeLessThan(0.08);
    expect(match.causes.tail).toBe(0);

    const corrected = matchedPart(part, built.job!, match);
    const next = await buildRaw(corrected as unknown as Record<string, unknown>, { solid: 'none' });
    expect(refusals(next)).toEqual([]);
    expect(next.report!.words.radial.offset).toBeCloseTo(match.causes.zero, 3);
    expect(next.programs[0]!.text).toMatch(/after readings of an earlier part every Z word is moved by 0\.1/);
    const again = cutBy(next, machine(), xs);
    const wanted = match.rows.map((r) => r.wanted);
    for (const [i, x] of xs.entries())
      if (flat(x)) expect(Math.abs(again[i]! - wanted[i]!), `x ${x}`).toBeLessThan(0.05);
    const off = (list: number[]) => Math.hypot(...list.map((d, i) => d - wanted[i]!)) / Math.sqrt(list.length);
    expect(off(again)).toBeLessThan(off(measured) / 4);
  });
});

describe('a table of readings', () => {
  test('with commas, with semicolons and decimal commas, with titles in another order, in inches', () => {
    const plain = {
      readings: [
        { x: 2, diameter: 24.1 },
        { x: 22.5, diameter: 12 },
      ],
    };
    expect(readReadings('2,24.1\n22.5,12\n', false, 46)).toEqual(plain);
    expect(readReadings('2;24,1\r\n22,5;12', false, 46)).toEqual(plain);
    expect(readReadings('diameter,x\n24.1,2\n12,22.5', false, 46)).toEqual(plain);
    const turned = readReadings('x,diameter,angle_deg\n0.5,1,90\n1,1,', true, 46);
    expect(turned).toEqual({
      readings: [
        { x: 12.7, diameter: 25.4, theta: Math.PI / 2 },
        { x: 25.4, diameter: 25.4 },
      ],
    });
  });

  test('that is wrong is told line by line', () => {
    const wrong = readReadings('2,24.1\n99,12\n3,thick\n', false, 46);
    expect('problems' in wrong && wrong.problems.map((p) => [p.path, p.message])).toEqual([
      ['line 2', 'x is 99'],
      ['line 3', 'diameter is thick'],
    ]);
    expect(readReadings('', false, 46)).toMatchObject({ problems: [{ message: 'there are no readings' }] });
    expect(readReadings('x,girth\n1,2', false, 46)).toMatchObject({
      problems: [{ message: 'no column is called girth' }],
    });
  });
});
