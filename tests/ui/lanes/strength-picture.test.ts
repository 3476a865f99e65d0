import { expect, test } from 'vitest';
import type { StationDetail } from '../../../src/cam/strength.ts';
import { giveY, gradeStretches, stationAt } from '../../../src/ui/lanes/strength-picture.ts';

const station = (x: number, deflection: number, safetyFactor: number): StationDetail => ({
  x,
  deflection,
  safetyFactor,
  twist: 0,
  smallest: 10,
  largest: 10,
  inertia: 7854,
  finishing: deflection / 4,
  bendingSafety: safetyFactor,
  torsionSafety: Infinity,
  bendsIn: 'roughing',
  weakestIn: 'roughing',
  roughingFeed: 1,
  finishingFeed: 1,
  limits: { deflection: 0.03, safety: 2 },
});
const bar = [
  station(0, 0, Infinity),
  station(10, 0.1, 6),
  station(20, 0.2, 3),
  station(30, 0.1, 1.5),
  station(40, 0, 5),
];

test('between two stations the numbers lie between theirs; what cannot break on one side is told by the other', () => {
  expect(stationAt(bar, 15)).toMatchObject({
    x: 15,
    deflection: expect.closeTo(0.15, 12),
    finishing: expect.closeTo(0.0375, 12),
    safetyFactor: 4.5,
  });
  expect(stationAt(bar, 5)!.safetyFactor).toBe(6);
  expect(stationAt(bar, 0)!.deflection).toBe(0);
  expect(stationAt(bar, -1)).toBeUndefined();
  expect(stationAt(bar, 41)).toBeUndefined();
});

test('a stretch is as weak as the weaker of its two ends', () => {
  expect(gradeStretches(bar)).toEqual([
    { grade: 'firm', from: 0, to: 10 },
    { grade: 'spare', from: 10, to: 20 },
    { grade: 'weak', from: 20, to: 40 },
  ]);
});

test('a quarter of the largest give stands half as high', () => {
  const up = { base: 50, top: 10, most: 0.4 };
  expect(giveY(up, 0)).toBe(50);
  expect(giveY(up, 0.1)).toBeCloseTo(30, 12);
  expect(giveY(up, 0.4)).toBe(10);
  expect(giveY(up, 4)).toBe(10);
});
