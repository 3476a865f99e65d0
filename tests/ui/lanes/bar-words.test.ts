import { expect, test } from 'vitest';
import { barWords } from '../../../src/ui/lanes/bar-words.ts';

const words = 'twist · 0.5 turns right';

test('the words of a long bar stand in it, of one that begins off the lane at the lane’s edge', () => {
  expect(barWords(100, 500, words, 900)).toMatchObject({ inside: true, x: 110, from: 100, to: 500 });
  expect(barWords(-300, 500, words, 900)).toMatchObject({ inside: true, x: 10 });
});

test('the words of a short bar stand behind it, or before it where the lane ends, and keep that place free', () => {
  const behind = barWords(100, 150, words, 900);
  expect(behind).toMatchObject({ inside: false, anchor: 'start', x: 160, from: 100 });
  expect(behind.to).toBeGreaterThan(160 + 6 * words.length);
  const before = barWords(800, 860, words, 900);
  expect(before).toMatchObject({ inside: false, anchor: 'end', x: 790, to: 860 });
  expect(before.from).toBeLessThan(790 - 6 * words.length);
});

test('where there is room on neither side they stand across the bar, whole within the lane', () => {
  const across = barWords(60, 160, words, 200);
  expect(across).toMatchObject({ inside: false, anchor: 'start', from: 60, to: 160 });
  expect(across.x).toBeGreaterThan(0);
  expect(across.x + 7 * words.length).toBeLessThanOrEqual(200);
  expect(barWords(60, 160, words, 120).inside).toBe(true);
});
