/** What the setup sheet tells: zeros, rotary outputs, runs and stops, in the letters of the control, with what a build gives. */
import { beforeAll, describe, expect, test } from 'vitest';
import type { Built } from '../../src/build.ts';
import { fitting, linesLeft, linesOf, shortened } from '../../src/cam/sheet/room.ts';
import { buildRaw, refusals } from '../support/built.ts';

const peg = {
  name: 'Peg',
  form: [{ element: 'cylinder', length: 16, start: 14 }],
  blank: { section: 'square', width: 20 },
  plan: { scallop: 0.2, necking: false },
};
const sheetOf = (built: Built) =>
  String([...built.files].find(([f]) => f.endsWith('.sheet.html'))![1])
    .replace(/<style>[\s\S]*<\/style>/, '')
    .replace(/&nbsp;/g, ' ')
    .replace(/<[^>]*>/g, ' ')
    .replace(/\s+/g, ' ');
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
    expect(text).toMatch(/Acceleration 416.67 mm\/s²/);
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
      checks: ['one'],
      lists: [['two']],
    };
    const more = { ...filled, programs: Array.from({ length: 4 }, () => filled.programs[0]!) };
    expect(linesLeft(filled) - linesLeft(more)).toBeCloseTo(3 * 2.4, 9);
    expect(fitting(['a', 'b'.repeat(500), 'c'], 3)).toEqual(['a', 'c']);
  });
});
