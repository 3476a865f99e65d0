/** One part on every kind of control: the proven time agrees where no limit binds, and the wood that is left is the same. */
import { beforeAll, expect, test } from 'vitest';
import type { Built } from '../../src/build.ts';
import { buildRaw, refusals } from '../support/built.ts';

const part = (control: string) => ({
  name: 'Peg',
  form: [
    { element: 'cylinder', length: 12, start: 26 },
    { element: 'taper', length: 22, start: 24, end: 18 },
    { element: 'bead', length: 8, start: 18, end: 18 },
  ],
  blank: { section: 'square', width: 30 },
  plan: { scallop: 0.08 },
  control,
});
const names = [
  'four-axis-inverse-time',
  'four-axis-all-words',
  'four-axis-linear-first',
  'y-output-turn-100',
  'y-output-degrees',
  'y-output-inch',
];
const built = new Map<string, Built>();
beforeAll(async () => {
  for (const name of names) built.set(name, await buildRaw(part(name), { solid: 'none' }));
});

test('it is proven on every one of them', () => {
  expect(names.map((n) => refusals(built.get(n)!))).toEqual(names.map(() => []));
});

test('the proof reads the same time from all three feed rules within 2 %', () => {
  const cutting = (name: string) =>
    built
      .get(name)!
      .proof!.stages.filter((s) => s.stage === 'finishing')
      .reduce((sum, s) => sum + s.time_s, 0);
  const first = cutting(names[0]!);
  expect(first).toBeGreaterThan(20);
  for (const name of names) expect(Math.abs(cutting(name) / first - 1)).toBeLessThan(0.02);
});

test('a rotary on a linear output leaves the same wood as a true rotary axis', () => {
  const rest = (name: string) => built.get(name)!.proof!.leftOver.rest;
  const first = rest(names[0]!);
  expect(first.length).toBeGreaterThan(1000);
  for (const name of ['y-output-turn-100', 'y-output-degrees']) {
    const other = rest(name);
    expect(other.length).toBe(first.length);
    let worst = 0;
    for (let i = 0; i < first.length; i++) worst = Math.max(worst, Math.abs(first[i]! - other[i]!));
    expect(worst).toBeLessThan(0.02);
  }
});
