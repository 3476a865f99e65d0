/** Steps, degrees and wrapped lengths of a rotary (arithmetic from the definitions), and IEEE 754 single precision. */
import { expect, test } from 'vitest';
import { benches, controls } from '../../shared/catalog.ts';
import { degrees, TURN } from '../../shared/units.ts';
import { axisTime, rotaryMax } from '../../src/cam/block-time.ts';
import { positionOf, wordsFor } from '../../src/cam/control.ts';
import { rotarySetup, stepsAfterTest } from '../../src/cam/rotary-setup.ts';
import { rotaryStep, stepsPerTurn } from '../../src/cam/rotary-step.ts';
import { row } from '../support/cam-job.ts';

const rotary = (fullSteps: number, microsteps: number, reduction: number) => ({
  ...row(benches, 'middle').rotary,
  fullSteps,
  microsteps,
  reduction,
});

test.each([
  [200, 16, 6, 19200, 0.01875],
  [200, 8, 4, 6400, 0.05625],
  [200, 10, 1, 2000, 0.18],
  [200, 32, 20, 128000, 0.0028125],
  [400, 16, 9, 57600, 0.00625],
])('%i steps, %i microsteps, %d to one', (full, micro, ratio, perTurn, step) => {
  expect(stepsPerTurn(rotary(full, micro, ratio))).toBe(perTurn);
  expect(degrees(rotaryStep(rotary(full, micro, ratio)))).toBeCloseTo(step, 12);
});

test('one step of 19,200 a turn moves the surface 0.0082 mm at a radius of 25', () => {
  expect(25 * rotaryStep(rotary(200, 16, 6))).toBeCloseTo(0.00818123, 8);
});

/** The middle bench with a rotary of these numbers, and a control whose turn is so many units. */
const setup = (full: number, micro: number, ratio: number, unitsPerTurn: number, linear: boolean) => {
  const base = row(controls, linear ? 'y-output-turn-100' : 'four-axis-inverse-time');
  const bench = { ...row(benches, 'middle'), rotary: rotary(full, micro, ratio) };
  return rotarySetup(bench, { ...base, rotary: { ...base.rotary, unitsPerTurn, linear } });
};

test.each([
  // Steps a degree = full steps × microsteps × reduction ÷ 360, from the definitions.
  [200, 16, 6, 53.333333],
  [200, 8, 4, 17.777778],
  [200, 10, 1, 5.555556],
  [200, 32, 20, 355.555556],
  [400, 16, 9, 160],
])('%i × %i × %d: so many steps a degree', (full, micro, ratio, perDegree) => {
  expect(setup(full, micro, ratio, 360, false)).toMatchObject({
    unit: '°',
    stepsPerUnit: expect.closeTo(perDegree, 6),
  });
  // A control that believes a degree to be a millimetre wants the same number.
  expect(setup(full, micro, ratio, 360, true)).toMatchObject({
    unit: 'mm',
    stepsPerUnit: expect.closeTo(perDegree, 6),
  });
});

test.each([
  // Steps a mm with one turn wrapped round a datum diameter, πD, of 19,200 steps.
  [50, 122.230996],
  [25.4, 240.612197],
  [100, 61.115498],
])('wrapped round a diameter of %d mm', (D, perMm) => {
  const s = setup(200, 16, 6, Math.PI * D, true);
  expect(s.stepsPerUnit).toBeCloseTo(perMm, 6);
  expect(s.stepsPerInch).toBeCloseTo(perMm * 25.4, 4);
});

test('rate and acceleration of the output are those of the chuck in the output’s units', () => {
  // 60 turns a minute and 1500°/s² at 100 mm a turn: 6000 mm/min, 1500/360·100 = 416.67 mm/s²; 19,200 steps every second.
  const s = setup(200, 16, 6, 100, true);
  expect(s.rate).toBeCloseTo(6000, 9);
  expect(s.acceleration).toBeCloseTo(416.6667, 3);
  expect(s.stepsPerSecond).toBeCloseTo(19200, 9);
  expect(s.step_deg).toBeCloseTo(0.01875, 12);
});

test('a turn that came out short asks for more steps in proportion', () => {
  // Told 360°, went 180°: a reduction of twice what was believed.
  expect(stepsAfterTest(53.333333, 180)).toBeCloseTo(106.666666, 6);
  expect(stepsAfterTest(100, 360)).toBe(100);
  expect(() => stepsAfterTest(100, 0)).toThrow(RangeError);
});

test('a wrapped linear word is πD·angle/360', () => {
  for (const [D, quarter] of [
    [50, 39.269908],
    [25.4, 19.949113],
    [100, 78.539816],
  ] as const) {
    const base = row(controls, 'y-output-turn-100');
    const control = { ...base, rotary: { ...base.rotary, unitsPerTurn: Math.PI * D } };
    expect(wordsFor(control, 0, 0, TURN / 4).rotary).toBeCloseTo(quarter, 6);
  }
});

test('under G20 the control multiplies a linear rotary word by 25.4: a degree-scaled word must be divided', () => {
  // NISTIR 6556 §3.5.7 and §2.1.2.9: linear words are inches, angular ones degrees.
  const base = row(controls, 'y-output-degrees');
  const control = { ...base, units: 'inch' as const };
  expect(wordsFor(control, 0, 0, TURN / 4).rotary * 25.4).toBeCloseTo(90, 12);
});

test('advancing and turning the positive way cuts a right-hand helix, and +90° shows the face that looked to −y', () => {
  // NISTIR 6556 §2.1.2.2: positive rotation is counterclockwise seen from the positive end, from the work's point of view.
  const at = (x: number, word: number) => {
    const p = positionOf(row(controls, 'four-axis-inverse-time'), { axial: x, radial: 10, rotary: word });
    return [p.x, -p.r * Math.sin(p.theta), p.r * Math.cos(p.theta)] as const;
  };
  const [, y, z] = at(0, 90);
  expect(y).toBeCloseTo(-10, 12);
  expect(z).toBeCloseTo(0, 12);
  // Right-hand: (x, y, z) moving with x·(r × v) > 0 for growing x; torsion of the helix by its triple product.
  const p = [0, 1, 2, 3].map((k) => at(k, k * 10));
  const d = (a: number, b: number) => [0, 1, 2].map((i) => p[b]![i]! - p[a]![i]!);
  const [u, v, w] = [d(0, 1), d(1, 2), d(2, 3)];
  const triple =
    u![0]! * (v![1]! * w![2]! - v![2]! * w![1]!) -
    u![1]! * (v![0]! * w![2]! - v![2]! * w![0]!) +
    u![2]! * (v![0]! * w![1]! - v![1]! * w![0]!);
  expect(triple).toBeGreaterThan(0);
});

test('near the axis the rotary, not the feed, sets the time: 360·v/(2πr) grows without limit', () => {
  const bench = { ...row(benches, 'middle'), rotary: { ...row(benches, 'middle').rotary, maxSpeed: 20 } };
  // 1500 mm/min and 20 turns a minute meet at a radius of v/(2πn) = 11.94 mm.
  const meet = 1500 / (TURN * 20);
  expect(meet).toBeCloseTo(11.937, 3);
  expect(axisTime(bench, 0, 0, TURN)).toBeCloseTo(3, 12);
  expect((TURN * meet) / (1500 / 60)).toBeCloseTo(TURN / rotaryMax(bench), 12);
});

test('single precision holds steps of 1/64 degree from 131,072 degrees on', () => {
  expect(Math.fround(131072 + 1 / 64) - 131072).toBe(1 / 64);
  expect(Math.fround(131072 + 1 / 160) - 131072).toBe(0);
});
