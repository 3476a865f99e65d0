import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type Control, controls } from '../../shared/catalog.ts';
import { TURN } from '../../shared/units.ts';
import { axisTime, contactLength } from '../../src/cam/block-time.ts';
import { positionOf, ZERO_OFFSETS } from '../../src/cam/control.ts';
import type { Job, PlannedProgram } from '../../src/cam/job.ts';
import { CUT, LINK, type Pass, RAPID } from '../../src/cam/path.ts';
import { clearRadius, writeProgram, writePrograms } from '../../src/cam/write.ts';
import { jobFor, passOf } from '../support/cam-job.ts';
import { cylinder } from '../support/fields.ts';
import { type Block, readBlocks, readLines } from '../support/program-reader.ts';

const field = cylinder(100, 20);
const all = controls.map((c) => [c.id, c] as const);

const program = (job: Job, passes: readonly Pass[]): PlannedProgram => ({ tool: job.tools.roughing, passes });
const lettersOf = (c: Control) => ({ axial: c.axial.letter, radial: c.radial.letter, rotary: c.rotary.letter });
const blocksOf = (text: string, control: Control): Block[] => readBlocks(readLines(text), lettersOf(control));
const placeOf = (control: Control, b: Block, offsets = ZERO_OFFSETS) => positionOf(control, b, offsets);

/** Two strokes on corners, then a spiral of so many turns. */
const sample = (turns = 4): Pass[] => [
  passOf('corners', 'layer 1 of 1, corner 45', [
    [RAPID, -5, 32, TURN / 8],
    [RAPID, -5, 28, TURN / 8],
    [CUT, 105, 28, TURN / 8, 2000],
    [RAPID, 105, 32, TURN / 8],
  ]),
  passOf('corners', 'layer 1 of 1, corner 225', [
    [RAPID, -5, 32, (5 * TURN) / 8],
    [LINK, -5, 27.9, (5 * TURN) / 8, 1000],
    [CUT, 105, 27.5, (5 * TURN) / 8, 2000],
    [RAPID, 105, 32, (5 * TURN) / 8],
  ]),
  passOf('finishing', 'spiral', [
    [RAPID, 0, 32, TURN],
    [CUT, 0, 20.00012, 1.5 * TURN, 500],
    [CUT, 0, 20.00012, 2.5 * TURN, 2000],
    [CUT, 100, 20.00012, (2.5 + turns) * TURN, 2000],
    [CUT, 100, 20.00012, (3.5 + turns) * TURN, 2000],
    [RAPID, 100, 32, (3.5 + turns) * TURN],
  ]),
];

/** Random passes in tidy numbers: lifted at both ends, cuts between. */
const row5 = fc.tuple(
  fc.constantFrom(LINK, CUT),
  fc.double({ min: 0, max: 8, noNaN: true }),
  fc.double({ min: 2, max: 30, noNaN: true }),
  fc.double({ min: -4, max: 40, noNaN: true }),
  fc.double({ min: 100, max: 5000, noNaN: true }),
);
const randomPass = fc
  .tuple(fc.constantFrom('roughing', 'finishing', 'grooves'), fc.array(row5, { minLength: 1, maxLength: 12 }))
  .map(([stage, raw]) => {
    // No two at the same place: those would rightly make one block.
    const rows = raw.map(([kind, x, ...rest], i) => [kind, x + 9 * i - 10, ...rest] as const);
    const [first, last] = [rows[0]!, rows.at(-1)!];
    return passOf(stage as 'roughing', 'a (tried) way', [
      [RAPID, first[1], 33, first[3]],
      ...rows,
      [RAPID, last[1], 33, last[3]],
    ]);
  });
const randomPasses = fc.array(randomPass, { minLength: 1, maxLength: 4 });

