import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bits } from '../shared/catalog.ts';
import { problemLine } from '../shared/problems.ts';
import { readJson } from '../src/part/json.ts';
import { partJsonSchema } from '../src/part/json-schema.ts';
import { CURRENT, migrate } from '../src/part/migrate.ts';
import { nearest } from '../src/part/nearest.ts';
import { checkPart, type Part, parsePart, writePart } from '../src/part.ts';

const form = [{ element: 'cylinder', length: 100, start: 30 }];
const good = (raw: Record<string, unknown>): Part => {
  const result = checkPart({ form, ...raw });
  if ('problems' in result) throw new Error(result.problems.map(problemLine).join('; '));
  return result.part;
};
const lines = (raw: unknown): string[] => {
  const result = typeof raw === 'string' ? parsePart(raw) : checkPart(raw);
  return 'problems' in result ? result.problems.map(problemLine) : [];
};

describe('a part document', () => {
  test('is complete with a form alone', () => {
    const part = good({});
    expect(part).toMatchObject({
      cavetto: CURRENT,
      units: 'mm',
      bench: 'middle',
      control: 'four-axis-inverse-time',
      blank: { section: 'square', material: 'sugar-maple' },
      holding: { tailstock: true },
      plan: { corners: 'auto', roughing: 'auto', finishing: 'spiral' },
      tolerance: 0.03,
    });
  });

  test('carries whole catalog rows of its own', () => {
    const own = { ...bits[0]!, id: 'my-own', diameter: 5 };
    expect(good({ bits: { roughing: own, detail: ['vee-60', own] } }).bits).toEqual({
      roughing: own,
      detail: ['vee-60', own],
    });
  });

  test('in inches has every length in inches, and nothing else', () => {
    const part = good({
      units: 'inch',
      form: [{ element: 'cylinder', length: 4, start: 1.25 }],
      carvings: [{ carving: 'flutes', count: 8, depth: 0.05, from: 0.5, to: 3.5, turned: 15 }],
      blank: { width: 1.75, section: 'polygon', sides: 8 },
      bits: {
        roughing: {
          ...bits[0]!,
          diameter: 0.25,
          fluteLength: 0.6,
          reach: 0.8,
          shank: 0.25,
          stickOut: 1,
          holder: 0.8,
          holderLength: 0.8,
          teeth: 2,
        },
      },
      plan: { scallop: 0.001 },
      girth: 1.1,
    });
    // 25.4 mm to the inch, exact by definition (international yard and pound agreement, 1959).
    expect(part.form).toEqual([{ element: 'cylinder', length: 101.6, start: 31.75 }]);
    expect(part.carvings).toEqual([{ carving: 'flutes', count: 8, depth: 1.27, from: 12.7, to: 88.9, turned: 15 }]);
    expect(part.blank).toMatchObject({ width: 44.45, sides: 8 });
    expect(part.bits.roughing).toMatchObject({ diameter: 6.35, teeth: 2 });
    expect(part.plan.scallop).toBe(0.0254);
    // What the document leaves out keeps its default in mm.
    expect(part.plan.allowance).toBe(0.5);
    expect(part.girth).toBe(1.1);
  });

  test.each(['mm', 'inch'])('comes back the same through its text (%s)', (units) => {
    const part = good({
      units,
      carvings: [{ carving: 'flutes', count: 8, depth: 0.1 }],
      form: [{ element: 'bead', length: 3 }],
    });
    expect(parsePart(writePart(part))).toEqual({ part });
  });

  test('comes back the same through its text whatever its lengths (seed 7)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.06, max: 100, noNaN: true }),
        fc.double({ min: 0.6, max: 20, noNaN: true }),
        fc.constantFrom('mm', 'inch'),
        (length, start, units) => {
          const part = good({ units, form: [{ element: 'cylinder', length, start }] });
          const back = parsePart(writePart(part));
          if ('problems' in back) throw new Error(back.problems.map(problemLine).join());
          const [a, b] = [part.form[0]!, back.part.form[0]!];
          expect(b.length).toBeCloseTo(a.length!, 7);
        },
      ),
      { seed: 7, numRuns: 200 },
    );
  });
});

