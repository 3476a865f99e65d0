/** Beams and shafts against published closed forms and textbook problems. */
import { expect, test } from 'vitest';
import {
  type Bar,
  bendingStress,
  bentLine,
  compliance,
  lowestTone,
  moments,
  roundInertia,
  roundPolar,
  torsionStress,
  twist,
  worstStress,
} from '../../src/cam/beam.ts';
import { cantileverGive } from '../../src/cam/cutting.ts';

/** A bar of stretches [length, EI], each cut into cells. */
function bar(stretches: readonly (readonly [number, number])[], cells = 120): Bar {
  const edges = [0];
  const EI: number[] = [];
  for (const [length, stiffness] of stretches)
    for (let i = 0; i < cells; i++) {
      edges.push(edges.at(-1)! + length / cells);
      EI.push(stiffness);
    }
  return { edges: Float64Array.from(edges), EI: Float64Array.from(EI) };
}
const nearest = (b: Bar, x: number) =>
  b.edges.reduce((best, e, i) => (Math.abs(e - x) < Math.abs(b.edges[best]! - x) ? i : best), 0);

/** Black cherry (Wood Handbook, FPL-GTR-282, table 5-3a: 10,300 MPa), 25 mm round, 800 mm, 50 lbf = 222.411 N. */
const cherry = bar([[800, 10300 * roundInertia(25)]], 800);
const F = 222.411;

test('second moments of a 25 mm round: πd⁴/64 and πd⁴/32', () => {
  expect(roundInertia(25)).toBeCloseTo(19174.76, 2);
  expect(roundPolar(25)).toBeCloseTo(38349.52, 2);
});

test('between two points, load in the middle: FL³/48EI', () => {
  expect(compliance(cherry, 'pinned-pinned')[400]! * F).toBeCloseTo(12.01207, 4);
  expect(bendingStress((F * 800) / 4, 25)).toBeCloseTo(28.99789, 4);
});

test('fixed and propped, load in the middle: 7FL³/768EI under the load, FL³/(48√5·EI) at L/√5 from the prop', () => {
  expect(compliance(cherry, 'fixed-pinned')[400]! * F).toBeCloseTo(5.25528, 4);
  const line = bentLine(cherry, 'fixed-pinned', 400);
  const most = line.indexOf(Math.max(...line));
  expect(line[most]! * F).toBeCloseTo(5.37196, 4);
  expect(800 - cherry.edges[most]!).toBeCloseTo(800 / Math.sqrt(5), -0.5);
  // M at the fixed end 3FL/16, under the load 5FL/32 (the same published case).
  const M = moments(cherry, 'fixed-pinned', 400);
  expect(M[0]! / 800).toBeCloseTo(-3 / 16, 9);
  expect(M[400]! / 800).toBeCloseTo(5 / 32, 9);
  expect(bendingStress((3 / 16) * F * 800, 25)).toBeCloseTo(21.74841, 4);
});

test('fixed and propped, the load’s worst place: 0.009812 FL³/EI at 0.414 L from the prop', () => {
  const give = compliance(cherry, 'fixed-pinned');
  const worst = give.indexOf(Math.max(...give));
  expect((give[worst]! * 10300 * roundInertia(25)) / 800 ** 3).toBeCloseTo(0.009812, 6);
  expect((800 - cherry.edges[worst]!) / 800).toBeCloseTo(Math.SQRT2 - 1, 2);
});

test('any place of the load: a³b²(3L+b)/12EIL³ propped, a²b²/3EIL between points', () => {
  // Textbook forms; a from the fixed end, b to the prop.
  const EI = 10300 * roundInertia(25);
  for (const k of [80, 250, 640]) {
    const [a, b, L] = [k, 800 - k, 800];
    expect(compliance(cherry, 'pinned-pinned')[k]! / ((a * a * b * b) / (3 * EI * L))).toBeCloseTo(1, 9);
    expect(compliance(cherry, 'fixed-pinned')[k]! / ((a ** 3 * b * b * (3 * L + b)) / (12 * EI * L ** 3))).toBeCloseTo(
      1,
      9,
    );
  }
});

test('held at one end: FL³/3EI, of the bar and of a bit', () => {
  expect(compliance(cherry, 'fixed-free')[800]! * F).toBeCloseTo((F * 800 ** 3) / (3 * 10300 * roundInertia(25)), 6);
  expect(cantileverGive(20, 25, 6.35, 600_000)).toBeCloseTo(0.0021753, 7);
  expect(cantileverGive(20, 25, 6.35, 200_000)).toBeCloseTo(0.0065258, 7);
});

test('20 mm round, 300 mm, 30 N in the middle between points gives 0.2086 mm in cherry', () => {
  const b = bar([[300, 10300 * roundInertia(20)]], 300);
  expect(compliance(b, 'pinned-pinned')[150]! * 30).toBeCloseTo(0.208601, 6);
});

test('middle half twice as stiff: 3FL³/256EI (Gere, Mechanics of Materials; from memory)', () => {
  const b = bar([
    [25, 1],
    [50, 2],
    [25, 1],
  ]);
  const k = nearest(b, 50);
  expect(compliance(b, 'pinned-pinned')[k]! / 100 ** 3).toBeCloseTo(3 / 256, 9);
  const stiff = bar([
    [25, 1],
    [50, 16],
    [25, 1],
  ]);
  expect(compliance(stiff, 'pinned-pinned')[nearest(stiff, 50)]! / 100 ** 3).toBeCloseTo(0.0037434896, 9);
});

