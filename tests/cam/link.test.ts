import { describe, expect, test } from 'vitest';
import { CLEARANCE } from '../../shared/tolerances.ts';
import { TURN } from '../../shared/units.ts';
import {
  clearHeight,
  keepOutHeight,
  LARGEST_TURN,
  liftClear,
  linkTo,
  nearestTurn,
  nextTurn,
} from '../../src/cam/link.ts';
import { MoveBuilder, RAPID } from '../../src/cam/path.ts';
import { Wood } from '../../src/cam/wood.ts';
import { cylinder } from '../support/fields.ts';
import { bitNamed, jobFor } from '../support/jobs.ts';

const job = jobFor({ field: cylinder(200, 12), width: 45 });
const flat = bitNamed('flat-6');

/** A waist of radius 14 between 60 and 140. */
function waisted(): Wood {
  const wood = new Wood(job.blank);
  for (let x = 60; x <= 140; x += 2)
    for (let k = 0; k < 12; k++) wood.take(flat, x, 14, (k * TURN) / 12, x, 14, ((k + 1) * TURN) / 12);
  return wood;
}

describe('links', () => {
  test('a program starts with a lift to the safe radius', () => {
    const moves = new MoveBuilder();
    linkTo(moves, job, new Wood(job.blank), flat, undefined, { x: 50, r: 33, theta: 0 }, 500);
    const m = moves.moves();
    expect(m.kind[0]).toBe(RAPID);
    expect(m.r[0]).toBeGreaterThanOrEqual(job.safeRadius);
  });

  test('rapids lift or drop the spindle alone, or travel at one height', () => {
    const moves = new MoveBuilder();
    const wood = waisted();
    linkTo(moves, job, wood, flat, { x: 80, r: 14, theta: 0 }, { x: 130, r: 14, theta: 5 }, 500);
    const m = moves.moves();
    let at = { x: 80, r: 14, theta: 0 };
    for (let k = 0; k < m.count; k++) {
      const to = { x: m.x[k]!, r: m.r[k]!, theta: m.theta[k]! };
      const travels = to.x !== at.x || to.theta !== at.theta;
      if (m.kind[k] === RAPID && travels) expect(to.r).toBe(at.r);
      expect(Math.abs(to.theta - at.theta)).toBeLessThanOrEqual(LARGEST_TURN + 1e-9);
      at = to;
    }
    expect(at).toEqual({ x: 130, r: 14, theta: 5 });
  });

  test('a link over a waist stays low, one out of it clears the corners', () => {
    const wood = waisted();
    const low = clearHeight(job, wood, flat, { x: 80, r: 14, theta: 0 }, { x: 120, r: 14, theta: 4 });
    expect(low).toBeGreaterThanOrEqual(14 + CLEARANCE - 1e-3);
    expect(low).toBeLessThan(17);
    const high = clearHeight(job, wood, flat, { x: 80, r: 14, theta: 0 }, { x: 180, r: 14, theta: 4 });
    expect(high).toBeGreaterThanOrEqual(22.5 * Math.SQRT2 + CLEARANCE - 1e-5);
  });

  test('a keep-out is cleared by tip, shank and holder, each with its own height', () => {
    const chuck = { keepOut: [{ from: -100, to: -10, radius: 50, what: 'chuck' }] };
    expect(keepOutHeight(chuck, flat, -8, 0)).toBe(50);
    // The holder of 20 mm above 40 mm of stick-out comes over the jaws first.
    expect(keepOutHeight(chuck, flat, -2, 0)).toBe(50 - flat.stickOut);
    expect(keepOutHeight(chuck, flat, 1, 20)).toBe(0);
  });

  test('lifting where nothing stands moves nothing', () => {
    const moves = new MoveBuilder();
    moves.rapid(100, 40, 0);
    liftClear(moves, job, waisted(), flat);
    expect(moves.count).toBe(1);
  });

  test('angles keep their place in the turn', () => {
    expect(nextTurn(1, 7)).toBeCloseTo(1 + TURN, 12);
    expect(nextTurn(1, 1)).toBe(1);
    expect(nearestTurn(6, 0.1)).toBeCloseTo(6 - TURN, 12);
  });
});
