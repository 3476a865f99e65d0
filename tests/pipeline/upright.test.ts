/** Wood that roughing leaves upright before a shoulder: the layers before the finish pass it and come down in the clear. */
import { expect, test } from 'vitest';
import { buildRaw, refusals } from '../support/built.ts';

test.each([
  { neck: 18, head: 44, cove: 8 },
  { neck: 20, head: 36, cove: 9 },
])(
  'a cove of ø$neck right before a head of ø$head is proven with a small finishing bit',
  async ({ neck, head, cove }) => {
    const built = await buildRaw(
      {
        name: 'Capped peg',
        form: [
          { element: 'cylinder', length: 6, start: neck },
          { element: 'cove', length: cove, start: neck, end: neck, depth: 2.25 },
          { element: 'cylinder', length: 10, start: head },
        ],
        blank: { section: 'square', width: head + 4 },
        bits: { roughing: 'flat-10', finishing: 'ball-eighth' },
      },
      { solid: 'none' },
    );
    expect(refusals(built)).toEqual([]);
    expect(built.verdict).toBe('proven');
  },
);

test('a neck hardly wider than the finishing bit is lowered right up to its shoulders', async () => {
  const built = await buildRaw(
    {
      name: 'Float pin',
      form: [
        { element: 'cylinder', length: 8, start: 14 },
        { element: 'cylinder', length: 9, start: 4 },
        { element: 'cylinder', length: 6, start: 14 },
      ],
      blank: { section: 'square', width: 18 },
      plan: { scallop: 0.1 },
    },
    { solid: 'none' },
  );
  expect(refusals(built)).toEqual([]);
  expect(built.verdict).toBe('proven');
});