test('the give under the load is the bent line’s own value there, for stepped bars and every support', () => {
  const b = bar([
    [60, 5e8],
    [80, 2e7],
    [60, 5e8],
  ]);
  for (const support of ['fixed-pinned', 'pinned-pinned', 'fixed-free'] as const)
    for (const k of [30, 150, 200, 330])
      expect(compliance(b, support)[k]! / bentLine(b, support, k)[k]!).toBeCloseTo(1, 9);
});

test('deflection at one place under a load at another is the same the other way round (Maxwell, Betti)', () => {
  const b = bar([
    [60, 5e8],
    [80, 2e7],
    [60, 5e8],
  ]);
  for (const support of ['fixed-pinned', 'pinned-pinned', 'fixed-free'] as const)
    expect(bentLine(b, support, 70)[290]! / bentLine(b, support, 290)[70]!).toBeCloseTo(1, 9);
});

/** Twist of a stepped shaft of stretches [length, diameter]. */
function twistOf(stretches: readonly (readonly [number, number])[], G: number, torque: number): number {
  const edges = [0];
  for (const [length] of stretches) edges.push(edges.at(-1)! + length);
  const GJ = stretches.map(([, d]) => G * roundPolar(d));
  return torque * twist(Float64Array.from(edges), Float64Array.from(GJ)).at(-1)!;
}

test('cherry, 25 mm, 800 mm, 5 Nm: 3.947° and 1.63 N/mm² (φ = TL/GJ, τ = 16T/πd³; G_LR/E_L 0.147, Wood Handbook table 5-1, from memory)', () => {
  expect(twistOf([[800, 25]], 1514.1, 5000)).toBeCloseTo(0.0688883, 6);
  expect(torsionStress(5000, 25)).toBeCloseTo(1.629747, 6);
});

test('two equal halves, one twice as thick: φ = 17TL/32GJ of the thin one (Beer & Johnston, Mechanics of Materials, question 11.11)', () => {
  const phi = twistOf(
    [
      [200, 20],
      [200, 40],
    ],
    1514.1,
    10_000,
  );
  expect(phi).toBeCloseTo(0.08934793, 7);
  expect(phi).toBeCloseTo((17 * 10_000 * 400) / (32 * 1514.1 * roundPolar(20)), 9);
});

test('the thin half twists sixteen times as far as the thick one (J goes with d⁴)', () => {
  expect(twistOf([[100, 10]], 1, 1) / twistOf([[100, 20]], 1, 1)).toBeCloseTo(16, 9);
});

test('12 and 14 mm, 600 and 800 mm, 1.2 Nm, 75 GPa (a university’s problem)', () => {
  expect(
    twistOf(
      [
        [600, 12],
        [800, 14],
      ],
      75_000,
      1200,
    ),
  ).toBeCloseTo(0.00810959, 8);
  expect(torsionStress(1200, 12)).toBeCloseTo(3.53678, 5);
});

test('the worst stress of a bar is the largest moment times Z, for every place of the load and every support', () => {
  const b = bar(
    [
      [60, 5e8],
      [80, 2e7],
      [60, 5e8],
    ],
    20,
  );
  const Z = Float64Array.from(b.EI, (EI, i) => 1e6 / EI + (i % 3));
  for (const support of ['fixed-pinned', 'pinned-pinned', 'fixed-free'] as const) {
    const worst = worstStress(b, support, Z);
    for (const k of [0, 7, 30, 45, 60]) {
      const M = moments(b, support, k);
      const slow = Z.reduce((most, z, i) => Math.max(most, z * Math.max(Math.abs(M[i]!), Math.abs(M[i + 1]!))), 0);
      expect(worst[k]!).toBeCloseTo(slow, 9);
    }
  }
});

test('lowest tone of a uniform bar: λ²/(2πL²)·√(EI/μ), λ² = π² between points, 15.418 fixed and propped, 3.516 held at one end (textbooks of vibration, from memory)', () => {
  // Cherry of 560 kg/m³, 25 mm, 800 mm.
  const area = (Math.PI * 25 ** 2) / 4;
  const mu = 560e-12 * area;
  const mass = new Float64Array(cherry.EI.length).fill(mu);
  const root = Math.sqrt((10300 * roundInertia(25)) / mu) / (2 * Math.PI * 800 ** 2);
  for (const [support, lambda] of [
    ['pinned-pinned', Math.PI ** 2],
    ['fixed-pinned', 15.418],
    ['fixed-free', 3.516],
  ] as const) {
    const ratio = lowestTone(cherry, support, mass) / (lambda * root);
    // Rayleigh's quotient lies above the true tone, by less than a hundredth with the line under its own weight.
    expect(ratio).toBeGreaterThan(0.998);
    expect(ratio).toBeLessThan(1.01);
  }
});

test('a tube is sheared as its ring: 16Td/π(d⁴ − b⁴) (any handbook of mechanics of materials)', () => {
  // 50 mm outside, 40 mm inside, 1 kNm: J = 362,265 mm⁴, τ = T·25/J.
  expect(torsionStress(1e6, 50, 40)).toBeCloseTo((1e6 * 25) / ((Math.PI * (50 ** 4 - 40 ** 4)) / 32), 9);
  expect(torsionStress(1e6, 50, 40)).toBeCloseTo(69.01, 2);
  expect(torsionStress(5000, 25, 0)).toBeCloseTo(1.629747, 6);
});
