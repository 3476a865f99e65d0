/** Where a field says that a screw stands, every section is any other one turned; and nowhere is that said too early. */
import { expect, test } from 'vitest';
import { TURN } from '../../shared/units.ts';
import { made } from './probe.ts';

const shaft = [{ element: 'cylinder' as const, length: 120, start: 40 }];
const lobes = { carving: 'lobes' as const, from: 20, to: 100, starts: 2, depth: 6, turns: 2, run: 8 };

test('a barley twist at its full depth is a screw: its run-outs and what stands beside them are none', () => {
  const field = made({ form: shaft, carvings: [lobes] });
  const [a, b] = [28.01, 91.99];
  expect(field.isScrew!(a, b)).toBe(true);
  for (let k = 0; k < 400; k++) {
    // Places spread by the golden section, so that no repeat of the twist is hit twice.
    const x0 = a + (b - a) * ((k * 0.6180339887) % 1);
    const x1 = a + (b - a) * ((k * 0.7548776662) % 1);
    const theta = TURN * ((k * 0.5698402909) % 1);
    const turned = field.turning(x1) - field.turning(x0);
    expect(field.radius(x1, theta + turned)).toBeCloseTo(field.radius(x0, theta), 9);
  }
  // What is round is a screw of any pitch.
  expect(field.isScrew!(2, 10)).toBe(true);
  // Two turns over 80 mm, even: half the way is one turn.
  expect(field.turning(80) - field.turning(40)).toBeCloseTo(TURN, 9);
  for (const [x0, x1] of [
    [21, 27],
    [20, 60],
    [25, 60],
    [60, 95],
    [60, 110],
    [-5, 60],
  ] as const)
    expect(field.isScrew!(x0, x1), `${x0} to ${x1}`).toBe(false);
});

test('neither a form that grows, nor a twist that eases in, nor a second carving on it is a screw', () => {
  const growing = made({ form: [{ element: 'taper', length: 120, start: 40, end: 44 }], carvings: [lobes] });
  expect(growing.isScrew!(40, 80)).toBe(false);
  const still = { ...lobes, turns: 0 };
  const eased = made({ form: shaft, carvings: [{ carving: 'twist', from: 30, to: 90, turns: 1, ease: 20 }, still] });
  expect(eased.isScrew!(32, 48)).toBe(false);
  expect(eased.isScrew!(52, 68)).toBe(true);
  const crossed = made({
    form: shaft,
    carvings: [lobes, { carving: 'groove', from: 50, to: 70, depth: 1, width: 2, starts: 1, turns: 1 }],
  });
  expect(crossed.isScrew!(52, 68)).toBe(false);
  expect(crossed.isScrew!(30, 45)).toBe(true);
});
