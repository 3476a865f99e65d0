/** The rank of a thickness, found by counting, against plain sorting. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { shareBelow } from '../../src/cam/proof/rest.ts';

const thickness = fc.oneof(
  fc.double({ min: -0.05, max: 0.4, noNaN: true }),
  fc.constantFrom(0, 0.1, 0.25),
  fc.double({ min: -10, max: 10, noNaN: true }),
);

test('the value at a share of all is the one that sorting puts there', () => {
  fc.assert(
    fc.property(
      fc.array(thickness, { minLength: 1, maxLength: 300 }),
      fc.constantFrom(0, 0.5, 0.99, 1),
      (list, share) => {
        const values = Float32Array.from(list);
        const place = Math.min(values.length - 1, Math.floor(share * values.length));
        expect(shareBelow(values, share) + 0).toBe(values.slice().sort()[place]! + 0);
      },
    ),
  );
});
