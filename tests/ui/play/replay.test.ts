import { expect, test } from 'vitest';
import { momentAt } from '../../../src/cam/proof/reel.ts';
import { Replay } from '../../../src/cam/proof/replay.ts';
import { clockText, readoutAt, timeOf } from '../../../src/ui/play/readout.ts';
import { cylinderProgram, LENGTH, proofJob, RADIUS } from '../../support/proof-job.ts';

const job = proofJob({ programs: [cylinderProgram()] });
const fresh = () => new Replay(job);
const end = (r: Replay) => r.reel.start[r.reel.count]!;

test('at the end the wood is the cylinder that the program turns, at the start it is the blank', () => {
  const play = fresh();
  const { xs, columns } = play.grid;
  // The corner of a 34 mm square lies at 17·√2.
  expect(Math.max(...play.wood.outer)).toBeCloseTo(17 * Math.SQRT2, 3);
  play.to(end(play));
  let seen = 0;
  for (const [i, x] of xs.entries())
    if (x > 1 && x < LENGTH - 1)
      for (let j = 0; j < columns; j++) {
        seen++;
        const r = play.wood.outer[i * columns + j]!;
        expect(r).toBeGreaterThan(RADIUS - 1e-3);
        expect(r).toBeLessThan(RADIUS + 0.12);
      }
  expect(seen).toBeGreaterThan(1000);
});

test('going back gives the wood of that time, the same as one that never went further', () => {
  const there = fresh();
  const total = end(there);
  there.to(total);
  for (const share of [0.61, 0.2, 0.43, 0]) {
    there.to(share * total);
    const straight = fresh();
    straight.to(share * total);
    let off = 0;
    for (const [k, r] of straight.wood.outer.entries()) off = Math.max(off, Math.abs(r - there.wood.outer[k]!));
    // Inside a motion the steps fall elsewhere; no more than the ridge between two of them.
    expect(off).toBeLessThan(0.12);
  }
  expect(there.wood.outer).toEqual(fresh().wood.outer);
  // 34 mm square; rays about a corner hold a little more than its straight sides do.
  expect(there.wood.volume() / (34 * 34 * (LENGTH + 45))).toBeCloseTo(1, 3);
});

test('every row that changes is told, and time takes wood away only', () => {
  const play = fresh();
  const { columns } = play.grid;
  const mirror = play.wood.outer.slice();
  const total = end(play);
  let last = play.wood.volume();
  const steps = [0.1, 0.3, 0.55, 0.8, 1, 0.5, 0.7];
  for (const [n, share] of steps.entries()) {
    const { from, to } = play.to(share * total);
    mirror.set(play.wood.outer.subarray(from * columns, to * columns), from * columns);
    expect(mirror).toEqual(play.wood.outer);
    const volume = play.wood.volume();
    if (n > 0 && share < steps[n - 1]!) expect(volume).toBeGreaterThan(last);
    else expect(volume).toBeLessThan(last);
    last = volume;
  }
});

test('the stages stand in the order of the program and fill the whole time', () => {
  const { reel } = fresh();
  expect(reel.stretches.map((s) => s.stage).filter((s) => s !== 'unnamed')).toEqual([
    'corners',
    'roughing',
    'finishing',
  ]);
  expect(reel.stretches[0]!.from_s).toBe(0);
  for (const [n, s] of reel.stretches.entries())
    expect(s.to_s).toBe(reel.stretches[n + 1]?.from_s ?? reel.start[reel.count]);
});

test('the readout says what the machine does at that moment', () => {
  const { reel } = fresh();
  const k = reel.rapid.findIndex((rapid, i) => i > 40 && !rapid && reel.theta[i]! - reel.theta[i - 1]! > 0.5);
  const mid = (reel.start[k]! + reel.start[k + 1]!) / 2;
  const now = readoutAt(reel, mid);
  const minutes = (reel.start[k + 1]! - reel.start[k]!) / 60;
  expect(now.turns).toBeCloseTo((reel.theta[k]! - reel.theta[k - 1]!) / (2 * Math.PI) / minutes, 6);
  expect(now.rpm).toBeGreaterThan(1000);
  expect(now.rapid).toBe(false);
  expect(momentAt(reel, mid).theta).toBeCloseTo((reel.theta[k]! + reel.theta[k - 1]!) / 2, 6);
  expect(timeOf(reel, { file: 'peg-1-flat-6.nc', line: reel.line[k]! })).toBeCloseTo(mid, 6);
  expect(timeOf(reel, { file: 'peg-1-flat-6.nc', line: 0 })).toBe(reel.start[reel.count]);
  expect(timeOf(reel, { file: 'another.nc', line: 3 })).toBeUndefined();
  expect(clockText(2200)).toBe('36:40');
  expect(clockText(3725.9)).toBe('1:02:05');
});
