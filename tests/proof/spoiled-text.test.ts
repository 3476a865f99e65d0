/** A good pair of programs is proven; the same text with one thing spoiled is refused, and the line is named. */
import { beforeAll, describe, expect, test } from 'vitest';
import type { FindingCode } from '../../shared/problems.ts';
import { prove } from '../../src/cam/proof/prove.ts';
import type { Proof, ProofJob } from '../../src/cam/proof/verdict.ts';
import { type FlutedPeg, flutedPeg, jobWith } from '../support/fluted-peg.ts';
import { bitOf } from '../support/proof-job.ts';
import { asProgram } from '../support/rs274-text.ts';

let peg: FlutedPeg;
let good: Proof;
beforeAll(() => {
  peg = flutedPeg();
  good = prove(peg.job);
});

const row = (p: Proof, code: FindingCode) => p.findings.find((f) => f.code === code);
/** Replaces one line (1-based). */
function withLine(text: string, line: number, change: (line: string) => string): string {
  const lines = text.split('\n');
  const before = lines[line - 1]!;
  lines[line - 1] = change(before);
  expect(lines[line - 1]).not.toBe(before);
  return lines.join('\n');
}
const word = (line: string, letter: string) => Number(new RegExp(`${letter}(-?[\\d.]+)`).exec(line)?.[1] ?? Number.NaN);
/** The middle one of the lines that a test holds for. */
function middleLine(text: string, holds: (line: string, before: string) => boolean): number {
  const lines = text.split('\n');
  const found = lines.flatMap((l, i) => (i > 0 && holds(l, lines[i - 1]!) ? [i + 1] : []));
  expect(found.length).toBeGreaterThan(0);
  return found[Math.floor(found.length / 2)]!;
}
function refused(job: ProofJob, code: FindingCode, line?: number, file = 'peg-2-ball-6.nc'): Proof {
  const p = prove(job);
  expect(p.verdict).toBe('refused');
  expect(p.findings.map((f) => f.code)).toContain(code);
  const found = row(p, code)!;
  expect(found.severity).toBe('refuse');
  expect(found.file).toBe(file);
  expect(found.line).toBeGreaterThan(0);
  if (line !== undefined) expect(found.line).toBe(line);
  return p;
}

test('the good programs are proven: no gouge beyond the tolerance, hardly anything left, times as written', () => {
  expect(good.findings.filter((f) => f.severity !== 'note')).toEqual([]);
  expect(good.verdict).toBe('proven');
  expect(good.deepestGouge).toBeLessThan(0.03);
  expect(good.restP99).toBeLessThan(0.12);
  const finishing = good.stages.find((s) => s.stage === 'finishing')!;
  expect(finishing.passes).toBe(1);
  expect(finishing.air_s).toBeLessThan(0.1 * finishing.time_s);
});