describe('what is wrong with a document is said in one line with its path', () => {
  test.each([
    [
      'an unknown key near a known one',
      { form, legnth: 3 },
      'legnth: the key "legnth" is not known here (did you mean "length"?)',
    ],
    [
      'an unknown element',
      { form: [{ element: 'cylindr', length: 3 }] },
      'form[0].element: "cylindr" is not known (did you mean "cylinder"?)',
    ],
    [
      'an unknown choice',
      { form, plan: { corners: 'arround' } },
      /^plan\.corners: "arround" is not known \(did you mean "around"\?/,
    ],
    [
      'a negative length',
      { form: [{ element: 'cylinder', length: -4 }] },
      /^form\[0\]\.length: -4 mm is too small \(0\.05 to 3000 mm: Length/,
    ],
    [
      'a text for a number',
      { form, tolerance: '0.03' },
      /^tolerance: "0\.03" is not what belongs here \(0\.005 to 0\.5 mm: Deepest/,
    ],
    [
      'a broken count',
      { form, blank: { section: 'polygon', sides: 6.5 } },
      /^blank\.sides: 6\.5 is not what belongs here \(a whole number from 3 to 16/,
    ],
    ['a polygon without sides', { form, blank: { section: 'polygon' } }, /^blank\.sides: is missing/],
    ['a square with a height', { form, blank: { height: 40 } }, /^blank\.height: only a rectangle has a height/],
    ['no form', {}, /^form: is missing \(a list in brackets/],
    ['an empty form', { form: [] }, /^form: has 0 entries \(at least 1/],
    ['wrong units', { form, units: 'cm' }, /^units: "cm" is not known \(one of mm, inch/],
    [
      'a number for a bench',
      { form, bench: 3 },
      /^bench: 3 is not what belongs here \(an id in double quotes or a whole row/,
    ],
    ['a list', [form], /^document: a part document is a group in braces/],
    ['a newer version', { form, cavetto: 9 }, /^cavetto: version 9 is not known \(up to 1/],
    ['NaN', { form: [{ element: 'cylinder', length: Number.NaN }] }, /^form\[0\]\.length: NaN is no finite number/],
    [
      'infinity',
      `{ "form": [{ "element": "cylinder", "length": 1e999 }] }`,
      /^form\[0\]\.length: Infinity is no finite number/,
    ],
    ['NaN in the text', `{\n  "form": NaN }`, /line 2, column 11: "NaN" is not a value/],
    ['a key given twice', `{ "form": [], "form": [] }`, /line 1, column 15: the key "form" is given twice/],
    ['nothing', '', /line 1, column 1: a value was expected, the file ends/],
  ])('%s', (_what, raw, line) => {
    expect(lines(raw)).toHaveLength(1);
    expect(lines(raw)[0]).toMatch(
      typeof line === 'string' ? new RegExp(`^${line.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')}$`) : line,
    );
  });

  test('an inch document is answered in inches', () => {
    expect(lines({ units: 'inch', form: [{ element: 'cylinder', length: 200 }] })[0]).toMatch(
      /^form\[0\]\.length: 200 in is too large \(0\.002 to 118\.1102 in/,
    );
  });

  test('several things wrong are several lines', () => {
    expect(lines({ form: [{ element: 'cylinder', length: -4, size: 2 }], tolerance: 9, blonk: {} })).toHaveLength(4);
  });
});

describe('migration', () => {
  test('applies every step in turn, before anything is checked', () => {
    const table = { 0: ({ outline, ...rest }: Record<string, unknown>) => ({ ...rest, form: outline }) };
    const result = checkPart({ cavetto: 0, outline: form }, table);
    expect(result).toMatchObject({ part: { cavetto: 1, form } });
    const twice = migrate({ cavetto: 0, a: 1 }, { 0: (d) => ({ ...d, b: 2 }), 1: (d) => ({ ...d, c: d.b }) }, 2);
    expect(twice).toEqual({ document: { cavetto: 2, a: 1, b: 2, c: 2 } });
  });

  test('a version without a way up is refused', () => {
    expect(lines({ cavetto: 0, form })[0]).toMatch(/^cavetto: version 0 is not known/);
    expect(lines({ cavetto: 'one', form })[0]).toMatch(/^cavetto: version "one" is not known/);
  });
});

describe('the JSON reader', () => {
  test('reads what JSON.parse reads, and nothing else (seed 11)', () => {
    fc.assert(
      fc.property(fc.json(), (text) => {
        expect(readJson(text)).toEqual({ value: JSON.parse(text) });
      }),
      { seed: 11, numRuns: 300 },
    );
    // Every single deletion of a character: both refuse, or both accept the same.
    const text = '{ "a": [1, -2.5e3, "x\\n", true], "b": { "c": null } }';
    for (let i = 0; i < text.length; i++) {
      const cut = text.slice(0, i) + text.slice(i + 1);
      let expected: unknown;
      try {
        expected = { value: JSON.parse(cut) };
      } catch {
        expected = undefined;
      }
      const got = readJson(cut);
      expect('value' in got ? got : undefined, cut).toEqual(expected);
    }
  });

  test('a group nested without end is refused, not a crash', () => {
    expect(readJson('['.repeat(100_000))).toMatchObject({ line: 1, message: expect.stringMatching(/nested/) });
  });

  test('a key named __proto__ stays a key', () => {
    expect(lines('{ "form": [], "__proto__": { "x": 1 } }').some((l) => l.startsWith('__proto__: the key'))).toBe(true);
  });
});

test('the nearest name allows for swaps and a letter or two, no more', () => {
  expect(nearest('lenght', ['length', 'depth'])).toBe('length');
  expect(nearest('Widht', ['width', 'height'])).toBe('width');
  expect(nearest('zzzz', ['width', 'height'])).toBeUndefined();
});

test('the published JSON Schema is the one that the code checks by (npm run schema)', () => {
  expect(readFileSync(new URL('../shared/part.schema.json', import.meta.url), 'utf8')).toBe(partJsonSchema());
});