test.each(all)('%s: every line is one that the standard allows', (id, control) => {
  fc.assert(
    fc.property(randomPasses, (passes) => {
      const job = jobFor(field, { control: id });
      const { text } = writeProgram(job, program(job, passes), { index: 1, of: 1 });
      expect(text).toMatch(/^[\n\x20-\x7e]*$/);
      const lines = readLines(text);
      const letters = new Set([...Object.values(lettersOf(control)), 'F', 'S', 'P']);
      for (const line of lines) {
        // NISTIR 6556 §3.3: at most 256 characters; §3.3.4: no nested comments.
        expect(line.text.length).toBeLessThanOrEqual(256);
        expect(line.comment).not.toMatch(/[()]/);
        for (const letter of line.words.keys()) expect(letters).toContain(letter);
      }
      expect(lines.flatMap((l) => l.m)).toEqual([3, 5, 30]);
      expect(lines.at(-1)!.text).toBe('M30');
      for (const g of lines.flatMap((l) => l.g))
        expect([0, 1, 4, 17, 20, 21, 40, 49, 54, 80, 90, 92, 92.1, 93, 94]).toContain(g);
    }),
    { seed: 51, numRuns: 12 },
  );
});

test.each(all)('%s: the words stand for the planned positions and never lie deeper', (id, control) => {
  fc.assert(
    fc.property(randomPasses, (passes) => {
      const job = jobFor(field, { control: id });
      const offsets = { axial: 12.3, radial: -4.5 };
      const { text } = writeProgram(job, program(job, passes), { index: 1, of: 1, offsets });
      const cuts = blocksOf(text, control).filter((b) => !b.rapid);
      const planned = passes.flatMap((p) =>
        Array.from(p.moves.kind, (kind, i) => ({ kind, x: p.moves.x[i]!, r: p.moves.r[i]!, theta: p.moves.theta[i]! })),
      );
      const wanted = planned.filter((m) => m.kind !== RAPID);
      const unit = control.units === 'inch' ? 25.4 : 1;
      const last = unit * 10 ** -control.decimals.linear;
      const turnLast =
        (TURN / control.rotary.unitsPerTurn) * (control.rotary.linear ? unit : 1) * 10 ** -control.decimals.rotary;
      expect(cuts).toHaveLength(wanted.length);
      for (const [i, m] of wanted.entries()) {
        const p = placeOf(control, cuts[i]!, offsets);
        expect(Math.abs(p.x - m.x)).toBeLessThanOrEqual(0.5001 * last);
        expect(p.r).toBeGreaterThanOrEqual(m.r - 1e-4 * last);
        expect(p.r).toBeLessThan(m.r + 1.0001 * last);
        expect(Math.abs(p.theta - m.theta)).toBeLessThanOrEqual(0.5001 * turnLast);
      }
    }),
    { seed: 52, numRuns: 12 },
  );
});

test('a radial word that counts downward is rounded the other way, still away from the work', () => {
  const base = jobFor(field);
  const control: Control = { ...base.control, radial: { letter: 'Z', scale: -1 } };
  const job = { ...base, control };
  const { text } = writeProgram(job, program(job, sample()), { index: 1, of: 1 });
  const radii = blocksOf(text, control)
    .filter((b) => !b.rapid)
    .map((b) => placeOf(control, b).r);
  expect(Math.min(...radii)).toBeCloseTo(20.001, 9);
});

