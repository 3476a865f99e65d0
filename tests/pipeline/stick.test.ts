/** Three pieces on one stick through the whole pipeline: planned, written, proven as one. */
import { describe, expect, test } from 'vitest';
import { proofJobOf } from '../../src/build/proof-job.ts';
import { build } from '../../src/build.ts';
import { CUT } from '../../src/cam/path.ts';
import { prove } from '../../src/cam/proof/prove.ts';
import { refusals } from '../support/built.ts';
import { stickOf } from '../support/sticks.ts';

const stick = stickOf('Three pawns', [['chess-pawn', 3]]);
if (!stick.part) throw new Error(JSON.stringify(stick.problems));
const built = await build(stick.part, { solid: 'none' });
const job = built.job!;
const between = job.stubs.between!;

describe('three pawns on one stick', () => {
  test('are proven as a whole, by one program set', () => {
    expect(refusals(built)).toEqual([]);
    expect(built.verdict).toBe('proven');
    expect(built.report!.proof.deepestGouge).toBeLessThanOrEqual(0.03);
    expect(built.programs.length).toBeLessThanOrEqual(3);
    expect(between).toHaveLength(2);
  });

  test('the first two lie back to back, and the groove between thick ends stands thick until the necks are turned', () => {
    expect(stick.pieces.map((p) => p.turned)).toEqual([false, true, false]);
    const thick = between[1]!;
    expect(thick.standing).toBeGreaterThan(2 * thick.radius);
    for (const { tool, passes } of built.plan!.programs)
      for (const pass of passes.filter((p) => p.stage !== 'necking'))
        for (let i = 0; i < pass.moves.count; i++) {
          const x = pass.moves.x[i]!;
          if (
            pass.moves.kind[i] !== CUT ||
            x < thick.from + tool.bit.diameter / 2 ||
            x > thick.to - tool.bit.diameter / 2
          )
            continue;
          expect(pass.moves.r[i]).toBeGreaterThan(thick.standing! - 0.01);
        }
  });

  test('necks are turned from the tail to the chuck, none below what carries the torque', () => {
    const necks = built.plan!.programs.flatMap((p) => p.passes).filter((p) => p.stage === 'necking');
    const names = [...new Set(necks.map((p) => p.label.split(',')[0]))];
    expect(names).toEqual(['tail end', 'parting 2', 'parting 1', 'chuck end']);
    between.forEach((s, k) => {
      const low = Math.min(
        ...necks.filter((p) => p.label.startsWith(`parting ${k + 1}`)).map((p) => Math.min(...p.moves.r)),
      );
      expect(low).toBeGreaterThanOrEqual(s.radius - 1e-9);
      expect(low).toBeLessThan(s.radius + 0.05);
    });
  });

  test('the stick is looked at in every moment and keeps at least twice the strength that it needs', () => {
    expect(built.inOrder!.moments).toBeGreaterThan(50);
    expect(built.inOrder!.weakest.safetyFactor).toBeGreaterThan(2);
    expect(built.problems.some((p) => p.message.startsWith('at its weakest moment'))).toBe(true);
  });

  test('a neck cut half a millimetre too thin is found in the text', () => {
    const question = proofJobOf(job, built.programs);
    const necks = question.programs.length - 1;
    const { radius } = between[1]!;
    let spoiled = 0;
    const programs = question.programs.map((p, k) => {
      if (k !== necks) return p;
      const lines = p.text.split('\n');
      let within = false;
      const text = lines
        .map((line) => {
          if (line.includes('(')) within = line.includes('parting 2');
          if (!within) return line;
          return line.replace(/Z(-?[\d.]+)/, (word, z) => {
            if (Math.abs(Number(z) - radius) > 0.05) return word;
            spoiled++;
            return `Z${(Number(z) - 0.5).toFixed(3)}`;
          });
        })
        .join('\n');
      return { ...p, text };
    });
    expect(spoiled).toBeGreaterThan(0);
    const found = prove({ ...question, programs }).findings.filter((f) => f.code === 'neck-too-thin');
    expect(found.length).toBeGreaterThan(0);
    expect(found[0]!.x).toBeGreaterThan(between[1]!.from);
    expect(found[0]!.x).toBeLessThan(between[1]!.to);
  });
});
