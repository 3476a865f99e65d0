/** Steps, degrees and wrapped lengths of a rotary (arithmetic from the definitions), and IEEE 754 single precision. */
import { expect, test } from 'vitest';
import { benches, controls } from '../../shared/catalog.ts';
import { degrees, TURN } from '../../shared/units.ts';
import { axisTime, rotaryMax } from '../../src/cam/block-time.ts';
import { positionOf, wordsFor } from '../../src/cam/control.ts';
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
