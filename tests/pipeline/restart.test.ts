/** Taking cutting up again: the new program is proven on the wood as it then is, and both runs leave what one run leaves. */
import { beforeAll, describe, expect, test } from 'vitest';
import { proveRestart, restartFrom, restartQuestion } from '../../src/build/restart.ts';
import type { Built } from '../../src/build.ts';
import { prove } from '../../src/cam/proof/prove.ts';
import type { Proof } from '../../src/cam/proof/verdict.ts';
import { buildRaw, refusals } from '../support/built.ts';
import { readBlocks, readLines } from '../support/program-reader.ts';

const peg = {
  name: 'Fluted peg',
  form: [
    { element: 'cylinder', length: 16, start: 18 },
    { element: 'bead', length: 6, start: 14 },
  ],
  carvings: [{ carving: 'flutes', over: [0, 0], inset: 3, count: 6, section: 'round', depth: 1.4, ends: 'round' }],
  blank: { section: 'square', width: 24 },
  plan: { scallop: 0.1 },
};
const built = new Map<string, Built>();
const CONTROLS = ['four-axis-inverse-time', 'y-output-inch', 'four-axis-one-file'];
beforeAll(async () => {
  for (const control of CONTROLS) built.set(control, await buildRaw({ ...peg, control }, { solid: 'none' }));
});
const passesOf = (b: Built) => b.programs.flatMap((p) => p.written.passLines);
const middleOf = (b: Built, stage: string) => {
  const all = passesOf(b).filter((l) => l.stage === stage);
  return all[Math.floor(all.length / 2)]!.restart;
};
/** The two goes of a restart, proven. */
function twoGoes(b: Built, pass: number) {
  const restart = restartFrom(b.job!, b.plan!, b.programs, pass)!;
  return { restart, ...proveRestart(b.job!, b.programs, restart) };
}
/** Largest difference of the wood left on any ray, mm. */
function sameWood(a: Proof, b: Proof): number {
  expect(a.leftOver.xs).toEqual(b.leftOver.xs);
  let worst = 0;
  for (let i = 0; i < a.leftOver.rest.length; i++)
    worst = Math.max(worst, Math.abs(a.leftOver.rest[i]! - b.leftOver.rest[i]!));
  return worst;
}

test('every pass has its own number over the whole job, and the text names it', () => {
  for (const b of built.values()) {
    expect(refusals(b)).toEqual([]);
    const numbers = passesOf(b).map((l) => l.restart);
    expect(numbers).toEqual(numbers.map((_, i) => i + 1));
    const told = b.programs.flatMap((p) =>
      [...p.text.matchAll(/^\(stage .*; restart (\d+)\)$/gm)].map((m) => Number(m[1])),
    );
    expect(told).toEqual(numbers);
  }
});

describe.each(CONTROLS)('under %s', (control) => {
  test.each(['corners', 'roughing', 'finishing', 'necking'])(
    'taken up in the middle of %s, the surface is that of one run',
    (stage) => {
      const b = built.get(control)!;
      const { restart, proof, problems } = twoGoes(b, middleOf(b, stage));
      expect(problems).toEqual([]);
      // It has the very passes that were not yet cut, the one asked for first.
      const old = b.programs[restart.stopped]!;
      const comments = (text: string) => text.split('\n').filter((l) => l.startsWith('(stage '));
      expect(comments(restart.program.text)).toEqual(
        comments(
          old.text
            .split('\n')
            .slice(restart.until - 1)
            .join('\n'),
        ),
      );
      expect(proof.verdict).toBe('proven');
      // Words of whole turns taken off round anew: in inches to 0.0009°, on this radius 0.0001 mm, steeper on the flutes' flanks.
      expect(sameWood(proof, b.proof!)).toBeLessThan(0.001);
    },
  );
});

test('it starts lifted alone, with the spindle up to speed before anything comes near the wood', () => {
  const b = built.get('four-axis-inverse-time')!;
  const { restart } = twoGoes(b, middleOf(b, 'roughing'));
  const lines = readLines(restart.program.text);
  const { axial, radial, rotary } = b.job!.control;
  const blocks = readBlocks(lines, { axial: axial.letter, radial: radial.letter, rotary: rotary.letter });
  expect(blocks[0]).toMatchObject({ rapid: true, moved: 'Z' });
  expect(blocks[0]!.radial).toBeGreaterThanOrEqual(b.job!.safeRadius);
  const spindle = lines.findIndex((l) => l.m.includes(3));
  expect(lines.findIndex((l) => l.words.has('X'))).toBeGreaterThan(spindle);
  expect(lines[spindle + 1]!.g).toEqual([4]);
  expect(blocks[1]!.spindle).toBe(true);
  // Turned back by whole turns: nothing to unwind before the first cut.
  expect(Math.abs(blocks[1]!.rotaryWord)).toBeLessThanOrEqual(360);
});

test('the wood is really taken as it then is: from untouched wood the same program is refused', () => {
  const b = built.get('four-axis-inverse-time')!;
  const { restart } = twoGoes(b, middleOf(b, 'finishing'));
  const question = restartQuestion(b.job!, b.programs, restart);
  const fresh = prove({ ...question, programs: question.programs.slice(restart.stopped + 1) });
  expect(fresh.verdict).toBe('refused');
  expect(fresh.findings.map((f) => f.code)).toContain('step-down');
});

test('passes left out between the two goes are missed', () => {
  const b = built.get('four-axis-inverse-time')!;
  const stop = middleOf(b, 'roughing');
  const { restart } = twoGoes(
    b,
    passesOf(b)
      .filter((l) => l.stage === 'roughing')
      .at(-1)!.restart,
  );
  const early = passesOf(b).find((l) => l.restart === 3)!;
  expect(stop).toBeGreaterThan(3);
  const proof = prove(restartQuestion(b.job!, b.programs, { ...restart, until: early.line }));
  expect(proof.verdict).toBe('refused');
});

test('a build asked for it hands the program over, named for its pass; a number that is none is wrong input', async () => {
  const b = built.get('four-axis-inverse-time')!;
  const pass = middleOf(b, 'finishing');
  const again = await buildRaw(peg, { solid: 'none', fromPass: pass });
  expect(again.verdict).toBe('proven');
  expect([...again.files.keys()]).toContain(`fluted-peg-2-${b.programs[1]!.tools[0]!.bit.id}-from-${pass}.nc`);
  expect(again.report).toEqual(b.report);
  const none = await buildRaw(peg, { solid: 'none', fromPass: 5000 });
  expect(none.verdict).toBe('invalid');
  expect(none.problems.at(-1)).toMatchObject({ path: '--from-pass', message: 'there is no pass 5000' });
  expect(none.files.size).toBe(0);
});
