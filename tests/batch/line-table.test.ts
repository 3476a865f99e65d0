import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { problemLine } from '../../shared/problems.ts';
import type { Variant } from '../../src/batch/line.ts';
import { readLine, type TableOptions } from '../../src/batch/line-table.ts';
import { readTableText } from '../../src/batch/line-text.ts';
import { resolvePart } from '../../src/resolve.ts';
import { twistedPeg } from '../support/small-parts.ts';

const peg = {
  ...twistedPeg,
  knobs: [
    { id: 'length', label: 'length', sets: ['length'], min: 30, max: 60, step: 5 },
    { id: 'flutes', label: 'flutes', sets: ['carvings[0].count'], min: 8, max: 12 },
    { id: 'hand', label: 'hand', sets: ['carvings[1].hand'] },
    { id: 'point', label: 'tailstock', sets: ['holding.tailstock'] },
    { id: 'wood', label: 'wood', sets: ['blank.material'], choices: ['sugar-maple', 'white-oak'] },
  ],
};
const line = (text: string, options?: TableOptions, raw: object = peg): Variant[] => {
  const result = readLine(raw, text, options);
  if ('problems' in result) throw new Error(result.problems.map(problemLine).join('\n'));
  return result.variants;
};
const said = (text: string): string[] => {
  const result = readLine(peg, text);
  return 'said' in result ? result.said : result.problems.map(problemLine);
};
const wrong = (text: string, options?: TableOptions, raw: object = peg): string[] => {
  const result = readLine(raw, text, options);
  return 'problems' in result ? result.problems.map(problemLine) : [];
};