describe('one thing spoiled', () => {
  test('the sign of A flipped: the flutes twist the other way', () => {
    const p = refused(
      jobWith(
        peg.rough,
        peg.finish.replace(/A(-?)(\d)/g, (_m, s, d) => `A${s ? '' : '-'}${d}`),
      ),
      'gouge',
    );
    expect(p.deepestGouge).toBeGreaterThan(0.2);
  });
  test('one line 0.2 mm deeper', () => {
    const line = middleLine(peg.finish, (l) => /^G1 .*Z/.test(l));
    const text = withLine(peg.finish, line, (l) => l.replace(/Z[\d.]+/, `Z${(word(l, 'Z') - 0.2).toFixed(5)}`));
    const p = refused(jobWith(peg.rough, text), 'gouge', line);
    expect(p.deepestGouge).toBeGreaterThan(0.12);
    expect(p.deepestGouge).toBeLessThan(0.2);
  });
  test('every line 0.2 mm deeper: the depth is told to a few micrometres', () => {
    const text = peg.finish.replace(/^G1(.*)Z([\d.]+)/gm, (_m, a, z) => `G1${a}Z${(Number(z) - 0.2).toFixed(5)}`);
    const p = refused(jobWith(peg.rough, text), 'gouge');
    expect(p.deepestGouge).toBeGreaterThan(0.165);
    expect(p.deepestGouge).toBeLessThan(0.2 + good.deepestGouge + 0.005);
  });
  test('the Z word missing on a line that climbs out of a flute', () => {
    const line = middleLine(peg.finish, (l, b) => word(l, 'Z') - word(b, 'Z') > 0.09);
    refused(
      jobWith(
        peg.rough,
        withLine(peg.finish, line, (l) => l.replace(/ Z[\d.]+/, '')),
      ),
      'gouge',
      line,
    );
  });
  test('the first lift left out', () => {
    const line = 5;
    const text = withLine(peg.finish, line, () => '(gone)');
    refused(jobWith(peg.rough, text), 'start-not-lifted', line + 1);
  });
  test('one rapid lowered', () => {
    const line = middleLine(peg.rough, (l) => /^G0 Z(?!55)/.test(l));
    refused(
      jobWith(
        withLine(peg.rough, line, (l) => l.replace(/Z[\d.]+/, 'Z16.2')),
        peg.finish,
      ),
      'rapid-in-wood',
      line,
      'peg-1-flat-6.nc',
    );
  });
  test('F missing: by the standard that line is an error, and there is no feed', () => {
    const line = middleLine(peg.finish, (l) => /^G1/.test(l));
    const p = refused(
      jobWith(
        peg.rough,
        withLine(peg.finish, line, (l) => l.replace(/ F.*/, '')),
      ),
      'feed-missing',
      line,
    );
    expect(row(p, 'line-forbidden')!.line).toBe(line);
  });
  test('F doubled past the rotary’s limit', () => {
    const line = middleLine(peg.finish, (l) => /^G1/.test(l));
    const p = refused(
      jobWith(
        peg.rough,
        withLine(peg.finish, line, (l) => l.replace(/F.*/, `F${(2 * word(l, 'F')).toFixed(6)}`)),
      ),
      'speed-limit',
      line,
    );
    expect(row(p, 'speed-limit')!.message).toContain('rotary');
  });
  test('units swapped', () => {
    const text = peg.finish.replace('G21', 'G20');
    refused(jobWith(peg.rough, text), 'units', 2);
  });
  test('the wrong bit in the header', () => {
    refused(jobWith(peg.rough, peg.finish.replace('bit ball-6', 'bit ball-10')), 'wrong-bit', 1);
  });
  test('the wrong bit in the spindle: a flat where a ball was meant gouges', () => {
    const flat = bitOf('flat-6');
    const programs = [
      peg.job.programs[0]!,
      asProgram('peg-2-ball-6.nc', peg.finish.replace('bit ball-6', 'bit flat-6'), flat, { plunge: 2.5 }),
    ];
    const p = refused({ ...peg.job, programs }, 'gouge');
    expect(row(p, 'wrong-bit')).toBeUndefined();
  });
  test('the wrong bit in the spindle: a smaller ball leaves wood that it could have reached', () => {
    const small = bitOf('ball-eighth');
    const programs = [
      peg.job.programs[0]!,
      asProgram('peg-2-ball-6.nc', peg.finish.replace('bit ball-6', 'bit ball-eighth'), small, { plunge: 2.5 }),
    ];
    const p = prove({ ...peg.job, programs });
    expect(p.verdict).toBe('refused');
    expect(row(p, 'rest-reachable')).toBeDefined();
  });
  test('a blank 10 mm larger', () => {
    const p = prove(jobWith(peg.rough, peg.finish, {}, 44));
    expect(p.verdict).toBe('refused');
    const deep = row(p, 'step-down')!;
    expect(deep.line).toBeGreaterThan(0);
    expect(deep.file).toBe('peg-1-flat-6.nc');
    // The first ring runs 22 mm from the centre where the new corners stand at 31.1 mm.
    expect(Number(/worst is line \d+: the bit meets wood ([\d.]+)/.exec(deep.message)?.[1])).toBeGreaterThan(7);
  });
  test('the chuck grips 20 mm further in', () => {
    const keepOut = peg.job.keepOut.map((k) => (k.what === 'chuck' ? { ...k, to: k.to + 20 } : k));
    const p = refused({ ...peg.job, keepOut }, 'keep-out', undefined, 'peg-1-flat-6.nc');
    expect(row(p, 'keep-out')!.message).toContain('chuck');
    // The first motion down beside the chuck.
    expect(peg.rough.split('\n')[row(p, 'keep-out')!.line - 1]).toMatch(/^G0 Z24/);
  });
});