test.each(all)('%s: F gives each block the time of its feed, and no axis runs too fast', (id, control) => {
  fc.assert(
    fc.property(randomPasses, (passes) => {
      const job = jobFor(field, { control: id });
      const written = writeProgram(job, program(job, passes), { index: 1, of: 1 });
      const blocks = blocksOf(written.text, control);
      let time = 0;
      for (const [i, b] of blocks.entries()) {
        if (b.rapid || i === 0) continue;
        const before = blocks[i - 1]!;
        const d = [b.axial - before.axial, b.radial - before.radial, b.rotary - before.rotary] as const;
        const linear = control.rotary.linear || control.feedRule === 'all-words' ? d : ([d[0], d[1], 0] as const);
        const length = Math.hypot(...linear) || Math.abs(d[2]);
        // inverse-time: NISTIR 6556 §3.5.19; per minute: the rule of the control.
        const t = b.inverse ? 60 / b.feed : (60 * length) / b.feed;
        if (control.feedRule === 'inverse-time') {
          expect(b.inverse).toBe(true);
          expect(b.feedHere).toBe(true);
        } else expect(b.inverse).toBe(false);
        const [from, to] = [placeOf(control, before), placeOf(control, b)];
        const step = [to.x - from.x, to.r - from.r, to.theta - from.theta] as const;
        expect(t).toBeGreaterThanOrEqual(axisTime(job.bench, ...step) * (1 - 1e-6));
        expect(t).toBeGreaterThanOrEqual((1 - 1e-9) / job.bench.blocksPerSecond);
        time += t;
        expect(contactLength(step[0], from.r, to.r, step[2]) / t).toBeLessThanOrEqual((5000 / 60) * 1.0001);
      }
      const asked = written.motion.time.reduce((a, b) => a + b, 0);
      expect(time / asked).toBeCloseTo(1, 5);
    }),
    { seed: 53, numRuns: 12 },
  );
});

test.each(all)(
  '%s: the bit lifts alone first, spins, waits, and no rapid moves the radial axis with another',
  (id, control) => {
    const job = jobFor(field, { control: id });
    const { text } = writeProgram(job, program(job, sample()), { index: 1, of: 1 });
    const blocks = blocksOf(text, control);
    const lines = readLines(text).filter((l) => l.text && !l.comment);
    const radial = control.radial.letter;
    expect(blocks[0]!.moved).toBe(radial);
    expect(blocks[0]!.rapid).toBe(true);
    expect(placeOf(control, { ...blocks[0]!, axial: 0, rotary: 0 }).r).toBeGreaterThanOrEqual(
      clearRadius(job, [job.tools.roughing]),
    );
    for (const b of blocks.filter((b) => b.rapid)) expect(b.moved === radial || !b.moved.includes(radial)).toBe(true);
    const order = lines.map((l) => l.text);
    const first = order.findIndex((l) => l.startsWith('G0'));
    expect(order.slice(first + 1, first + 3)).toEqual([`S${job.tools.roughing.limits.rpm} M3`, 'G4 P2']);
    expect(blocks.slice(1).every((b) => b.spindle)).toBe(true);
    // In the clear, and a whole number of turns on: the count may be set to zero there.
    const end = placeOf(control, blocks.at(-1)!);
    expect(blocks.at(-1)!.rapid).toBe(true);
    expect(end.r).toBeGreaterThanOrEqual(clearRadius(job, [job.tools.roughing]));
    expect(end.theta / TURN).toBeCloseTo(Math.round(end.theta / TURN), 5);
    expect(order.slice(control.feedRule === 'inverse-time' ? -3 : -2)).toEqual(
      control.feedRule === 'inverse-time' ? ['G94', 'M5', 'M30'] : ['M5', 'M30'],
    );
  },
);

test('a pass is named on a line of its own, counted within its stage', () => {
  const job = jobFor(field);
  const written = writeProgram(job, program(job, sample()), { index: 1, of: 1 });
  const lines = written.text.split('\n');
  expect(written.passLines.map((p) => lines[p.line - 1])).toEqual([
    '(stage corners, pass 1 of 2: layer 1 of 1, corner 45; restart 1)',
    '(stage corners, pass 2 of 2: layer 1 of 1, corner 225; restart 2)',
    '(stage finishing, pass 1 of 1: spiral; restart 3)',
  ]);
  expect(lines).toContainEqual(expect.stringMatching(/^\(bit flat-6: .*\)$/));
});

