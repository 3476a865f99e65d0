/**
 * Times that uniform acceleration gives in closed form (kinematics: v = at, s = at²/2; textbook, no single source), and
 * feed arithmetic from the rules of NISTIR 6556 (The NIST RS274/NGC Interpreter), §2.1.2.5 and §3.5.19.
 */
import { expect, test } from 'vitest';
import { benches, controls } from '../../shared/catalog.ts';
import { radians, TURN } from '../../shared/units.ts';
import { contactLength, feedWord } from '../../src/cam/block-time.ts';
import { MotionBuilder } from '../../src/cam/motion.ts';
import { estimateTime, type LookAhead, trapezoid } from '../../src/cam/time.ts';
import { row } from '../support/cam-job.ts';

const control = row(controls, 'four-axis-inverse-time');
/** Accelerations 200 mm/s² and 1000 °/s², speeds out of the way. */
const bench = {
  ...row(benches, 'middle'),
  axialMax: 60000,
  radialMax: 60000,
  axialAcceleration: 200,
  radialAcceleration: 200,
  blocksPerSecond: 20000,
  rotary: { ...row(benches, 'middle').rotary, maxSpeed: 60, acceleration_deg: 1000 },
};

/** Steps [dx mm, dr mm, dθ °, speed in control's units a second], timed. */
function timeOf(steps: readonly (readonly [number, number, number, number])[], ahead: LookAhead = {}): number {
  const m = new MotionBuilder();
  for (const [dx, dr, deg, speed] of steps)
    m.add('finishing', false, dx, dr, radians(deg), Math.hypot(dx, dr, deg) / speed);
  return estimateTime(m.motion(), bench, control, { blocks: 1e6, ...ahead }).total_s;
}
const many = (n: number, step: readonly [number, number, number, number]) => Array.from({ length: n }, () => step);

test('one move: s/v + v/a', () => {
  expect(timeOf([[100, 0, 0, 25]])).toBeCloseTo(100 / 25 + 25 / 200, 9);
});

test('one move too short to reach its speed: 2√(s/a)', () => {
  expect(timeOf([[1, 0, 0, 25]])).toBeCloseTo(2 * Math.sqrt(1 / 200), 9);
  expect(timeOf([[1, 0, 0, 25]])).toBeCloseTo(0.141421, 6);
});

test('a line in a hundred pieces takes as long as in one', () => {
  expect(timeOf(many(100, [1, 0, 0, 25]))).toBeCloseTo(4.125, 9);
});

test('a right-angled corner is taken at the speed of the circle that cuts it by the deviation', () => {
  // Circle tangent to both ways, δ from the corner: R = δ·s/(1−s), s = sin 45°; v = √(aR) with a = 200·√2 along the bisector.
  const s = Math.SQRT1_2;
  const v = Math.sqrt(200 * Math.SQRT2 * ((0.02 * s) / (1 - s)));
  expect(v).toBeCloseTo(3.695518, 6);
  const half = (25 - v) / 200 + 25 / 200 + (10 - (2 * 625 - v * v) / 400) / 25;
  const t = timeOf([
    [10, 0, 0, 25],
    [0, 10, 0, 25],
  ]);
  expect(t).toBeCloseTo(2 * half, 9);
  expect(t).toBeCloseTo(1.015776, 6);
});

test('turning back means standing still between', () => {
  expect(
    timeOf([
      [10, 0, 0, 25],
      [-10, 0, 0, 25],
    ]),
  ).toBeCloseTo(1.05, 9);
});

test('the rotary alone: ten turns at one a second', () => {
  expect(timeOf([[0, 0, 3600, 360]])).toBeCloseTo(3600 / 360 + 360 / 1000, 9);
});

test('a control that reads a hundred lines a second takes its time with short ones', () => {
  expect(timeOf(many(1000, [0.1, 0, 0, 10]))).toBeCloseTo(10.05, 9);
});

test('a short buffer holds short blocks back: it must be able to stop within what it knows', () => {
  // Steady √(2·a·4·0.1 mm) = 12.65 mm/s where the feed allows 25: 100 mm in about 7.9 s instead of 4.125 s.
  const t = timeOf(many(1000, [0.1, 0, 0, 25]), { blocks: 4 });
  expect(t).toBeGreaterThan(7.6);
  expect(t).toBeLessThan(8.1);
});

test('the trapezoid agrees with a simulation in small steps', () => {
  for (const [L, v0, v1, v, a] of [
    [10, 0, 0, 25, 200],
    [10, 5, 12, 14, 150],
    [1, 3, 8, 40, 60],
    [0.3, 10, 10, 10, 500],
  ] as const) {
    // Go as fast as both the start and the end allow at every place: v² = min(v0² + 2as, v1² + 2a(L − s), v²).
    const n = 200_000;
    let t = 0;
    for (let i = 0; i < n; i++) {
      const s = ((i + 0.5) * L) / n;
      t += L / n / Math.min(v, Math.sqrt(v0 * v0 + 2 * a * s), Math.sqrt(v1 * v1 + 2 * a * (L - s)));
    }
    expect(trapezoid(L, v0, v1, v, a) / t).toBeCloseTo(1, 2);
  }
});

/** Worked numbers: surface feed over the work → F (arithmetic from the published rules). */
test('inverse time: half a millimetre along and ten degrees at a radius of 20, 1000 mm/min', () => {
  const length = contactLength(0.5, 20, 20, radians(10));
  expect(length).toBeCloseTo(3.526287, 6);
  const f = feedWord(control, { axial: 0.5, radial: 0, rotary: 10 }, (length / 1000) * 60);
  expect(f.value).toBeLessThanOrEqual(283.584442);
  expect(f.value / 283.584442).toBeCloseTo(1, 4);
});

test('feed a minute over the linear words: the same move, and the rotary alone', () => {
  const g94 = row(controls, 'four-axis-linear-first');
  const t = (contactLength(0.5, 20, 20, radians(10)) / 1000) * 60;
  expect(feedWord(g94, { axial: 0.5, radial: 0, rotary: 10 }, t).value / 141.792221).toBeCloseTo(1, 4);
  const alone = (contactLength(0, 20, 20, radians(10)) / 1000) * 60;
  expect(feedWord(g94, { axial: 0, radial: 0, rotary: 10 }, alone).value / 2864.788976).toBeCloseTo(1, 4);
});

test('all three directions at once: 1 along, 0.4 down, 3.6° at a mean radius of 14.8, 1200 mm/min', () => {
  // With the mean radius; the radius runs from 15 to 14.6, which the closed form takes into account in the 6th digit.
  const length = contactLength(1, 15, 14.6, radians(3.6));
  expect(length).toBeCloseTo(1.422932, 4);
  const f = feedWord(control, { axial: 1, radial: -0.4, rotary: 3.6 }, (length / 1200) * 60);
  expect(f.value / 843.32917).toBeCloseTo(1, 3);
});

test('a spiral of one millimetre a turn at a radius of 25', () => {
  const turn = contactLength(1, 25, 25, TURN);
  expect(turn).toBeCloseTo(157.082816, 6);
  expect(1500 / turn).toBeCloseTo(9.549103, 6);
  const f = feedWord(control, { axial: 1 / 72, radial: 0, rotary: 5 }, (turn / 72 / 1500) * 60);
  expect(f.value / 687.535422).toBeCloseTo(1, 4);
});