describe('a table of variants', () => {
  test('has a row a variant: name, quantity, knobs, places, material, blank', () => {
    const variants = line(
      [
        'name,quantity,length,flutes,blank,carvings[1].turns,wood,notes',
        'Short peg,40,35,9,round 22,0.2,white-oak,"Sand, then oil"',
        'Long peg,12,55.5,,square 21,,,',
        'As it is,,,,,,,',
      ].join('\n'),
    );
    expect(variants.map(({ name, slug, quantity, row }) => ({ name, slug, quantity, row }))).toEqual([
      { name: 'Short peg', slug: 'short-peg', quantity: 40, row: 2 },
      { name: 'Long peg', slug: 'long-peg', quantity: 12, row: 3 },
      { name: 'As it is', slug: 'as-it-is', quantity: 1, row: 4 },
    ]);
    const [short, long, same] = variants.map((v) => v.part);
    expect(short).toMatchObject({
      name: 'Short peg',
      length: 35,
      blank: { section: 'round', width: 22, material: 'white-oak' },
      notes: 'Sand, then oil',
    });
    expect(short!.carvings).toMatchObject([{ count: 9 }, { turns: 0.2 }]);
    expect(long).toMatchObject({ length: 55.5, blank: { section: 'square', width: 21, material: 'sugar-maple' } });
    expect(same!.carvings).toMatchObject([{ count: 8 }, { turns: 0.1, hand: 'right' }]);
    expect(variants[0]!.knobs).toEqual({ length: 35, flutes: 9, hand: 'right', point: true, wood: 'white-oak' });
  });

  test('sweeps from–to in so many values or by a step, and takes all combinations', () => {
    const variants = line(
      'name,length,flutes,material\nPeg,40 to 60 by 10,8 | 10,sugar-maple | beech\nOne,30 to 31 in 3,,',
    );
    expect(variants).toHaveLength(3 * 2 * 2 + 3);
    expect(variants.slice(0, 4).map((v) => v.name)).toEqual([
      'Peg 40 8 sugar-maple',
      'Peg 40 8 beech',
      'Peg 40 10 sugar-maple',
      'Peg 40 10 beech',
    ]);
    expect(variants.slice(-3).map((v) => [v.part.length, v.row, v.slug])).toEqual([
      [30, 3, 'one-30'],
      [30.5, 3, 'one-30-5'],
      [31, 3, 'one-31'],
    ]);
    expect(new Set(variants.map((v) => v.slug)).size).toBe(variants.length);
    // A step that does not meet the end stops before it; one that falls short by rounding alone reaches it.
    expect(line('name,length\nPeg,30 to 31 by 0.4').map((v) => v.part.length)).toEqual([30, 30.4, 30.8]);
    expect(line('name,carvings[1].turns\nPeg,0 to 0.3 by 0.1').map((v) => v.knobs)).toHaveLength(4);
    expect(line('name,length\nPeg,60 to 40 by -10').map((v) => v.part.length)).toEqual([60, 50, 40]);
  });

  test('makes mirrored pairs in one word', () => {
    const pair = line('name,quantity,hand\nPeg,6,pair');
    expect(pair.map((v) => [v.name, v.quantity, v.knobs.hand])).toEqual([
      ['Peg left', 6, 'left'],
      ['Peg right', 6, 'right'],
    ]);
    // The twins are mirror images: what one has at θ the other has at −θ.
    const [left, right] = pair.map((v) => resolvePart(v.part).job!.field);
    let unlike = 0;
    for (let x = 0; x <= 40; x += 2.5)
      for (let k = 0; k < 24; k++) {
        expect(left!.radius(x, k / 4)).toBeCloseTo(right!.radius(x, -k / 4), 9);
        unlike = Math.max(unlike, Math.abs(left!.radius(x, k / 4) - right!.radius(x, k / 4)));
      }
    expect(unlike).toBeGreaterThan(0.1);
    expect(line('name,carvings[1].hand\nPeg,pair').map((v) => v.slug)).toEqual(['peg-left', 'peg-right']);
  });

  test('of an inch document is in inches', () => {
    const inch = {
      ...peg,
      units: 'inch',
      length: 1.5,
      form: [{ element: 'cylinder', share: 1, start: 0.625 }],
      carvings: [],
      blank: { width: 0.8 },
      knobs: [{ id: 'length', label: 'length', sets: ['length'], min: 1.25, max: 2.25 }],
    };
    const [v] = line('name,length,blank\nPeg,1.75,round 0.9', {}, inch);
    // 25.4 mm to the inch, exact by definition (international yard and pound agreement, 1959).
    expect(v!.part).toMatchObject({ length: 44.45, blank: { section: 'round', width: 22.86 } });
    expect(v!.knobs).toEqual({ length: 1.75 });
    expect(wrong('name,length\nPeg,3', {}, inch)).toEqual([
      'line 2, column 2 (length): 3 is too large (1.25 to 2.25 in)',
    ]);
  });
});

