import { expect, test } from 'vitest';
import { besideBit } from '../../../src/ui/stage/bit-words.ts';

const WORDS = ['Tapered ball 3 mm', 'room left above 89.1'];
/** A generous letter of the stage's words, px. */
const LETTER = 7.4;

test.each([
  [500, 968, 1, false],
  [900, 968, 1, true],
  [177, 380, 2, false],
  [310, 380, 2, true],
])('beside a bit at %i px of %i the words stand whole in %i lines', (px, width, lines, end) => {
  const at = besideBit(px, 12, WORDS, width);
  expect(at.lines.length).toBe(lines);
  expect(at.end).toBe(end);
  const long = LETTER * Math.max(...at.lines.map((l) => l.length));
  const [left, right] = end ? [at.x - long, at.x] : [at.x, at.x + long];
  expect(left).toBeGreaterThanOrEqual(0);
  expect(right).toBeLessThanOrEqual(width);
  // Beside the holder, not over it.
  expect(end ? px - right : left - px).toBeGreaterThan(12);
});

test('where neither side has room they stand over the bit, but inside', () => {
  const at = besideBit(100, 12, WORDS, 210);
  expect(at.x + LETTER * WORDS[1]!.length).toBeLessThanOrEqual(210);
  expect(at.x).toBeGreaterThanOrEqual(0);
});
