/** What a bit can leave at best, against closed forms of a ball in a cove and a corner (plane geometry). */
import { expect, test } from 'vitest';
import { profileOf } from '../../src/cam/bit.ts';
import { contactFor } from '../../src/cam/contact.ts';
import { rayEntry } from '../../src/cam/ray-entry.ts';
import { reachOf, restAfter } from '../../src/cam/rest.ts';
import { cylinder, fieldFrom, fluted, step } from '../support/fields.ts';
import { bitNamed } from '../support/jobs.ts';
import { entryInto } from '../support/ridges.ts';
import { random } from '../support/skin.ts';

const ball = bitNamed('ball-6');

test('a ray enters every kind of bit where brute force says', () => {
  const next = random(4);
  for (const id of ['flat-6', 'ball-6', 'bull-6', 'vee-60', 'tapered-one'])
    for (let k = 0; k < 60; k++) {
      const bit = bitNamed(id);
      const [u, off, r] = [next() * 3, (next() - 0.5) * 0.8, 4 + next() * 10];
      const wanted = entryInto(bit, 0, r, 0, u, off);
      const got = rayEntry(profileOf(bit), u, off, r);
      if (wanted === Infinity) continue;
      expect(Math.abs(got - wanted)).toBeLessThan(0.002);
    }
});

test('a cylinder is reached whole', () => {
  const part = cylinder(30, 10);
  const rest = restAfter(part, [reachOf(part, contactFor(part, ball), ball, 8, 22)]);
  for (let x = 8; x <= 22; x += 1.3) expect(rest(x, x)).toBeLessThan(0.02);
});

test('a cove narrower than the ball keeps C − R + √(R² − C²) at its bottom', () => {
  const C = 2;
  const part = fieldFrom({
    length: 30,
    breaks: [
      { x: 15 - C, kind: 'crease' },
      { x: 15 + C, kind: 'crease' },
    ],
    radius: (x) => 12 - Math.sqrt(Math.max(0, C * C - (x - 15) ** 2)),
  });
  const rest = restAfter(part, [reachOf(part, contactFor(part, ball), ball, 9, 21, 0.25)]);
  expect(rest(15, 0)).toBeGreaterThan(C - 3 + Math.sqrt(9 - C * C) - 0.005);
  expect(rest(15, 0)).toBeLessThan(C - 3 + Math.sqrt(9 - C * C) + 0.05);
});

test('a smaller bit leaves less, and the rest after both is the lesser of the two', () => {
  const part = fluted(20, 10, 4, 1, 1.6, 0.05);
  const small = bitNamed('tapered-half');
  const [a, b] = [ball, small].map((bit) => reachOf(part, contactFor(part, bit), bit, 8, 12, 0.25));
  const [one, two, both] = [restAfter(part, [a]), restAfter(part, [b]), restAfter(part, [a, b])];
  const bottom = part.turning(10);
  expect(one(10, bottom)).toBeGreaterThan(0.3);
  expect(two(10, bottom)).toBeLessThan(0.05);
  for (let t = 0; t < 6; t += 0.4) expect(both(10, t)).toBeCloseTo(Math.min(one(10, t), two(10, t)), 6);
});

test('beside a shoulder a ball leaves a fillet of its own radius, a flat end nothing', () => {
  const part = step(30, 15, 12, 8);
  const at = (id: string) => {
    const bit = bitNamed(id);
    return restAfter(part, [reachOf(part, contactFor(part, bit), bit, 8, 24, 0.25)]);
  };
  // The fillet's height at distance e from the wall: R − √(R² − (R − e)²).
  expect(at('ball-6')(16, 0)).toBeGreaterThan(3 - Math.sqrt(9 - 4) - 0.01);
  expect(at('ball-6')(16, 0)).toBeLessThan(3 - Math.sqrt(9 - 4) + 0.35);
  expect(at('flat-6')(16, 0)).toBeLessThan(0.02);
});
