import { describe, expect, test } from 'vitest';
import { radians, TURN } from '../../shared/units.ts';
import type { Blank } from '../../src/cam/blank.ts';
import { Wood } from '../../src/cam/wood.ts';
import { bitNamed } from '../support/jobs.ts';

const square = (side: number, length = 60): Blank => ({
  section: 'square',
  width: side,
  height: side,
  sides: 4,
  from: 0,
  to: length,
});
const bit = (kind: 'flat' | 'ball' | 'bull', diameter: number) => ({
  ...bitNamed('flat-6'),
  kind,
  diameter,
  shank: diameter,
  tipRadius: kind === 'ball' ? diameter / 2 : kind === 'bull' ? 1 : 0,
});

describe('the removal map', () => {
  test('starts as the blank, corners included, whatever the section', () => {
    expect(new Wood(square(40)).outer(30, radians(45))).toBeCloseTo(20 * Math.SQRT2, 5);
    const plank: Blank = { ...square(40), section: 'rectangle', width: 60, height: 30 };
    expect(new Wood(plank).outer(30, Math.atan2(60, 30))).toBeCloseTo(Math.hypot(30, 15), 5);
    const octagon: Blank = { ...square(40), section: 'polygon', sides: 8 };
    expect(new Wood(octagon).outer(30, radians(22.5))).toBeCloseTo(20 / Math.cos(radians(22.5)), 5);
    const seven: Blank = { ...square(40), section: 'polygon', sides: 7 };
    expect(new Wood(seven).outer(30, Math.PI / 7)).toBeCloseTo(20 / Math.cos(Math.PI / 7), 5);
  });

  // Closed form: a flat end on a square prism, half side a, turned θ from a face: a·sec θ + R·tan θ while the rim's foot lies
  // on the face, else the corner a(cos θ + sin θ). Plane geometry.
  test('finds the contact of a flat end on a square', () => {
    const wood = new Wood(square(20), { columns: 1440 });
    const flat = bit('flat', 6);
    for (const [deg, exact] of [
      [10, 10.683247],
      [20, 11.733688],
      [40, 14.088321],
      [45, 14.142136],
    ] as const)
      expect(Math.abs(wood.lowest(flat, 30, radians(deg)) - exact)).toBeLessThan(0.06);
  });

  // Closed form: a ball on the square: (a + R)·sec θ − R while it touches the face.
  test('finds the contact of a ball on a square', () => {
    const wood = new Wood(square(20), { columns: 1440 });
    const ball = bit('ball', 6);
    expect(Math.abs(wood.lowest(ball, 30, radians(10)) - 10.200546)).toBeLessThan(0.02);
    expect(Math.abs(wood.lowest(ball, 30, radians(20)) - 10.834311)).toBeLessThan(0.02);
  });

  test('a flat end leaves its plane, a ball its circle', () => {
    const flat = new Wood(square(40));
    flat.take(bit('flat', 6), 10, 18, radians(30), 50, 18, radians(30));
    const j = Math.round(radians(32) / flat.dTheta);
    const delta = j * flat.dTheta - radians(30);
    expect(flat.radii[60 * flat.columns + j]).toBeCloseTo(18 / Math.cos(delta), 4);
    const ball = new Wood(square(40));
    ball.take(bit('ball', 6), 10, 18, radians(30), 50, 18, radians(30));
    const c = 21;
    expect(ball.radii[60 * ball.columns + j]).toBeCloseTo(
      c * Math.cos(delta) - Math.sqrt(9 - (c * Math.sin(delta)) ** 2),
      // The map bites every half millimetre: cusps of 0.5²/(8·3) mm, seen from the ray.
      1,
    );
    const cusp = ball.radii[60 * ball.columns + j]! - (c * Math.cos(delta) - Math.sqrt(9 - (c * Math.sin(delta)) ** 2));
    expect(cusp).toBeGreaterThanOrEqual(-1e-4);
    expect(cusp).toBeLessThan(0.015);
  });

  // Closed form: what a square prism has outside a circle ρ < a is 4a² − πρ² for each unit of length.
  test('going round a square at one radius takes the area outside that circle', () => {
    const wood = new Wood(square(40, 40), { spacing: 0.25, columns: 1440 });
    const flat = bit('flat', 6);
    let volume = 0;
    for (let turn = 0; turn < 24; turn++) {
      const x = 20 - 12 + turn;
      for (let k = 0; k < 8; k++) volume += wood.take(flat, x, 19, (k * TURN) / 8, x, 19, ((k + 1) * TURN) / 8).volume;
    }
    const length = 23 + 6;
    expect(volume / ((1600 - Math.PI * 361) * length)).toBeCloseTo(1, 1);
    expect(Math.abs(volume / ((1600 - Math.PI * 361) * length) - 1)).toBeLessThan(0.02);
    // The map turns in steps of at most 0.6 mm of arc, a fifth of the bit's radius: facets of 19(1/cos(0.3/19) − 1) stay.
    expect(wood.lowest(flat, 20, 0.3)).toBeLessThanOrEqual(19 / Math.cos(0.3 / 19) + 1e-4);
  });

  test('a cut under standing wood leaves the outermost wood standing', () => {
    const wood = new Wood({ ...square(40), section: 'round', sides: 0 });
    const flat = bit('flat', 6);
    // On the ray at 25 degrees the wood's edge at 20 lies 8.5 mm aside, outside a bit of 3 mm radius.
    wood.take(flat, 30, 3, 0, 30, 3, 0);
    const j = Math.round(radians(25) / wood.dTheta);
    expect(wood.radii[60 * wood.columns + j]).toBe(20);
    expect(wood.radii[60 * wood.columns]).toBeCloseTo(3, 5);
  });

  test('clearance covers every place and angle in the box', () => {
    const wood = new Wood(square(40, 120));
    const flat = bit('flat', 6);
    for (let x = 20; x <= 70; x += 2)
      for (let k = 0; k < 16; k++) wood.take(flat, x, 12, (k * TURN) / 16, x, 12, ((k + 1) * TURN) / 16);
    const box: [number, number, number, number] = [30, 76, radians(10), radians(40)];
    const clear = wood.clearance(flat, ...box);
    let worst = 0;
    for (let x = box[0]; x <= box[1]; x += 0.37)
      for (let t = box[2]; t <= box[3]; t += 0.01) worst = Math.max(worst, wood.lowest(flat, x, t));
    expect(clear).toBeGreaterThanOrEqual(worst);
    expect(clear).toBeGreaterThan(28);
    expect(wood.clearance(flat, 30, 60, 0, 9)).toBeLessThan(13);
    expect(wood.clearance(flat, 30, 60, 0, 9)).toBeGreaterThanOrEqual(12 - 1e-4);
  });

  test('a thick holder is kept above wood that the bit itself has passed', () => {
    const wood = new Wood(square(40, 120));
    const flat = { ...bit('flat', 6), stickOut: 10, holder: 30 };
    for (let x = 55; x <= 65; x += 2)
      for (let k = 0; k < 16; k++) wood.take(flat, x, 12, (k * TURN) / 16, x, 12, ((k + 1) * TURN) / 16);
    expect(wood.clearance(flat, 60, 60, radians(45), radians(45))).toBeGreaterThanOrEqual(20 * Math.SQRT2 - 10 - 0.1);
    expect(wood.shankClearance(flat, 60, radians(45), 12)).toBeGreaterThanOrEqual(20 * Math.SQRT2 - 10 - 0.1);
  });
});
