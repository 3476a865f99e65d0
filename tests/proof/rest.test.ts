/** What is said to be within reach of a bit, against the closing of an outline by a ball, worked out by trying every place. */
import { expect, test } from 'vitest';
import { FORM, layGrid } from '../../src/cam/proof/grid.ts';
import { restOf } from '../../src/cam/proof/rest.ts';
import { shapeOf } from '../../src/cam/proof/shape.ts';
import { Wood } from '../../src/cam/proof/wood.ts';
import { fieldFrom } from '../support/fields.ts';
import { bitOf, proofJob } from '../support/proof-job.ts';

const ball = bitOf('ball-6');
const R = ball.diameter / 2;
const LIP = 26;
/** A flank that falls into a pocket, and out of the pocket a wall up to a lip as sharp as a knife. */
const outline = (x: number, side: -1 | 0 | 1): number => {
  if (x < 20) return 20;
  if (x < LIP || (x === LIP && side < 0)) return 20 - 1.5 * (x - 20);
  return Math.max(9, 18 - 7 * Math.sqrt(x - LIP));
};
const field = fieldFrom({
  length: 40,
  breaks: [
    { x: 20, kind: 'crease' },
    { x: LIP, kind: 'shoulder' },
    { x: LIP + (9 / 7) ** 2, kind: 'crease' },
  ],
  radius: (x, _theta, side) => outline(x, side),
});

/** The lowest outline that a ball can leave over another: mathematical morphology's closing, every 5 µm. */
function leftByBall(): (x: number) => number {
  const places = Array.from({ length: 2801 }, (_, k) => 18 + 0.005 * k);
  const rise = (d: number) => R - Math.sqrt(R * R - d * d);
  const tips = places.map((t) => {
    let tip = 0;
    for (const u of places) if (Math.abs(u - t) < R) tip = Math.max(tip, outline(u, 0) - rise(u - t));
    return tip;
  });
  return (x) => {
    let least = Infinity;
    for (const [k, t] of places.entries()) if (Math.abs(t - x) < R) least = Math.min(least, tips[k]! + rise(t - x));
    return Math.max(least, outline(x, -1));
  };
}

test('a bit that rests on a sharp lip is not said to reach deeper into the pocket before it', () => {
  const job = proofJob({}, 44, field);
  const wood = new Wood(layGrid(job, { cell: 0.25, most: 200_000, tolerance: 0.03 }));
  const left = leftByBall();
  const { xs, columns, part, region } = wood.grid;
  const pocket = (x: number) => x > 21 && x < LIP + 3;
  const lay = (over: number) => {
    for (const [i, x] of xs.entries())
      for (let k = i * columns; k < (i + 1) * columns; k++)
        wood.outer[k] = region[i] === FORM ? (pocket(x) ? left(x) + over : part[k]!) : part[k]!;
    return restOf(wood, 0.1, [shapeOf(ball)], job.stubs);
  };
  const closed = lay(0);
  expect(closed.unreachable.depth).toBeGreaterThan(0.5);
  expect(closed.reachableArea).toBe(0);
  // As much more as the bound lets pass at the most, square to a flank of 3 : 2: now it is seen.
  expect(lay(0.3).reachableArea).toBeGreaterThan(100);
}, 60_000);
