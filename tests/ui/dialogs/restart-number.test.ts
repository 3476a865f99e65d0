import { expect, test } from 'vitest';
import { build } from '../../../src/build.ts';
import { checkPart } from '../../../src/part.ts';
import { lastRestart, restartNumber } from '../../../src/ui/dialogs/restart-number.ts';
import { peg } from '../../support/small-parts.ts';

test('a restart is a whole number of a pass that is there; all else is told with its limits', () => {
  expect(restartNumber(' 7 ', 7)).toEqual({ pass: 7 });
  for (const wrong of ['-1', '0', '8', '999', '3.5', 'abc', '', '  '])
    expect(restartNumber(wrong, 7), wrong).toMatchObject({ refused: expect.stringContaining('1 to 7') });
});

test('the last restart is that of the last pass of all programs', async () => {
  const checked = checkPart(peg);
  if (!('part' in checked)) throw new Error('no part');
  const { programs } = await build(checked.part, { solid: 'none' });
  const passes = programs.flatMap((p) => p.written.passLines.map((l) => l.restart));
  expect(passes.length).toBeGreaterThan(1);
  expect(lastRestart(programs.map((p) => p.text))).toBe(Math.max(...passes));
  expect(lastRestart(['(no pass)'])).toBe(0);
});