test('between passes the bit lifts to where everything turns clear before it goes aside', () => {
  const job = jobFor(field);
  const low = sample().map((p) => {
    const r = p.moves.r.map((r) => Math.min(r, 29));
    return { ...p, moves: { ...p.moves, r } };
  });
  const blocks = blocksOf(writeProgram(job, program(job, low), { index: 1, of: 1 }).text, job.control);
  const aside = blocks.filter((b) => b.rapid && !b.moved.includes('Z'));
  expect(aside.length).toBeGreaterThanOrEqual(3);
  for (const b of aside) expect(b.radial).toBeGreaterThanOrEqual(job.safeRadius);
});

test('inverse time says F on every line, even where it is the same as before', () => {
  // NISTIR 6556 §3.5.19: a line with G1 in force and no F is an error.
  const job = jobFor(field);
  const rows = [[RAPID, 0, 32, 0], ...[1, 2, 3, 4].map((k) => [CUT, 10 * k, 28, 0, 600]), [RAPID, 40, 32, 0]];
  const cuts = blocksOf(
    writeProgram(job, program(job, [passOf('roughing', 'even', rows)]), { index: 1, of: 1 }).text,
    job.control,
  ).filter((b) => !b.rapid);
  expect(cuts.slice(1).map((b) => b.feed)).toEqual([60, 60, 60]);
  expect(cuts.every((b) => b.feedHere)).toBe(true);
});

test('a rapid that rises goes up first and then aside, one that falls goes aside first and then down', () => {
  const job = jobFor(field);
  const pass = passOf('roughing', 'hop', [
    [RAPID, 0, 32, 0],
    [CUT, 0, 25, 0, 600],
    [RAPID, 50, 33, 1],
    [RAPID, 80, 30, 2],
    [CUT, 80, 26, 2, 600],
    [RAPID, 80, 32, 2],
  ]);
  const blocks = blocksOf(writeProgram(job, program(job, [pass]), { index: 1, of: 1 }).text, job.control);
  const k = blocks.findIndex((b) => !b.rapid);
  expect(blocks.slice(k + 1, k + 5).map((b) => [b.moved, b.axial, b.radial])).toEqual([
    ['Z', 0, 33],
    ['XA', 50, 33],
    ['XA', 80, 33],
    ['Z', 80, 30],
  ]);
});

test('words that do not change are left out, and so are blocks too short to change any', () => {
  const job = jobFor(field);
  const rows = [
    [RAPID, 0, 32, 0],
    [CUT, 0, 20, 0, 500],
    ...Array.from({ length: 100 }, (_, i) => [CUT, (i + 1) * 1e-4, 20, 0, 600]),
    [RAPID, 0.01, 32, 0],
  ];
  const written = writeProgram(job, program(job, [passOf('roughing', 'creep', rows)]), { index: 1, of: 1 });
  const cuts = blocksOf(written.text, job.control).filter((b) => !b.rapid && b.moved === 'X');
  expect(cuts.length).toBeLessThanOrEqual(11);
  expect(cuts.length).toBeGreaterThan(5);
  // Nothing of the way's time is lost, though each block now waits for the control's reading speed.
  const taken = cuts.reduce((t, b) => t + 60 / b.feed, 0);
  expect(taken).toBeGreaterThanOrEqual(0.01 / 10 - 1e-9);
});

