/** The pipeline's own good programs, each with one thing spoiled in its text: the proof refuses and names the line. */
import { beforeAll, describe, expect, test } from 'vitest';
import type { FindingCode } from '../../shared/problems.ts';
import type { Built } from '../../src/build.ts';
import { prove } from '../../src/cam/proof/prove.ts';
import type { ProofJob } from '../../src/cam/proof/verdict.ts';
import { buildRaw, questionOf, refusals } from '../support/built.ts';

const part = {
  name: 'Twisted peg',
  form: [
    { element: 'cylinder', length: 10, start: 26 },
    { element: 'cylinder', length: 30, start: 20 },
    { element: 'bead', length: 8, start: 18 },
  ],
  carvings: [
    { carving: 'flutes', over: [1, 1], inset: 4, count: 6, section: 'round', depth: 1.6, ends: 'round', turns: 0.3 },
  ],
  blank: { section: 'square', width: 30 },
  plan: { scallop: 0.05 },
};

let built: Built;
let good: ProofJob;
/** Index of the finishing program. */
let fine: number;
beforeAll(async () => {
  built = await buildRaw(part, { solid: 'none' });
  good = questionOf(built);
  fine = good.programs.findIndex((p) => p.text.includes('(stage finishing'));
});

/** The question with one program's text changed. */
const withText = (index: number, change: (text: string) => string): ProofJob => {
  const before = good.programs[index]!.text;
  const after = change(before);
  expect(after).not.toBe(before);
  return { ...good, programs: good.programs.map((p, i) => (i === index ? { ...p, text: after } : p)) };
};
const linesOf = (index: number) => good.programs[index]!.text.split('\n');
/** 1-based numbers of the lines that a test holds for. */
const numbersOf = (index: number, holds: (line: string) => boolean) =>
  linesOf(index).flatMap((l, i) => (holds(l) ? [i + 1] : []));
const replaceLine = (line: number, by: (old: string) => string) => (text: string) =>
  text
    .split('\n')
    .map((l, i) => (i === line - 1 ? by(l) : l))
    .join('\n');
const word = (line: string, letter: string) =>
  Number(line.match(new RegExp(`${letter}(-?[\\d.]+)`))?.[1] ?? Number.NaN);

/** The proof must refuse for one of these reasons, and name a line of that file. */
function refused(job: ProofJob, codes: FindingCode[], index: number, near?: number) {
  const proof = prove(job);
  expect(proof.verdict).toBe('refused');
  const found = proof.findings.filter((f) => f.severity === 'refuse' && codes.includes(f.code));
  expect(found.map((f) => f.code).length, JSON.stringify(proof.findings.map((f) => [f.code, f.line]))).toBeGreaterThan(
    0,
  );
  const named = found.filter((f) => f.file === good.programs[index]!.file && f.line > 0);
  expect(named.length).toBeGreaterThan(0);
  if (near !== undefined) expect(named.some((f) => Math.abs(f.line - near) <= 2)).toBe(true);
}

test('the programs as they were written are proven', () => {
  expect(refusals(built)).toEqual([]);
  expect(built.verdict).toBe('proven');
});

describe('one thing spoiled', () => {
  test('the sign of the rotary word', () => {
    const flipped = withText(fine, (t) => t.replace(/^([^(\n]*)A(?=\d)/gm, '$1A-'));
    refused(flipped, ['gouge'], fine);
  });

  test('everything 0.2 mm deeper', () => {
    const deeper = withText(fine, (t) =>
      t.replace(/^([^(\n]*Z)(-?[\d.]+)/gm, (_m, head: string, z: string) => `${head}${(Number(z) - 0.2).toFixed(3)}`),
    );
    refused(deeper, ['gouge'], fine);
  });

  test('one radial word missing', () => {
    const lines = linesOf(fine);
    // The largest rise of one line of the spiral itself: without its word the bit goes on at the old depth through what stands there.
    let z = Number.NaN;
    let worst = { line: 0, rise: 0 };
    const spiral = lines.findIndex((l) => l.startsWith('(stage finishing') && l.includes('spiral'));
    lines.forEach((l, i) => {
      if (i < spiral || l.startsWith('(')) return;
      const next = word(l, 'Z');
      if (Number.isNaN(next)) return;
      if (l.includes('A') && next - z > worst.rise) worst = { line: i + 1, rise: next - z };
      z = next;
    });
    expect(worst.rise).toBeGreaterThan(0.1);
    const missing = withText(
      fine,
      replaceLine(worst.line, (l) => l.replace(/Z-?[\d.]+ ?/, '')),
    );
    refused(missing, ['gouge'], fine, worst.line);
  });

  test('one rapid lowered into the wood', () => {
    const rapids = numbersOf(0, (l) => /^G0 ?Z/.test(l));
    const line = rapids[Math.floor(rapids.length / 2)]!;
    refused(
      withText(
        0,
        replaceLine(line, (l) => l.replace(/Z[\d.]+/, 'Z11')),
      ),
      ['rapid-in-wood'],
      0,
      line,
    );
  });

  test('a feed missing', () => {
    const cuts = numbersOf(fine, (l) => /F[\d.]+/.test(l) && !l.startsWith('('));
    const line = cuts[Math.floor(cuts.length / 2)]!;
    refused(
      withText(
        fine,
        replaceLine(line, (l) => l.replace(/ ?F[\d.]+/, '')),
      ),
      ['feed-missing'],
      fine,
      line,
    );
  });

  test('feeds past what the rotary can turn', () => {
    const fast = withText(fine, (t) =>
      t.replace(/^([^(\n]*F)([\d.]+)/gm, (_m, head: string, f: string) => `${head}${Number(f) * 8}`),
    );
    refused(fast, ['speed-limit'], fine);
  });

  test('units swapped', () => {
    refused(
      withText(fine, (t) => t.replace('G21', 'G20')),
      ['travel-limit', 'units', 'speed-limit', 'rest-reachable', 'gouge', 'start-not-lifted'],
      fine,
    );
  });

  test('the wrong bit in the spindle', () => {
    const programs = good.programs.map((p, i) =>
      i === fine ? { ...p, bit: { ...p.bit, diameter: p.bit.diameter + 4 } } : p,
    );
    refused({ ...good, programs }, ['gouge', 'wrong-bit'], fine);
  });

  test('the blank 10 mm larger', () => {
    const blank = { ...good.blank, width: good.blank.width + 10, height: good.blank.height + 10 };
    refused({ ...good, blank }, ['step-down', 'rapid-in-wood', 'plunge'], 0);
  });

  test('the chuck’s grip 20 mm longer', () => {
    const keepOut = good.keepOut.map((k) => (k.what.startsWith('chuck') ? { ...k, to: k.to + 20 } : k));
    expect(keepOut).not.toEqual(good.keepOut);
    refused({ ...good, keepOut }, ['keep-out'], 0);
  });
});
