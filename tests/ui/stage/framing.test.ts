import { expect, test } from 'vitest';
import { frame, heightToPixel, wantedHeight } from '../../../src/ui/stage/framing.ts';

const ruler = { from: -20, to: 780, width: 1000 };

test('a millimetre upward is as many pixels as a millimetre along the ruler', () => {
  const f = frame(ruler, 240, 30);
  expect(heightToPixel(f, 0) - heightToPixel(f, 8)).toBeCloseTo(10, 9);
  expect((f.top - f.bottom) / 240).toBeCloseTo(800 / 1000, 9);
  expect(heightToPixel(f, f.top)).toBeCloseTo(0, 9);
  expect(heightToPixel(f, f.bottom)).toBeCloseTo(240, 9);
});

test('work larger than the stage keeps its upper skin in view', () => {
  const near = frame({ from: 0, to: 60, width: 1000 }, 240, 30);
  expect(heightToPixel(near, 30)).toBeGreaterThan(40);
  expect(heightToPixel(near, 30)).toBeLessThan(120);
});

test('the wanted height holds the whole work', () => {
  const knob = { from: -50, to: 90, width: 1000 };
  const height = wantedHeight(knob, 30, 200, 2000);
  const f = frame(knob, height, 30);
  expect(heightToPixel(f, -30)).toBeLessThanOrEqual(height);
  expect(wantedHeight(knob, 30, 200, 300)).toBe(300);
});
