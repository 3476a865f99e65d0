/**
 * The proof's reader against the published rules of RS-274/NGC: "The NIST RS274NGC Interpreter – Version 3" (NISTIR 6556, 2000).
 * Section numbers in the names are that report's.
 */
import { describe, expect, test } from 'vitest';
import { benches, type Control, controls } from '../../shared/catalog.ts';
import { degrees, radians } from '../../shared/units.ts';
import { blockSeconds, follow, rotaryGrain_deg } from '../../src/cam/proof/motion.ts';
import { type Block, hasWord, readProgram, wordOf } from '../../src/cam/proof/read.ts';

const AXES = ['X', 'Z', 'A'];

function complaints(text: string): { line: number; message: string }[] {
  const list: { line: number; message: string }[] = [];
  readProgram(text, AXES, { block: () => {}, forbidden: (line, message) => list.push({ line, message }) });
  return list;
}
/** A whole program around some lines, so that nothing else is wrong with it; the lines start at line 3. */
const around = (...lines: string[]) => ['(a)', 'G21 G90 G94', ...lines, 'M2', ''].join('\n');

const control = (id: string): Control => {
  const found = controls.find((c) => c.id === id);
  if (!found) throw new Error(`no control ${id}`);
  return found;
};
const bench = benches.find((b) => b.id === 'middle')!;
const inverse = control('four-axis-inverse-time');
function followed(text: string, c: Control = inverse, offsets = { axial: 0, radial: 0 }) {
  const told: { code: string; line: number; message: string }[] = [];
  const motions = follow(text, c, bench, offsets, (code, line, message) => told.push({ code, line, message }));
  return { motions, told };
}

describe('lines that the standard forbids are told with their number', () => {
  test.each([
    ['an exponent is not a number (3.3.2.1)', ['G1 X1e-7'], 3],
    ['comments do not nest (3.3.4)', ['(a (b) c)'], 3],
    ['a comment closes on its own line (3.3.4)', ['(open'], 3],
    ['N has at most five digits (3.3.1)', ['N123456 G0 X1'], 3],
    ['N carries no sign (3.3.1)', ['N-5 G0 X1'], 3],
    ['N carries no point (3.3.1)', ['N1.5 G0 X1'], 3],
    ['two M words of one group (3.3.5)', ['M3 M5'], 3],
    ['two G words of one group (3.3.5)', ['G20 G21'], 3],
    ['two motion words (3.3.5)', ['G0 G1 X1 F5'], 3],
    ['a letter twice (3.3.5)', ['G0 X1 X2'], 3],
    ['more than four M words (3.3.5)', ['M3 M7 M48 M0 M6'], 3],
    ['a line of 257 characters (3.3)', [`G0 X1 (${'a'.repeat(257 - 8)})`], 3],
    ['a motion without axis words (3.5.1)', ['G0'], 3],
    ['axis words while no motion is set', ['X1'], 3],
    ['axis words after G80 (3.5.15)', ['G0 X1', 'G80', 'X2'], 5],
    ['a code that is none', ['G5.5 X1'], 3],
    ['a G number beside its code (3.3.2.1)', ['G1.0005 X1 F5'], 3],
    ['an M code that is none', ['M99'], 3],
    ['a letter without a number', ['G0 X'], 3],
    ['two points', ['G0 X1..2'], 3],
    ['a point alone', ['G0 X.'], 3],
    ['two signs', ['G0 X--1'], 3],
    ['a sign after a digit', ['G0 X1-2'], 3],
    ['dwell without time (3.5.4)', ['G4'], 3],
    ['a negative dwell (3.5.4)', ['G4 P-1'], 3],
    ['P without dwell', ['G0 X1 P2'], 3],
    ['a negative S (3.7.1)', ['S-1'], 3],
    ['a T that is not whole (3.7.3)', ['T1.5'], 3],
    ['a percent sign amid words', ['G0 X1 %'], 3],
    ['G92 without an axis word', ['G92'], 3],
    ['G92 beside a motion', ['G0 G92 X1'], 3],
    ['a character that is no word', ['G0 X1 ;rest'], 3],
  ])('%s', (_name, lines, line) => {
    expect(complaints(around(...lines)).map((c) => c.line)).toEqual([line]);
  });

  test('G93 and then a G1 line without F, named or modal (3.5.19)', () => {
    expect(complaints(around('G93', 'G1 X1 F5', 'X2', 'G1 X3')).map((c) => c.line)).toEqual([5, 6]);
    expect(complaints(around('G93', 'G0 X1', 'G1 X2 F3', 'G94', 'G1 X3')).map((c) => c.line)).toEqual([]);
  });

  test('a % that opens and does not close (3.1), and a program that just stops', () => {
    expect(complaints('%\nG21\nG0 X1\n')).toMatchObject([{ line: 1 }, { line: 3 }]);
    expect(complaints('G21\nG0 X1\n')).toMatchObject([{ line: 2, message: expect.stringContaining('M2') }]);
    expect(complaints('%\nG21\nG0 X1\n%\n')).toEqual([]);
    expect(complaints('%\nG21\nG0 X1\nM2\n%\n')).toEqual([]);
    expect(complaints('G21\nG0 X1\nM30\n')).toEqual([]);
  });

  test('nothing after the end is carried out, so nothing may stand there (3.6.1)', () => {
    expect(complaints('G21\nM2\nG0 X1\n').map((c) => c.line)).toEqual([3]);
  });

  test('a line of 256 characters is read', () => {
    expect(complaints(around(`G0 X1 (${'a'.repeat(256 - 8)})`))).toEqual([]);
  });
});

