/** Worked numbers of cutting speed, feed, removal, power. */
import { expect, test } from 'vitest';
import {
  ballDiameterAt,
  chipThinning,
  cuttingPower,
  feedFor,
  removalRate,
  rpmFor,
  surfaceSpeed,
} from '../../src/cam/cutting.ts';

test('spindle speed: v = πDN/1000 (Carvill, Mechanical Engineer’s Data Handbook, p. 186)', () => {
  expect(rpmFor(150, 6)).toBeCloseTo(7957.747, 3);
  expect(rpmFor(300, 6.35)).toBeCloseTo(15038.262, 3);
  expect(surfaceSpeed(7957.747, 6)).toBeCloseTo(150, 5);
});

test('feed: N·z·fz', () => {
  expect(feedFor(18000, 2, 0.05)).toBe(1800);
});

test('aluminium at 5.6 m/s, 0.25 mm, 2 mm deep: 2800 mm³/s and 1960 W at 0.7 J/mm³ (Groover, Fundamentals of Modern Manufacturing, table 20.2 and its exercise)', () => {
  // 5.6 m/s × 0.25 mm × 2.0 mm as depth 2, width 0.25, feed 336,000 mm/min.
  const rate = removalRate(2, 0.25, 5600 * 60);
  expect(rate).toBeCloseTo(2800, 9);
  expect(cuttingPower(rate, 700)).toBeCloseTo(1960, 9);
});

test('one horsepower for a cubic inch a minute is 2.730 J/mm³ (Machinery’s Handbook’s pair 1.00 and 2.73)', () => {
  // 745.699872 W over (25.4³/60) mm³/s.
  expect(cuttingPower(25.4 ** 3 / 60, 2730.324)).toBeCloseTo(745.699872, 3);
});

test('wood 3 mm deep, 6 mm wide, 2000 mm/min: 600 mm³/s and 21 W at 35 N/mm² (particleboard 32 to 38: Pałubicki, Materials 2021, 14, 2208)', () => {
  expect(removalRate(3, 6, 2000)).toBe(600);
  expect(cuttingPower(600, 35)).toBe(21);
});

test('aluminium 6061, 0.5 mm deep, 3 mm wide, 800 mm/min: 16 W at 0.8 J/mm³ (Groover, table 20.2)', () => {
  expect(cuttingPower(removalRate(0.5, 3, 800), 800)).toBeCloseTo(16, 9);
});

test('a ball of 6 mm, 0.3 mm deep, cuts on 2.615 mm (geometry of a circle)', () => {
  const effective = ballDiameterAt(6, 0.3);
  expect(effective).toBeCloseTo(2.615339, 6);
  expect(surfaceSpeed(18000, effective)).toBeCloseTo(147.893957, 5);
  expect(surfaceSpeed(18000, 6)).toBeCloseTo(339.292007, 5);
});

test('a side cut of 0.6 mm with 6 mm thins the chip to 0.6 of the feed per tooth (geometry of a circle)', () => {
  expect(chipThinning(0.6, 6)).toBeCloseTo(0.6, 9);
  expect(0.05 / chipThinning(0.6, 6)).toBeCloseTo(0.083333, 6);
  expect(chipThinning(3, 6)).toBe(1);
});
