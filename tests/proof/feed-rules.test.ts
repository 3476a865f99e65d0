/** The same moves under every feed rule, unit and wiring of the rotary: the same time and the same wood. */
import { describe, expect, test } from 'vitest';
import type { Control } from '../../shared/catalog.ts';
import { prove } from '../../src/cam/proof/prove.ts';
import type { Proof } from '../../src/cam/proof/verdict.ts';
import { flutedPeg } from '../support/fluted-peg.ts';
import { controlOf, cylinderProgram, proofJob } from '../support/proof-job.ts';

const inverse = controlOf('four-axis-inverse-time');
const onY = (unitsPerTurn: number, with_: Partial<Control> = {}): Control => ({
  ...inverse,
  feedRule: 'linear-first',
  rotary: { letter: 'Y', sign: 1, unitsPerTurn, linear: true },
  feedMax: 1e7,
  ...with_,
});
const controls: [string, Control][] = [
  ['F over all words', { ...inverse, feedRule: 'all-words', feedMax: 1e7 }],
  ['F over the linear words first', { ...inverse, feedRule: 'linear-first', feedMax: 1e7 }],
  ['inches', { ...inverse, units: 'inch', feedMax: 1e7 }],
  ['inches, F over all words', { ...inverse, units: 'inch', feedRule: 'all-words', feedMax: 1e7 }],
  ['rotary on the Y output, 360 a turn', onY(360)],
  ['rotary on the Y output, 100 mm a turn', onY(100)],
  ['rotary on the Y output, inches', onY(360, { units: 'inch' })],
  [
    'axes counted the other way',
    { ...inverse, axial: { letter: 'X', scale: -1 }, rotary: { ...inverse.rotary, sign: -1 } },
  ],
];

function same(a: Proof, b: Proof): void {
  expect(b.verdict).toBe(a.verdict);
  expect(Math.abs(b.time_s / a.time_s - 1)).toBeLessThan(0.005);
  for (const [i, s] of a.stages.entries()) {
    expect(b.stages[i]!.stage).toBe(s.stage);
    expect(Math.abs(b.stages[i]!.removed - s.removed)).toBeLessThan(1e-3 * (s.removed + 1));
  }
  let worst = 0;
  for (let k = 0; k < a.leftOver.rest.length; k++)
    worst = Math.max(worst, Math.abs(a.leftOver.rest[k]! - b.leftOver.rest[k]!));
  expect(worst).toBeLessThan(0.01);
}

describe('a peg', () => {
  const program = cylinderProgram();
  const reference = prove(proofJob({ programs: [program] }));
  test.each(controls)('%s', (_name, control) => {
    const offsets = { axial: 12.5, radial: -3 };
    const text = cylinderProgram({ control, offsets, decimals: 7 });
    const p = prove(proofJob({ control, offsets, programs: [text] }));
    expect(p.findings).toEqual([]);
    same(reference, p);
  });
  test('read for another control than it was written for, the program is refused', () => {
    const offsets = { axial: 0, radial: 0.4 };
    expect(prove(proofJob({ offsets, programs: [program] })).verdict).toBe('refused');
  });
});

test('twisted flutes come out the same on the Y output at 100 mm a turn', () => {
  const wired = onY(100);
  const a = prove(flutedPeg().job);
  const b = prove(flutedPeg(wired).job);
  expect(a.verdict).toBe('proven');
  // Read with other units a turn the flutes stand elsewhere.
  const hundred = { ...inverse, rotary: { ...inverse.rotary, unitsPerTurn: 100 } };
  expect(prove({ ...flutedPeg().job, control: hundred }).findings.map((f) => f.code)).toContain('gouge');
  same(a, b);
});
