/** Corners beside a shoulder on carved work, where no guide runs: a detail bit clears what the finishing bit has left there. */
import { expect, test } from 'vitest';
import { buildRaw, refusals } from '../support/built.ts';

const blank = { section: 'round', width: 22 };

test('facets between shoulders are proven also where flutes elsewhere bring a smaller bit', async () => {
  const built = await buildRaw(
    {
      name: 'Eight-sided peg',
      form: [
        { element: 'cylinder', length: 6, start: 20 },
        { element: 'taper', length: 14, start: 14, end: 12 },
        { element: 'cylinder', length: 10, start: 18 },
      ],
      carvings: [
        { carving: 'facets', over: [1, 1], flats: 8 },
        { carving: 'flutes', over: [2, 2], inset: 2, count: 8, section: 'vee', depth: 0.8 },
      ],
      blank,
    },
    { solid: 'none' },
  );
  expect(built.plan?.programs.some((p) => p.passes.some((pass) => /^corner/.test(pass.label)))).toBe(true);
  expect(refusals(built)).toEqual([]);
  expect(built.verdict).toBe('proven');
});
