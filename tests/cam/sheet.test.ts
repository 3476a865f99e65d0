/** What the setup sheet tells: zeros, rotary outputs, runs and stops, in the letters of the control, with what a build gives. */
import { beforeAll, describe, expect, test } from 'vitest';
import type { Built } from '../../src/build.ts';
import { fitting, linesLeft, linesOf, shortened } from '../../src/cam/sheet/room.ts';
import { touchPlace } from '../../src/cam/sheet/touch.ts';
import { checkPart } from '../../src/part.ts';
import { resolvePart } from '../../src/resolve.ts';
import { buildRaw, refusals } from '../support/built.ts';
import { readBlocks, readLines } from '../support/program-reader.ts';

const peg = {
  name: 'Peg',
  form: [{ element: 'cylinder', length: 16, start: 14 }],
  blank: { section: 'square', width: 20 },
  plan: { scallop: 0.2, necking: false },
};
const stout = { ...peg, blank: { section: 'square', width: 34 } };
const sheetOf = (built: Built) =>
  String([...built.files].find(([f]) => f.endsWith('.sheet.html'))![1])
    .replace(/<style>[\s\S]*<\/style>/, '')
    .replace(/&nbsp;/g, ' ')
    .replace(/<[^>]*>/g, ' ')
    .replace(/\s+/g, ' ');
function resolveRaw(raw: Record<string, unknown>) {
  const checked = checkPart(raw);
  if (!('part' in checked)) throw new Error(JSON.stringify(checked.problems));
  const { job, problems } = resolvePart(checked.part);
  if (!job) throw new Error(JSON.stringify(problems));
  return job;
}
async function sheet(raw: Record<string, unknown>): Promise<{ built: Built; text: string }> {
  const built = await buildRaw({ ...peg, ...raw }, { solid: 'none' });
  expect(refusals(built)).toEqual([]);
  return { built, text: sheetOf(built) };
}

describe('with the rotary on the Y output', () => {
  let built: Built;
  let text: string;
  beforeAll(async () => {
    ({ built, text } = await sheet({ control: 'y-output-turn-100' }));
  });

  test('the plugs are changed with the power off, both of an axis with two motors, and the head stays clamped', () => {
    const order = [
      'clamp it',
      'Power off',
      'both if Y has two',
      'Power on',
      'Write down',
      'Turn test',
      'Afterwards: power off',
    ];
    const places = order.map((words) => text.indexOf(words));
    expect(
      places.every((p) => p >= 0),
      JSON.stringify(places),
    ).toBe(true);
    expect(places).toEqual([...places].sort((a, b) => a - b));
    expect(text).toContain('Never home Y');
  });

  test('steps, rate and acceleration are told with where they come from, what was there, and that it is put back', () => {
    // 200 × 16 × 6 = 19,200 steps a turn over 100 mm; 60 turns a minute; 1500°/s².
    expect(text).toMatch(/Steps a mm 192 200 steps × 16 micro × 6 ÷ 100 mm a turn/);
    expect(text).toMatch(/Fastest rate 6,000 mm\/min 60 turns a minute: 19,200 steps a second/);
    expect(text).toContain('Acceleration 416.67 mm/s² 1500°/s² of the chuck × 100 ÷ 360');
    expect(text).toContain('Proven: nothing gouged (0.03 mm would be allowed)');
    expect(text).toMatch(/Output Y set because was back/);
    // 192 × 360 ÷ 355.
    expect(text).toContain('100 in Y is one turn. If it goes 355° only: steps × 360 ÷ 355 = 194.70423.');
  });

  test('soft limits are off because the turns add up to what the programs really say', () => {
    const most = Math.max(...built.programs.map((p) => p.written.extents.rotary[1]));
    expect(most).toBeGreaterThan(100);
    const told = /Soft limits off turns add up: Y runs from ([\d.,-]+) to ([\d.,]+)/.exec(text)!;
    expect(Number(told[2]!.replace(/,/g, ''))).toBeCloseTo(most, 1);
  });
});

test('on a machine whose rotary lies along Y the head is brought over the centre in X, and the top comes to you', async () => {
  const { text } = await sheet({ control: 'four-axis-along-y' });
  expect(text).toContain('go half-way in X and stay');
  expect(text).toContain('jog B by +90: the top must go towards you');
  expect(text).toMatch(/Output B set because was(?! back)/);
});

test.each([
  ['four-axis-inverse-time', 0.1, 'Z', '0.1 mm (bit higher)'],
  ['y-output-inch', -0.254, 'Z', '-0.01 inch (bit lower)'],
])('a corrected part on %s is told where its zero is set', async (control, radial, letter, by) => {
  const { text } = await sheet({ control, trim: { radial } });
  const told = `Corrected by readings: the programs move every ${letter} word by ${by}; set ${letter}0 as before.`;
  expect(text).toContain(told);
  expect(text.indexOf(told)).toBeGreaterThan(text.indexOf(`${letter}0, the rotary centre`));
  expect(text.indexOf(told)).toBeLessThan(text.indexOf('To find them again'));
});

test('a short thick part gives less than anybody measures, and a part without readings has no correction', async () => {
  const { built, text } = await sheet({});
  expect(built.strength!.worstDeflection).toBeLessThan(0.01);
  expect(text).toContain('Under the bit the part gives less than 0.01 mm, with');
  expect(text).not.toContain('Corrected by readings');
});

test('a round end for the jaws and a run of parts are told before the pencil line', async () => {
  const { text } = await sheet({ holding: { tenon: { diameter: 16 } }, price: { parts: 6 } });
  expect(text).toContain('Cut list: 6 × Sugar (hard) maple, square, 20 mm');
  expect(text.indexOf('First turn a round end on the chuck end, ø 16 mm')).toBeGreaterThan(0);
  expect(text.indexOf('First turn')).toBeLessThan(text.indexOf('Pencil a line all round'));
});