describe('the text of a table', () => {
  test('is RFC 4180: quotes, breaks and separators inside quotes, either line ending', () => {
    // RFC 4180, section 2: rules 5 to 7; quoted cells with breaks count as the lines that they take.
    const text = 'name,notes\r\n"Peg ""A"", left","two\r\nlines"\r\nB,x\r\n';
    expect(readTableText(text)).toMatchObject({
      rows: [
        { line: 2, cells: ['Peg "A", left', 'two\nlines'] },
        { line: 4, cells: ['B', 'x'] },
      ],
    });
    expect(line(text).map((v) => [v.name, v.row])).toEqual([
      ['Peg "A", left', 2],
      ['B', 4],
    ]);
    expect(wrong('name,length\r\n"a\r\nb",x\r\n"c",12.5.1')[0]).toMatch(/^line 4, column 2 /);
  });

  test('comes apart as it was put together, whatever its cells (seed 3)', () => {
    const cell = fc.string({ unit: fc.constantFrom('a', '"', ',', ';', '\n', ' b', '=', 'é'), maxLength: 8 });
    fc.assert(
      fc.property(fc.array(fc.tuple(cell, cell), { minLength: 1, maxLength: 8 }), (rows) => {
        const quoted = (c: string) => `"${c.replaceAll('"', '""')}"`;
        const text = ['x,name', ...rows.map((r) => `${r.map(quoted).join(',')}`)].join('\r\n');
        const wanted = rows.map((r) => r.map((c) => c.trim())).filter((r) => r.some((c) => c !== ''));
        const got = readTableText(text);
        if ('problems' in got) expect(wanted).toEqual([]);
        else expect(got.rows.map((r) => r.cells)).toEqual(wanted);
      }),
      { seed: 3, numRuns: 300 },
    );
  });

  test('semicolons, tabs, byte-order mark and decimal commas are recognised and said', () => {
    expect(said('name,length\nPeg,37.5\n')).toEqual([]);
    expect(said('\uFEFFname;length\nPeg;37,5\n')).toEqual([
      'It begins with a byte-order mark, which was left out.',
      'Its columns are separated by semicolons.',
      'Its numbers have decimal commas (line 2, column 2 (length): 37,5).',
    ]);
    expect(line('name;length\nPeg;37,5\n')[0]!.part.length).toBe(37.5);
    expect(line('name\tlength\nPeg\t37.5\n')[0]!.part.length).toBe(37.5);
    expect(line('name,length\nPeg,"37,5"\n')[0]!.part.length).toBe(37.5);
    expect(line('name;length\nPeg;37,5 to 40,5 in 3')[1]!.part.length).toBe(39);
    // One number that can only be a decimal settles those that could be either.
    expect(line('name;length\nPeg;37,125\nB;38,5\n')[0]!.part.length).toBe(37.125);
  });

  test('what is open is refused, with the words that settle it', () => {
    expect(wrong('name;length,x\nPeg;3')).toEqual([
      'line 1: the header has both commas and semicolons, either could separate the columns (say which: --separator comma or --separator semicolon)',
    ]);
    expect(wrong('name;length\nPeg;37,125')).toEqual([
      'line 2, column 2 (length): "37,125" may be a decimal or thousands (say --decimal comma, or write thousands without a mark)',
    ]);
    expect(wrong('name;length\nPeg;37.125')[0]).toMatch(/say --decimal point/);
    expect(line('name;length\nPeg;37,125', { decimal: 'comma' })[0]!.part.length).toBe(37.125);
    expect(line('name;length\nPeg;37.125', { decimal: 'point' })[0]!.part.length).toBe(37.125);
    expect(wrong('name;length\nPeg;37,5\nB;38.5')[0]).toMatch(/"37,5" has a comma, "38\.5" in line 3 a point/);
    expect(wrong('name;quantity\nPeg;1.000,0')[0]).toMatch(/has more than one mark/);
    expect(wrong('name;length\nPeg;37,5', { decimal: 'point' })[0]).toMatch(/"37,5" has no decimal point/);
    expect(wrong('name,blank;x\nPeg,round 22', { separator: 'comma' })[0]).toMatch(
      /column 2: the column "blank;x" is not known/,
    );
  });
});