describe('what the standard allows and this project does not', () => {
  test.each([
    ['arcs', 'G2 X1 Z1 R5'],
    ['arcs', 'G3 X1 R5'],
    ['canned cycles', 'G81 X1 Z1 R2'],
    ['parameters', '#1=5'],
    ['expressions', 'G0 X[1+2]'],
    ['relative distances', 'G91'],
    ['cutter compensation', 'G41'],
    ['length offset', 'G43'],
    ['other zeros', 'G55'],
    ['other zeros', 'G10 L2 P1 X1'],
    ['a line that may be left out', '/G0 X1'],
    ['an axis that is not of the job', 'G0 Y1'],
    ['machine coordinates', 'G53 G0 X1'],
    ['home', 'G28 X0'],
  ])('%s: %s', (_name, line) => {
    expect(complaints(around(line)).map((c) => c.line)).toEqual([3]);
  });
});

describe('numbers and words', () => {
  const words = (line: string, letter: string): number[] => {
    const found: number[] = [];
    readProgram(around(line), AXES, {
      block: (b: Block) => {
        if (hasWord(b, letter) && b.g.length) found.push(wordOf(b, letter));
      },
      forbidden: () => {},
    });
    return found;
  };
  test('blanks anywhere and small letters change nothing: g0x +0. 12 34z 7 is g0 x+0.1234 z7 (3.3, with Z for Y)', () => {
    expect(words('g0x +0. 12 34z 7', 'X')).toEqual([0.1234]);
    expect(words('g0x +0. 12 34z 7', 'Z')).toEqual([7]);
  });
  test('signs, leading and trailing points, leading zeros', () => {
    expect(words('G00 X-.5', 'X')).toEqual([-0.5]);
    expect(words('G1 X+5. F007', 'X')).toEqual([5]);
    expect(words('G1 X+5. F007', 'F')).toEqual([7]);
  });
  test('N numbers may repeat and skip; words stand in any order', () => {
    expect(complaints(around('N00009 G0 X1', 'N9 X2', 'N3 X3 Z1', 'Z2 G1 F5 A3'))).toEqual([]);
  });
});

describe('time of a block under the three feed rules', () => {
  // NISTIR 6556 §3.5.19: F2.0 in G93 means half a minute.
  test('inverse time: F 2 is half a minute', () => {
    expect(blockSeconds('inverse-time', true, 2, 1, 1, 1, false)).toBeCloseTo(30, 12);
  });
  // Worked by hand from §2.1.2.5 and plain geometry: Δx 0.5 mm and 10° at radius 20, 1000 mm/min over the surface.
  const arc = radians(10) * 20;
  const length = Math.hypot(0.5, arc);
  const minutes = length / 1000;
  test('the surface way of 0.5 mm and 10° at radius 20 is 3.526287 mm: 0.003526287 min, F 283.584442 in G93', () => {
    expect(arc).toBeCloseTo(3.490659, 6);
    expect(length).toBeCloseTo(3.526287, 6);
    expect(1 / minutes / 283.584442).toBeCloseTo(1, 6);
    expect(blockSeconds('inverse-time', true, 283.584442, 0.5, 0, 10, false) / 60 / minutes).toBeCloseTo(1, 6);
  });
  test('the same block where F drives the linear words: F 141.792221; the rotary alone: 2864.788976°/min', () => {
    expect(blockSeconds('linear-first', false, 141.792221, 0.5, 0, 10, false) / 60 / minutes).toBeCloseTo(1, 6);
    expect((blockSeconds('linear-first', false, 2864.788976, 0, 0, 10, false) / 60) * 1000).toBeCloseTo(arc, 5);
  });
  test('F 1000 taken for the surface in G94 lasts 0.0005 min and turns the rotary at 20 000°/min, 7.05 times too fast', () => {
    const t = blockSeconds('linear-first', false, 1000, 0.5, 0, 10, false) / 60;
    expect(t).toBeCloseTo(0.0005, 12);
    expect(10 / t).toBeCloseTo(20000, 6);
    expect(length / t).toBeCloseTo(7052.573, 2);
  });
  test('Δx 1, Δz −0.4, 3.6° at mean radius 14.8 and 1200 mm/min: way 1.422932 mm, F 843.32917', () => {
    const s = Math.hypot(1, 0.4, radians(3.6) * 14.8);
    expect(s).toBeCloseTo(1.422932, 6);
    expect(blockSeconds('inverse-time', true, 843.32917, 1, 0.4, 3.6, false) / (60 * (s / 1200))).toBeCloseTo(1, 6);
  });
  test('a spiral at radius 25, pitch 1, 1500 mm/min: each 5° has F 687.535422', () => {
    const s = Math.hypot(1, 2 * Math.PI * 25) / 72;
    expect(s * 72).toBeCloseTo(157.082816, 5);
    expect(blockSeconds('inverse-time', true, 687.535422, 1 / 72, 0, 5, false) / (60 * (s / 1500))).toBeCloseTo(1, 6);
  });
  test('over all words, degrees count as millimetres', () => {
    expect(blockSeconds('all-words', false, 600, 3, 4, 12, false)).toBeCloseTo(1.3, 12);
  });
  test('a rotary on a linear output is a linear word: it takes its share of F', () => {
    expect(blockSeconds('linear-first', false, 600, 3, 4, 12, true)).toBeCloseTo(1.3, 12);
    expect(blockSeconds('linear-first', false, 600, 3, 4, 12, false)).toBeCloseTo(0.5, 12);
  });
});

