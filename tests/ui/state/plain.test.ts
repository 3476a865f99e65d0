import { expect, test } from 'vitest';
import { build } from '../../../src/build.ts';
import { checkPart } from '../../../src/part.ts';
import { derive } from '../../../src/ui/state/derive.ts';
import { blankDocument } from '../../../src/ui/state/workshop.ts';

test('the plain stick that a part may begin with is proven as it comes', async () => {
  const { problems } = derive(blankDocument());
  expect(problems.filter((p) => p.severity === 'refuse')).toEqual([]);
  const checked = checkPart(blankDocument());
  if (!('part' in checked)) throw new Error('no part');
  const built = await build(checked.part, {});
  expect(built.proof?.findings.filter((f) => f.severity === 'refuse')).toEqual([]);
  expect(built.verdict).toBe('proven');
});