describe('what is wrong with a table is said with its line and column', () => {
  test.each<[string, string, string | RegExp]>([
    ['an empty file', '', 'line 1: the table is empty (a header, then a line for each variant)'],
    ['a header alone', 'name,length\n', /^line 1: no line follows the header/],
    ['no name', 'length\n35', /^line 1: no column is called "name"/],
    [
      'an unknown column',
      'name,lenght\nPeg,35',
      'line 1, column 2: the column "lenght" is not known (did you mean "length"?)',
    ],
    [
      'a column of another document',
      'name,form[7].start\nPeg,35',
      /^line 1, column 2: the column "form\[7\]\.start" is not known/,
    ],
    [
      'a way out of the document',
      'name,__proto__.x\nPeg,35',
      /^line 1, column 2: the column "__proto__\.x" is not known/,
    ],
    ['the units', 'name,units\nPeg,inch', /^line 1, column 2: the column "units" is not known/],
    ['a column without a name', 'name,,length\nPeg,,35', /^line 1, column 2: the column has no name/],
    [
      'a column twice',
      'name,Length,length\nPeg,35,35',
      /^line 1, column 3: "length" sets what column 2 \(length\) sets already/,
    ],
    ['a place twice', 'name,flutes,carvings[0].count\nPeg,9,9', /^line 1, column 3: .* sets what column 2 \(flutes\)/],
    ['two ways to a blank', 'name,blank,blank.width\nPeg,round 22,22', /^line 1, column 3: .* column 2 \(blank\)/],
    [
      'a row too short',
      'name,length\nPeg',
      'line 2: there are 1 cells, the header has 2 (commas between cells, and cells in quotes that have one inside)',
    ],
    ['an open quote', 'name,length\n"Peg,35', /^line 2, column 1: a quoted cell begins here and never ends/],
    ['a quote that goes on', 'name,length\n"Peg"x,35', /^line 2, column \d: a quoted cell goes on/],
    ['a bell in a name', 'name\nP\u0007eg', /^line 2, column 1: a control character/],
    ['a text for a number', 'name,length\nPeg,long', 'line 2, column 2 (length): "long" is no number (30 to 60 mm)'],
    ['a number beyond the knob', 'name,length\nPeg,61', 'line 2, column 2 (length): 61 is too large (30 to 60 mm)'],
    [
      'half a flute',
      'name,flutes\nPeg,8.5',
      'line 2, column 2 (flutes): "8.5" is not whole (a whole number from 8 to 12)',
    ],
    ['an exponent', 'name,length\nPeg,4e1', /"4e1" is no number/],
    ['a formula for a number', 'name,length\nPeg,=35+1', /^line 2, column 2 \(length\): "=35\+1" is no number/],
    ['no pieces', 'name,quantity\nPeg,0', /^line 2, column 2 \(quantity\): "0" is no quantity/],
    ['half a piece', 'name,quantity\nPeg,1.5', /"1\.5" is no quantity/],
    [
      'a slip of the wood',
      'name,wood\nPeg,sugar-mapel',
      /^line 2, column 2 \(wood\): "sugar-mapel" is not known \(did you mean "sugar-maple"/,
    ],
    [
      'a wood that the knob does not offer',
      'name,wood\nPeg,teak',
      /"teak" is not known \(one of sugar-maple, white-oak\)/,
    ],
    [
      'an unknown material',
      'name,material\nPeg,cheese',
      /^line 2, column 2 \(blank\.material\): "cheese" is not known/,
    ],
    ['a pair of woods', 'name,wood\nPeg,pair', /"pair" is not known/],
    ['neither yes nor no', 'name,point\nPeg,perhaps', /"perhaps" is neither yes nor no/],
    ['an unknown blank', 'name,blank\nPeg,triangle 30', /^line 2, column 2 \(blank\): "triangle 30" is no blank/],
    ['a polygon without flats', 'name,blank\nPeg,polygon 24', /^line 2, column 2 \(blank\): blank\.sides: is missing/],
    [
      'a blank too small',
      'name,blank\nFine,square 21\nPeg,round 15',
      /^line 3, column 2 \(blank\): form\[0\]: the cylinder stands 0\.50 mm out of the blank/,
    ],
    [
      'a place beyond its limits',
      'name,blank.width\nPeg,900',
      /^line 2, column 2 \(blank\.width\): 900 is too large \(3 to 600 mm\)/,
    ],
    ['a carving too deep', 'name,carvings[0].depth\nPeg,30', /^line 2, column 2 \(carvings\[0\]\.depth\): /],
    ['a sweep that leads nowhere', 'name,length\nPeg,30 to 40 by -5', /steps of -5 do not lead from 30 to 40/],
    ['a sweep of one', 'name,length\nPeg,30 to 40 in 1', /a sweep in 1 makes no row of values/],
    ['a value listed twice', 'name,flutes\nPeg,9 | 9', /names 9 twice/],
    ['an empty value', 'name,flutes\nPeg,9 |', /lists an empty value/],
    ['too many', 'name,length,carvings[0].depth\nPeg,30 to 60 in 1000,1 to 2 in 1000', /more than 5000 variants/],
    ['a name too long', `name\n${'x'.repeat(81)}`, /^line 2, column 1 \(name\): /],
  ])('%s', (_what, text, expected) => {
    const got = wrong(text);
    expect(got, got.join('\n')).toHaveLength(1);
    if (typeof expected === 'string') expect(got[0]).toBe(expected);
    else expect(got[0]).toMatch(expected);
  });

  test('several faults are several lines, each in its place', () => {
    const got = wrong('name,length,flutes\nA,long,8\nB,35,many\nC,35,9\nA b,,\na-B,,');
    expect(got.map((l) => l.split(':')[0])).toEqual([
      'line 2, column 2 (length)',
      'line 3, column 3 (flutes)',
      'line 6, column 1 (name)',
    ]);
  });
});

describe('names', () => {
  test.each([
    '../../etc/passwd',
    '/etc/passwd',
    '..\\..\\x',
    'C:\\x',
    'a/../../b',
    '.hidden',
    '~/x',
    '%2e%2e/x',
    'x\u202e/y',
  ])('%j cannot leave the output folder', (name) => {
    const [v] = line(`name\n"${name}"`);
    expect(v!.slug).toMatch(/^[a-z0-9]+(-[a-z0-9]+)*$/);
  });

  test('cannot leave it whatever they are (seed 9)', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 40 }), (name) => {
        const result = readLine({ ...peg, carvings: [], knobs: [] }, `name\n"${name.replaceAll('"', '""')}"`);
        for (const v of 'variants' in result ? result.variants : []) expect(v.slug).toMatch(/^[a-z0-9]+(-[a-z0-9]+)*$/);
      }),
      { seed: 9, numRuns: 60 },
    );
  });

  test.each([
    ['CON', /no folder may be called "con"/],
    ['nul.', /no folder may be called "nul"/],
    ['Lpt1', /no folder may be called "lpt1"/],
    ['made', /no folder may be called "made"/],
    ['…', /has no letter or digit/],
    ['', /the variant has no name/],
    ['"two\nlines"', /a name is one line/],
  ])('%j is refused', (name, expected) => {
    expect(wrong(`name,quantity\n${name},2`)).toEqual([expect.stringMatching(expected)]);
    expect(wrong(`name,quantity\n${name},2`)[0]).toMatch(/^line 2, column 1 \(name\)/);
  });

  test.each([
    ['Peg A', 'peg a'],
    ['Peg A', 'Peg A'],
    ['Peg A', 'pég-a'],
    ['x'.repeat(61), 'x'.repeat(62)],
  ])('%j and %j are one too many', (a, b) => {
    expect(wrong(`name\n${a}\n${b}`)[0]).toMatch(/^line 3, column 1 \(name\): /);
  });
});

test('the line of twenty-four reads, with three woods, both hands and both sections', () => {
  const at = (path: string) => readFileSync(new URL(`../../${path}`, import.meta.url), 'utf8');
  const variants = line(
    at('tests/fixtures/line-24.csv'),
    {},
    JSON.parse(at('templates/porch-baluster.part.json')) as object,
  );
  expect(variants).toHaveLength(24);
  const all = (pick: (v: Variant) => unknown) => new Set(variants.map(pick));
  expect(all((v) => v.part.blank.material).size).toBe(3);
  expect(all((v) => v.knobs.hand)).toEqual(new Set(['left', 'right']));
  expect(all((v) => v.part.blank.section)).toEqual(new Set(['square', 'round']));
  expect(variants.reduce((sum, v) => sum + v.quantity, 0)).toBeGreaterThan(24);
});
