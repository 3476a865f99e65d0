/** The README's worked examples say what a build says, to the letter. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { expect, test } from 'vitest';
import { BENCHES, KNOB, worked, written } from '../worked.ts';

test.each(BENCHES)('on %s every number is the build’s own (npm run worked)', async (name) => {
  const steps = await worked(name);
  expect(steps.split('\n').length).toBeGreaterThan(6);
  expect(written(name)).toBe(steps);
});

test('the knob of the README is the one that is built', () => {
  const readme = readFileSync(resolve(import.meta.dirname, '../../README.md'), 'utf8');
  const block = /```json\n(\{\n {2}"name": "Cleat knob"[\s\S]*?)```/.exec(readme)![1]!;
  expect(JSON.parse(block)).toEqual(KNOB);
});
