/** Pitch along the part against the closed forms of the ridge (see tests/reference/scallop.test.ts for their sources). */
import { expect, test } from 'vitest';
import type { Bit } from '../../shared/catalog.ts';
import { PITCH_LEAST } from '../../shared/tolerances.ts';
import { contactFor } from '../../src/cam/contact.ts';
import { pitchAlong, widestPitch } from '../../src/cam/pitch.ts';
import { scallopSpacing } from '../../src/cam/scallop.ts';
import type { Field } from '../../src/profiles/field.ts';
import { cone, cylinder, fieldFrom, step } from '../support/fields.ts';
import { bitNamed } from '../support/jobs.ts';

const along = (field: Field, bit: Bit, scallop: number, from: number, to: number, options = {}) =>
  pitchAlong(field, contactFor(field, bit), bit, scallop, from, to, options);
const ball = bitNamed('ball-6');
const near = (value: number, wanted: number, share = 0.03) => {
  expect(value).toBeGreaterThan(wanted * (1 - share));
  expect(value).toBeLessThan(wanted * (1 + share));
};

test('a ball on a cylinder takes the pitch of the flat', () => {
  near(along(cylinder(60, 15), ball, 0.02, 10, 50).at(30), scallopSpacing(3, 0.02));
});

test('on a cone the pitch along x shrinks with the cosine of the slope', () => {
  for (const m of [0.5, 1, 2])
    near(along(cone(20, 6, m), ball, 0.02, 6, 14).at(10), scallopSpacing(3, 0.02) / Math.hypot(1, m));
});

test('a flat end on a cone leaves a staircase of pitch times the sine of the slope', () => {
  near(along(cone(40, 10, 0.2), bitNamed('flat-6'), 0.04, 10, 25).at(17), (0.04 * Math.hypot(1, 0.2)) / 0.2);
});

test('on a bead the pitch of the tip is that of the bead, stretched to the tip’s own circle', () => {
  const rho = 8;
  const bead = fieldFrom({ length: 40, radius: (x) => 10 + Math.sqrt(Math.max(0.01, rho * rho - (x - 20) ** 2)) });
  near(along(bead, ball, 0.02, 19, 21).at(20), (scallopSpacing(3, 0.02, 1 / rho) * (rho + 3)) / rho, 0.04);
});

test('in a cove the pitch of the tip is that of the cove, shrunk to the tip’s own circle', () => {
  const rho = 8;
  const cove = fieldFrom({ length: 40, radius: (x) => 20 - Math.sqrt(Math.max(20, rho * rho - (x - 20) ** 2)) });
  near(along(cove, ball, 0.02, 19.5, 20.5).at(20), (scallopSpacing(3, 0.02, -1 / rho) * (rho - 3)) / rho, 0.06);
});

test('flat and bull-nosed ends take four fifths of their flat on a straight cylinder, where they leave no ridge', () => {
  expect(along(cylinder(60, 15), bitNamed('flat-6'), 0.02, 10, 50).at(30)).toBeCloseTo(0.8 * 6, 6);
  expect(along(cylinder(60, 15), bitNamed('bull-6'), 0.02, 10, 50).at(30)).toBeCloseTo(0.8 * 4, 6);
  expect(widestPitch(bitNamed('flat-6'), 0.02)).toBeCloseTo(4.8, 12);
});

test('a vee takes its tip and twice the ridge times the tangent of its half angle, a pointed one no less than the least pitch', () => {
  const vee = { ...bitNamed('vee-90'), tipDiameter: 0.2 };
  near(along(cylinder(40, 15), vee, 0.1, 15, 25).at(20), 0.2 + 0.2);
  const pointed = { ...vee, tipDiameter: 0 };
  near(along(cylinder(40, 15), pointed, 0.1, 15, 25).at(20), 0.2);
  expect(along(cylinder(40, 15), pointed, 0.1, 15, 25).capped).toBeUndefined();
  const fine = along(cylinder(40, 15), { ...pointed, includedAngle_deg: 60 }, 0.02, 15, 25);
  expect(fine.at(20)).toBeCloseTo(PITCH_LEAST, 9);
  expect(fine.capped).toMatch(/ridge/);
});

test('the pitch changes by less than a tenth each turn and never passes what any place on the turn allows', () => {
  const wavy = fieldFrom({ length: 60, radius: (x) => 12 + 3 * Math.sin(x / 4) });
  const table = along(wavy, ball, 0.02, 5, 55);
  expect(table.largest).toBeGreaterThan(1.3 * table.smallest);
  for (let x = 5; x + table.at(x) < 55; x += 0.37) {
    const [a, b] = [table.at(x), table.at(x + table.at(x))];
    expect(Math.abs(b - a)).toBeLessThan(0.1 * Math.max(a, b) + 1e-9);
  }
});

test('a wall that the path goes round beside is spanned by no pitch and spoils none', () => {
  const shoulder = step(60, 30, 14, 9);
  const flat = bitNamed('flat-6');
  expect(along(shoulder, flat, 0.02, 10, 50, { walls: [33] }).smallest).toBeCloseTo(4.8, 6);
  expect(along(shoulder, flat, 0.02, 10, 50).smallest).toBeLessThan(0.2);
});
