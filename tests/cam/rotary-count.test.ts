import { expect, test } from 'vitest';
import { controls } from '../../shared/catalog.ts';
import { rotaryLimit, wholeTurns } from '../../src/cam/rotary-count.ts';
import { row } from '../support/cam-job.ts';

const short = row(controls, 'four-axis-short-numbers');

/** Distance to the next single-precision number above. */
function gap(value: number): number {
  const bits = new DataView(new ArrayBuffer(4));
  bits.setFloat32(0, value);
  bits.setUint32(0, bits.getUint32(0) + 1);
  return bits.getFloat32(0) - Math.fround(value);
}

test('single precision keeps a thousandth of a degree up to 16,384 degrees and no further', () => {
  const limit = rotaryLimit(short);
  expect(limit).toBe(16384);
  // The machine's own single-precision numbers (IEEE 754) as the judge.
  expect(gap(limit * 0.999)).toBeLessThanOrEqual(0.001);
  expect(gap(limit)).toBeGreaterThan(0.001);
});

test('the limit follows what one turn is called', () => {
  const mm = { ...short, rotary: { ...short.rotary, unitsPerTurn: 100, linear: true } };
  const limit = rotaryLimit(mm);
  const grain = (0.001 / 360) * 100;
  expect(gap(limit * 0.999)).toBeLessThanOrEqual(grain);
  expect(gap(limit)).toBeGreaterThan(grain);
});

test('whole turns stay within the limit', () => {
  expect(wholeTurns(short)).toBe(45 * 360);
});

test('double precision needs no new count in any program', () => {
  expect(rotaryLimit(row(controls, 'four-axis-inverse-time'))).toBeGreaterThan(1e12);
});
