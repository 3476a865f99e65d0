import fc from 'fast-check';
import { expect, test } from 'vitest';
import { controls } from '../../shared/catalog.ts';
import { TURN } from '../../shared/units.ts';
import { positionOf, wordsFor, wordsPerTurn, wordsReport } from '../../src/cam/control.ts';
import { row } from '../support/cam-job.ts';

test.each(controls.map((c) => [c.id, c] as const))('%s gives back every position from its words', (_, control) => {
  fc.assert(
    fc.property(
      fc.double({ min: -500, max: 2000, noNaN: true }),
      fc.double({ min: 0.2, max: 200, noNaN: true }),
      fc.double({ min: -1e4, max: 1e4, noNaN: true }),
      fc.double({ min: -300, max: 300, noNaN: true }),
      (x, r, theta, zero) => {
        const offsets = { axial: zero, radial: -zero / 2 };
        const back = positionOf(control, wordsFor(control, x, r, theta, offsets), offsets);
        expect(back.x).toBeCloseTo(x, 9);
        expect(back.r).toBeCloseTo(r, 9);
        expect(back.theta).toBeCloseTo(theta, 8);
      },
    ),
    { seed: 11, numRuns: 60 },
  );
});

test('a quarter turn is 90 in degrees and a quarter of the units a turn on a linear output', () => {
  const words = (id: string) => wordsFor(row(controls, id), 12.7, 25.4, TURN / 4);
  expect(words('four-axis-inverse-time')).toEqual({ axial: 12.7, radial: 25.4, rotary: 90 });
  expect(words('y-output-degrees').rotary).toBe(90);
  expect(words('y-output-turn-100').rotary).toBe(25);
});

test('inches divide the linear words, degrees stay degrees', () => {
  // NISTIR 6556 §2.1.2.9: rotary words are degrees whatever the length units are.
  const words = wordsFor(row(controls, 'four-axis-inch'), 12.7, 25.4, TURN / 4);
  expect(words).toEqual({ axial: 0.5, radial: 1, rotary: 90 });
});

test('under inches a rotary on a linear output is divided too, since the control multiplies every linear word by 25.4', () => {
  const control = row(controls, 'y-output-inch');
  expect(wordsFor(control, 0, 0, TURN).rotary * 25.4).toBeCloseTo(100, 12);
  expect(wordsPerTurn(control)).toBeCloseTo(100 / 25.4, 12);
});

test('offsets are millimetres and are added after the direction', () => {
  const control = { ...row(controls, 'four-axis-inch'), axial: { letter: 'X', scale: -1 } as const };
  const words = wordsFor(control, 10, 20, 0, { axial: 300, radial: -5 });
  expect(words.axial).toBeCloseTo(290 / 25.4, 12);
  expect(words.radial).toBeCloseTo(15 / 25.4, 12);
});

test('a rotary that turns the other way counts the other way', () => {
  expect(wordsFor(row(controls, 'four-axis-along-y'), 0, 0, TURN / 4).rotary).toBe(-90);
});

test('the report tells units a turn as the program counts them', () => {
  expect(wordsReport(row(controls, 'y-output-inch'), { axial: 3, radial: 0 })).toEqual({
    axial: { letter: 'X', scale: 1, offset: 3 },
    radial: { letter: 'Z', scale: 1, offset: 0 },
    rotary: { letter: 'Y', unitsPerTurn: 100 / 25.4, sign: 1 },
    units: 'inch',
    feedRule: 'all-words',
  });
});
