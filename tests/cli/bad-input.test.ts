import { afterAll, describe, expect, test } from 'vitest';
import { cavetto, scratch } from '../support/command.ts';

const at = scratch();
afterAll(() => at.remove());

const rod = { element: 'cylinder', length: 60, start: 30 };
const form = [rod];

/** name, document, exit code, the line that is printed */
const bad: [string, unknown, number, RegExp][] = [
  ['not JSON', '{ "form": [ }', 2, /^document: this is not JSON: line 1, column 13: a value was expected/],
  ['an empty file', '', 2, /^document: this is not JSON: line 1, column 1/],
  ['an unknown key', { form, colour: 'red' }, 2, /^colour: the key "colour" is not known here/],
  ['wrong units', { form, units: 'cubits' }, 2, /^units: "cubits" is not known \(one of mm, inch/],
  ['a negative length', { form: [{ ...rod, length: -60 }] }, 2, /^form\[0\]\.length: -60 mm is too small/],
  ['NaN', '{ "form": [{ "element": "cylinder", "length": NaN }] }', 2, /column 47: "NaN" is not a value/],
  [
    'a number without end',
    '{ "form": [{ "element": "cylinder", "length": 1e400 }] }',
    2,
    /^form\[0\]\.length: Infinity is no finite number/,
  ],
  ['elements longer than the part', { length: 50, form }, 2, /^length: the elements add up to 60 mm, 10 mm more/],
  [
    'a carving deeper than the form',
    { form, carvings: [{ carving: 'flutes', count: 3, depth: 20 }] },
    2,
    /^carvings\[0\](\.depth)?: /,
  ],
  ['a blank too small', { form, blank: { width: 28 } }, 2, /^form\[0\]: the cylinder stands 1\.00 mm out of the blank/],
  ['an unknown bench', { form, bench: 'shed' }, 2, /^bench: no bench is called "shed" \(one of small, middle, long/],
  [
    'an unknown wood',
    { form, blank: { material: 'oak' } },
    2,
    /\(did you mean "white-oak" or "red-oak" or "bur-oak"\?\)$/,
  ],
  ['a name of spaces', { form, name: '   ' }, 2, /^name: has nothing but spaces in it \(/],
  ['an empty name', { form, name: '' }, 2, /^name: has 0 characters \(at least 1; /],
  ['a list', [1, 2], 2, /^document: a part document is a group in braces/],
  [
    'a blank longer than the bench',
    { form: [{ ...rod, length: 900 }], bench: 'middle' },
    3,
    /blank: \d+(\.\d)? mm stand between chuck and centre \(.*\), the bench takes 620 mm/,
  ],
  [
    'a blank too thick for the bench',
    { form, blank: { width: 110 }, bench: 'middle' },
    3,
    /blank: the blank's corners turn through 155\.6 mm, the bench swings 150 mm/,
  ],
];

describe.concurrent.each(bad)('%s', (name, document, code, line) => {
  const file = at.file(`${name.replace(/\W+/g, '-')}.part.json`, document);
  const out = `${at.dir}/out`;

  test('is one clear line, the right code, no program, no stack trace', async () => {
    const ran = await cavetto(['make', file, '--out', out, '--quiet']);
    expect(ran.code, ran.err).toBe(code);
    const lines = ran.err.trimEnd().split('\n');
    expect(lines.filter((l) => line.test(l)).length, ran.err).toBe(1);
    if (code === 2) expect(lines).toHaveLength(1);
    expect(ran.err + ran.out).not.toMatch(/\n\s+at |node:internal|\.ts:\d/);
    expect(at.all().filter((f) => f.endsWith('.nc'))).toEqual([]);
  });
});

const NO_FOLDER = /^option '--out <DIR>' argument ' ?' is invalid\. the name of a folder is wanted[^\n]*\n$/;

describe.concurrent('what is no document at all', () => {
  test.each([
    ['a file that is not there', ['make', `${at.dir}/none.part.json`, '--out', at.dir], /there is no such file/],
    ['a folder', ['check', at.dir], /this is a folder/],
    ['no output folder', ['make', 'templates/drawer-knob.part.json'], /required option '--out <DIR>' not specified/],
    ['an output folder without a name', ['make', 'templates/drawer-knob.part.json', '--out', ''], NO_FOLDER],
    ['one of spaces', ['make', 'templates/drawer-knob.part.json', '--out', ' ', '--quiet'], NO_FOLDER],
    ['none for a line', ['batch', 'templates/drawer-knob.part.json', '--table', 'x.csv', '--out', ''], NO_FOLDER],
    ['none for a match', ['match', 'templates/drawer-knob.part.json', '--readings', 'x.csv', '--out='], NO_FOLDER],
    ['an unknown command', ['mkae', 'x'], /unknown command 'mkae'/],
    ['an unknown option', ['templates', '--fast'], /unknown option '--fast'/],
    [
      'an unknown template',
      ['templates', 'drawer-nob'],
      /there is no template "drawer-nob" \(did you mean drawer-knob\?\)/,
    ],
  ])('%s', async (_what, args, line) => {
    const ran = await cavetto(args);
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(line);
    expect(ran.err).not.toMatch(/\n\s+at /);
    expect(ran.out).toBe('');
  });

  test('bytes that are no text', async () => {
    const file = at.file('bytes.part.json', '');
    const { writeFileSync } = await import('node:fs');
    writeFileSync(file, Buffer.from([0xff, 0xfe, 0x00, 0xd8]));
    const ran = await cavetto(['check', file]);
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toMatch(/it is not a text in UTF-8/);
  });

  test('with --json the problems are data', async () => {
    const file = at.file('json.part.json', { form: [{ ...rod, length: -60 }] });
    const ran = await cavetto(['make', file, '--out', `${at.dir}/out`, '--json', '--quiet']);
    expect(ran.code).toBe(2);
    expect(ran.err).toBe('');
    const said = JSON.parse(ran.out);
    expect(said).toMatchObject({ verdict: 'invalid', exit: 2 });
    expect(said.problems).toEqual([
      expect.objectContaining({ code: 'out-of-limits', severity: 'refuse', path: 'form[0].length' }),
    ]);
  });
});