test('a control with short numbers never reads a large rotary word, and the count starts again lifted at a whole turn', () => {
  const job = jobFor(field, { control: 'four-axis-short-numbers' });
  const written = writeProgram(job, program(job, sample(200)), { index: 1, of: 1 });
  const lines = readLines(written.text);
  const blocks = readBlocks(lines, lettersOf(job.control));
  for (const b of blocks.slice(1)) expect(Math.abs(b.rotaryWord)).toBeLessThanOrEqual(16384);
  const again = lines.filter((l) => l.g.includes(92));
  expect(again).toHaveLength(4);
  for (const line of again) {
    expect([...line.words.keys()]).toEqual(['A']);
    const k = blocks.findIndex((b) => b.line > line.number);
    const [before, lifted, back] = [blocks[k - 2]!, blocks[k - 1]!, blocks[k]!];
    expect(lifted.radial).toBeGreaterThanOrEqual(job.safeRadius);
    expect(lifted.moved).toBe('Z');
    expect([back.axial, back.radial]).toEqual([before.axial, before.radial]);
    expect(back.rotary).toBeCloseTo(before.rotary, 6);
    expect(before.rotary % 360).toBeCloseTo(0, 6);
  }
  const end = lines
    .filter((l) => l.text)
    .slice(-3)
    .map((l) => l.text);
  expect(end).toEqual(['M5', 'G92.1', 'M30']);
  expect(written.problems).toEqual([]);
  // The same spiral on the work as a control without that need gets.
  const plain = jobFor(field);
  const long = blocksOf(writeProgram(plain, program(plain, sample(200)), { index: 1, of: 1 }).text, plain.control);
  expect(Math.max(...blocks.slice(1).map((b) => b.rotary))).toBeCloseTo(
    Math.max(...long.slice(1).map((b) => b.rotary)),
    6,
  );
  for (const b of blocks.filter((b) => !b.rapid && b.rotary > 900 && b.rotary < 202 * 360 && b.radial < 21))
    expect(b.axial).toBeCloseTo((100 * (b.rotary / 360 - 2.5)) / 200, 2);
});

test('a long count carried by many passes starts again between them', () => {
  const job = jobFor(field, { control: 'four-axis-short-numbers' });
  const pass = (k: number) =>
    passOf('roughing', `layer ${k}`, [
      [RAPID, 0, 32, k * 20 * TURN],
      [CUT, 0, 28, k * 20 * TURN + 1, 500],
      [CUT, 100, 28, (k + 1) * 20 * TURN, 2000],
      [RAPID, 100, 32, (k + 1) * 20 * TURN],
    ]);
  const written = writeProgram(job, program(job, [0, 1, 2, 3, 4].map(pass)), { index: 1, of: 1 });
  const lines = readLines(written.text);
  const blocks = readBlocks(lines, lettersOf(job.control));
  for (const b of blocks.slice(1)) expect(Math.abs(b.rotaryWord)).toBeLessThanOrEqual(16384);
  expect(Math.max(...blocks.slice(1).map((b) => b.rotary))).toBeCloseTo(36000, 6);
  // No cut was broken for it: a lift inside the wood costs a mark.
  expect(blocks.filter((b) => !b.rapid)).toHaveLength(10);
  expect(lines.filter((l) => l.g.includes(92)).length).toBeGreaterThanOrEqual(2);
});

test('a control that cannot start its count again gets one long count and a problem that says so', () => {
  const base = jobFor(field, { control: 'four-axis-short-numbers' });
  const job = { ...base, control: { ...base.control, canRezero: false } };
  const written = writeProgram(job, program(job, sample(200)), { index: 1, of: 1 });
  expect(written.text).not.toMatch(/G92/);
  expect(written.problems.map((p) => p.code)).toEqual(['rotary-precision']);
  expect(written.problems[0]!.message).toContain('73440');
});

test('a linear rotary word under inches counts on exactly over its new starts', () => {
  const base = jobFor(field, { control: 'y-output-inch' });
  const control: Control = { ...base.control, significandBits: 24 };
  const job = { ...base, control };
  const written = writeProgram(job, program(job, sample(200)), { index: 1, of: 1 });
  const blocks = blocksOf(written.text, control);
  expect(written.text).toMatch(/G92 Y/);
  const end = placeOf(control, blocks.at(-1)!);
  expect(end.theta / TURN).toBeCloseTo(204, 4);
});

