/** What a wrong name may have meant: by words, by slips of a key. */
import { expect, test } from 'vitest';
import { didYouMean, likely, nearest } from '../src/part/nearest.ts';

const woods = ['white-oak', 'red-oak', 'bur-oak', 'white-ash', 'black-walnut', 'sugar-maple'];

test.each([
  ['oak', ['white-oak', 'red-oak', 'bur-oak']],
  ['Walnut', ['black-walnut']],
  ['white oak', ['white-oak']],
  ['oak-white', ['white-oak']],
  ['read-oak', ['red-oak']],
  ['sugar-mapel', ['sugar-maple']],
  ['old english oak', ['white-oak', 'red-oak', 'bur-oak']],
  ['granite', []],
  ['', []],
])('%s', (wrong, meant) => {
  expect(likely(wrong, woods)).toEqual(meant);
});

test('a word that many names have is no hint', () => {
  const many = ['a', 'b', 'c', 'd', 'e'].map((k) => `${k}-cutter-long`);
  expect(likely('cutter', many)).toEqual([]);
  expect(nearest('cutter', many)).toBeUndefined();
});

test('several are asked for in one sentence', () => {
  expect(didYouMean(['white-oak', 'red-oak'])).toBe('did you mean "white-oak" or "red-oak"?');
});