describe('following a program as the control does', () => {
  const one = (lines: string[], c?: Control, offsets?: { axial: number; radial: number }) =>
    followed([`(bit x: y)`, ...lines, 'M2', ''].join('\n'), c, offsets);
  test('words are turned back through scale and offset; the rotary through its sense and units', () => {
    const c: Control = {
      ...inverse,
      axial: { letter: 'X', scale: -1 },
      rotary: { letter: 'A', sign: -1, unitsPerTurn: 100, linear: false },
    };
    const { motions } = one(['G21 G0 X-90 Z30 A25'], c, { axial: 10, radial: -5 });
    expect([motions.x[0], motions.r[0], degrees(motions.theta[0]!)]).toEqual([100, 35, -90]);
  });
  test('in inches linear words are scaled by 25.4, degrees are not (2.1.2.9); on a linear output the rotary is as well', () => {
    const inchControl: Control = { ...inverse, units: 'inch' };
    expect(degrees(one(['G20 G0 X1 Z2 A90'], inchControl).motions.theta[0]!)).toBeCloseTo(90, 12);
    expect(one(['G20 G0 X1 Z2 A90'], inchControl).motions.x[0]).toBeCloseTo(25.4, 12);
    const wired: Control = { ...inchControl, rotary: { letter: 'A', sign: 1, unitsPerTurn: 360, linear: true } };
    expect(degrees(one([`G20 G0 X1 Z2 A${(90 / 25.4).toFixed(9)}`], wired).motions.theta[0]!)).toBeCloseTo(90, 6);
  });
  test('G92 gives the rotary’s place another name and moves nothing; G92.1 gives the old name back', () => {
    const { motions, told } = one(['G21 G0 Z50', 'X0 A3600', 'G92 A0', 'A90', 'G92.1', 'A3780']);
    expect(told).toEqual([]);
    expect(Array.from(motions.theta.subarray(1, motions.count), degrees).map((d) => Math.round(d))).toEqual([
      3600, 3690, 3780,
    ]);
  });
  test('G92 on any word but the rotary’s is refused', () => {
    expect(one(['G21 G0 Z50 X1 A0', 'G92 X0']).told).toMatchObject([{ code: 'line-forbidden', line: 3 }]);
  });
  test('a feed of G94 does not carry over into G93 nor back (3.5.19)', () => {
    expect(one(['G21 G94 F500', 'G93 G0 X1 Z1 A1', 'G94 G1 X2']).told).toMatchObject([
      { code: 'feed-missing', line: 4 },
    ]);
  });
  test('the other unit than the control’s is told, and a program that never tells one', () => {
    expect(one(['G20 G0 X1']).told).toMatchObject([{ code: 'units', line: 2 }]);
    expect(one(['G0 X1']).told).toMatchObject([{ code: 'units', line: 2 }]);
  });
  test('a tool change stops the spindle (3.6.3)', () => {
    const { motions } = one(['G21 S10000 M3', 'G0 Z50', 'T2 M6', 'G0 Z51']);
    expect(Array.from(motions.spindle.subarray(0, 2))).toEqual([1, 0]);
    expect(Array.from(motions.tool.subarray(0, 2))).toEqual([0, 1]);
  });
  test('a rapid takes the slowest axis’ own time', () => {
    const { motions } = one(['G21 G0 X0 Z50 A0', `X100 A36`]);
    const turning = 0.1 / (bench.rotary.maxSpeed / 60);
    expect(motions.time[1]).toBeCloseTo(Math.max(100 / (bench.axialMax / 60), turning), 9);
  });
});

describe('the number that a control keeps', () => {
  // IEEE 754 single precision: 24 bits, so at 131 072 neighbours lie 2⁻⁶ apart.
  test('single precision at 131 072°: neighbours 0.015625° apart; at 16 384°: 0.00195°; double: nothing to speak of', () => {
    const single: Control = { ...inverse, significandBits: 24 };
    expect(rotaryGrain_deg(131072, single)).toBeCloseTo(0.015625, 12);
    expect(rotaryGrain_deg(16384, single)).toBeCloseTo(0.001953125, 12);
    expect(rotaryGrain_deg(131072, inverse)).toBeLessThan(1e-9);
  });
});