test('one file for all bits stops for each change with the spindle off and finds its place again', () => {
  const job = jobFor(field, { control: 'four-axis-one-file' });
  const programs: PlannedProgram[] = [
    { tool: job.tools.roughing, passes: sample().slice(0, 2) },
    { tool: job.tools.finishing, passes: sample().slice(2) },
  ];
  const written = writePrograms(job, programs);
  expect(written).toHaveLength(1);
  const text = written[0]!.text;
  expect(text).toMatch(/M5\nT2\n\(bit ball-6: .*\)\n\(.*\)\nM6\nM0\nG0 Z[\d.]+\nS\d+ M3\nG4 P2\n/);
  // Nobody waits for the turns of the first bit to be wound back.
  expect(text).toMatch(/\nG92 A0\n(G94\n)?M5\nT2\n/);
  const after = text.slice(text.indexOf('\nM0\n'));
  expect(after).toMatch(/\(stage finishing.*\)\nX0 A360\n/);
  expect(readLines(text).flatMap((l) => l.m)).toEqual([3, 5, 6, 0, 3, 5, 30]);
  expect(written[0]!.sections.map((s) => s.tool.bit.id)).toEqual(['flat-6', 'ball-6']);
  const lines = text.split('\n');
  expect(written[0]!.sections.map((s) => lines[s.line - 1])).toEqual(['T1', 'T2']);
});

test('one file a bit otherwise, each said to be one of how many', () => {
  const job = jobFor(field);
  const written = writePrograms(job, [program(job, sample()), { tool: job.tools.finishing, passes: sample() }]);
  expect(written.map((w) => w.text.split('\n')[0])).toEqual([
    '(Boathouse peg: program 1 of 2)',
    '(Boathouse peg: program 2 of 2)',
  ]);
  expect(writePrograms(job, [])).toEqual([]);
});

test('the head names blank, zeros, sense, extents, time and cautions', () => {
  const job = jobFor(field);
  const text = writeProgram(job, program(job, sample()), { index: 1, of: 1 }).text;
  expect(text).toContain('(extents: X-5 to X105, Z20.001 to Z51.5, A45 to A2880)');
  expect(text).toMatch(/\(blank: square 43 x 43 mm, corners at 30\.41 mm from the centre, 145 mm long/);
  expect(text).toMatch(/\(zero: X0 is the form's face at the chuck, Z0 the rotary centre/);
  expect(text).toMatch(/turn the top of the blank away from/);
  expect(text).toMatch(/\(caution: run it in air above the work first/);
  expect(text).toMatch(/\(note: ends a whole number of turns on, a flat up: set A to 0 there/);
  expect(text).toMatch(/\nG21 G90 G17 G40 G49 G54 G80 G94\nG0 Z/);
  const base = jobFor(field, { control: 'four-axis-along-y' });
  expect(writeProgram(base, program(base, sample()), { index: 1, of: 1 }).text).toMatch(
    /turn the top of the blank towards/,
  );
});

test('the same job gives the same bytes', () => {
  const text = () => {
    const job = jobFor(field);
    return writeProgram(job, program(job, sample()), { index: 1, of: 1 }).text;
  };
  expect(text()).toBe(text());
});

test('a cut without feed and a program without passes are a planner’s fault', () => {
  const job = jobFor(field);
  const bad = passOf('roughing', 'still', [
    [RAPID, 0, 32, 0],
    [CUT, 10, 28, 0, 0],
  ]);
  expect(() => writeProgram(job, program(job, [bad]), { index: 1, of: 1 })).toThrow(/without feed/);
  expect(() => writeProgram(job, program(job, []), { index: 1, of: 1 })).toThrow(/without passes/);
});

test('the bit stands clear of the chuck as well where the bench has the room', () => {
  const job = jobFor(field);
  expect(clearRadius(job, [job.tools.roughing])).toBe(51.5);
  const low = { ...job, bench: { ...job.bench, roomAbove: 80 } };
  expect(clearRadius(low, [job.tools.roughing])).toBe(job.safeRadius);
});
