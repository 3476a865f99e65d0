import { expect, test } from 'vitest';
import { wallClock } from '../../../src/ui/play/clock.ts';

const stretches = [
  { file: 'a.nc', stage: 'corners', from_s: 0, to_s: 100 },
  { file: 'a.nc', stage: 'roughing', from_s: 100, to_s: 200 },
  { file: 'a.nc', stage: 'corners', from_s: 200, to_s: 300 },
  { file: 'b.nc', stage: 'finishing', from_s: 300, to_s: 400 },
];

test('the clock ends where the estimates add up to, and goes straight within a stretch', () => {
  const clock = wallClock(stretches, [
    { file: 'a.nc', stage: 'corners', time_s: 300 },
    { file: 'a.UNPROVEN.nc', stage: 'roughing', time_s: 100 },
    { file: 'b.nc', stage: 'finishing', time_s: 150 },
  ]);
  expect([0, 50, 100, 200, 250, 300, 350, 400].map(clock)).toEqual([0, 75, 150, 250, 325, 400, 475, 550]);
});

test('a stage that nobody estimated runs as it is asked', () => {
  expect([0, 150, 400].map(wallClock(stretches, []))).toEqual([0, 150, 400]);
  expect(wallClock([], [])(7)).toBe(7);
});