test('a guard has the local-code note, also where only its name says that it is one', async () => {
  expect((await sheet({ guard: true })).text).toContain('check the local building code');
  expect((await sheet({})).text).not.toContain('building code');
});

describe('the next bits', () => {
  test('touch the stock where no program of the text comes near it, and the first bit’s reading is typed again', async () => {
    const { built, text } = await sheet({ ...stout, control: 'y-output-turn-100' });
    const told =
      /with the first touch the stock’s top at X(-?[\d.]+) \(([\d.]+) mm from the jaws, never cut\), note Z/.exec(
        text,
      )!;
    const x = Number(told[1]);
    const { holding, blank } = built.job!;
    expect(Number(told[2])).toBeCloseTo(x + holding.chuckStub, 6);
    expect(x).toBeGreaterThan(-holding.chuckStub);
    expect(text).toContain(
      'With each next turn Y to whole turns (0, 100 …), first flat up, type Y0; touch there, type that Z.',
    );
    expect(text).not.toContain('Anew for every bit');
    let near = Infinity;
    for (const { written, tools } of built.programs)
      for (const b of readBlocks(readLines(written.text), { axial: 'X', radial: 'Z', rotary: 'Y' }))
        if (b.radial < Math.hypot(blank.width, blank.height) / 2)
          near = Math.min(near, b.axial - tools[0]!.bit.diameter / 2 - x);
    expect(near).toBeGreaterThan(0.5);
    expect(near).toBeLessThan(20);
  });

  test('have a block on the bed where no place of the stock is left for the holder beside the chuck', async () => {
    // 10 mm of height and 40 of stick-out: the holder comes down into a chuck of 50 mm radius.
    const { built, text } = await sheet({});
    expect(
      touchPlace(
        built.job!,
        built.programs.flatMap((p) => p.tools),
      ),
    ).toBeUndefined();
    expect(text).toContain('Clamp a block on the bed');
    expect(text).not.toContain('never cut');
  });

  test('stand on a kept length of the form as well, but not where it is drilled', () => {
    const job = (carvings: object[]) =>
      resolveRaw({
        name: 'Post',
        form: [
          { element: 'pommel', length: 60 },
          { element: 'cylinder', length: 30, start: 20 },
        ],
        carvings,
        blank: { section: 'square', width: 34 },
      });
    const plainPost = job([]);
    const tools = [plainPost.tools.roughing, plainPost.tools.finishing];
    const x = touchPlace(plainPost, tools)!;
    expect(x).toBeGreaterThan(0);
    expect(x).toBeLessThan(60);
    const holed = job([{ carving: 'holes', over: [0, 0], count: 4, diameter: 8, depth: 6 }]);
    const beside = touchPlace(holed, tools)!;
    expect(Math.abs(x - 30)).toBeLessThan(4);
    expect(Math.abs(beside - 30)).toBeGreaterThan(5);
  });

  test('are not spoken of where one bit does all', async () => {
    const { text } = await sheet({ ...stout, bits: { roughing: 'flat-6', finishing: 'flat-6' } });
    expect(text).not.toContain('The next bits');
  });
});

describe('in air', () => {
  test('the lift takes the lowest point of every program over the corners, with air between', async () => {
    const { built, text } = await sheet(stout);
    const lift = Number(/type for Z what it reads less ([\d.]+); to cut/.exec(text)![1]);
    const corner = 17 * Math.SQRT2;
    const lowest = Math.min(...built.programs.flatMap((p) => [...p.written.extents.radial]));
    expect(lowest + lift).toBeGreaterThanOrEqual(corner + 1);
    expect(lowest + lift).toBeLessThan(corner + 5);
    expect(text).toContain(`to cut, what it reads plus ${lift}.`);
    expect(text).toContain('turn test and air run done, Z0 put back, a hand on the stop');
  });

  test('a bench without that room runs them with the chuck empty', async () => {
    const { bench } = resolveRaw(stout);
    const most = Math.max(bench.chuck.diameter / 2, 0) + 60;
    const { text } = await sheet({ ...stout, bench: { ...bench, roomAbove: most } });
    expect(text).toContain('this bench has no room for that');
    expect(text).toContain('chuck empty, tailstock back');
    expect(text).not.toContain('what it reads less');
  });
});

describe('room', () => {
  test('a text takes the lines that its words need, and gives way at a word', () => {
    expect(linesOf('one\n\ntwo')).toBe(3);
    expect(linesOf('x'.repeat(97))).toBe(2);
    const long = 'word '.repeat(60).trim();
    expect(linesOf(shortened(long, 2))).toBe(2);
    expect(shortened(long, 2)).toMatch(/word …$/);
    expect(shortened('short', 2)).toBe('short');
    expect(shortened('short', 0.9)).toBe('');
  });

  test('more programs leave less of it, and what does not fit is left out in order', () => {
    const filled = {
      bitRows: 1,
      firstRuns: 2,
      programs: [{ file: 'a.nc', line: 'finishing' }],
      told: ['in air'],
      checks: ['one'],
      lists: [['two']],
    };
    const more = { ...filled, programs: Array.from({ length: 4 }, () => filled.programs[0]!) };
    expect(linesLeft(filled) - linesLeft(more)).toBeCloseTo(3 * 2.4, 9);
    expect(fitting(['a', 'b'.repeat(500), 'c'], 3)).toEqual(['a', 'c']);
  });
});
