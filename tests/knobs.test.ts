import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { problemLine } from '../shared/problems.ts';
import { build } from '../src/build.ts';
import { checkFit } from '../src/cam/fit.ts';
import { type Place, pathText, placeOf, withValue } from '../src/part/place.ts';
import { valueAt } from '../src/part/walk.ts';
import { checkPart, knobsOf, type Part, parsePart, writePart } from '../src/part.ts';
import { resolvePart } from '../src/resolve.ts';
import { ends, extremes, turned } from './support/knob-ends.ts';

const base = {
  length: 100,
  form: [
    { element: 'cylinder', share: 1, start: 30 },
    { element: 'bead', length: 10 },
  ],
  carvings: [{ carving: 'flutes', over: [0, 0], inset: 5, count: 8, depth: 1 }],
};
const lines = (knobs: unknown, more: object = {}): string[] => {
  const result = checkPart({ ...base, ...more, knobs });
  return 'problems' in result ? result.problems.map(problemLine) : [];
};
const good = (raw: object): Part => {
  const result = checkPart(raw);
  if ('problems' in result) throw new Error(result.problems.map(problemLine).join('; '));
  return result.part;
};
const knob = (more: object) => ({ id: 'flutes', label: 'flutes', sets: ['carvings[0].count'], ...more });

describe('places', () => {
  test('are read as they are written (seed 5)', () => {
    const key = fc.stringMatching(/^[a-zA-Z$_][a-zA-Z0-9$_]{0,8}$/);
    fc.assert(
      fc.property(key, fc.array(fc.oneof(key, fc.nat(99_999)), { maxLength: 6 }), (first, rest) => {
        const place: Place = [first, ...rest];
        expect(placeOf(pathText(place))).toEqual(place);
      }),
      { seed: 5 },
    );
  });

  test.each([
    '',
    '[0]',
    'a..b',
    'a.',
    '.a',
    'a[01]',
    'a[-1]',
    'a[1',
    'a b',
    '../a',
    'a/b',
    'form[0]start',
    '__proto__ ',
  ])('%j is none', (text) => expect(placeOf(text)).toBeUndefined());

  test('a value is put in without touching the original, and taken out again', () => {
    const after = withValue(base, ['carvings', 0, 'count'], 6);
    expect(valueAt(after, ['carvings', 0, 'count'])).toBe(6);
    expect(base.carvings[0]!.count).toBe(8);
    expect(after.form).toBe(base.form);
    expect(withValue({}, ['blank', 'width'], 40)).toEqual({ blank: { width: 40 } });
    expect(withValue({ blank: { width: 40 } }, ['blank', 'width'], undefined)).toEqual({ blank: {} });
    expect(() => withValue(base, ['carvings', 4, 'count'], 6)).toThrow(/no \[4\] in 1 entries/);
  });
});

describe('knobs of a document', () => {
  test('know what their places take, and what stands there', () => {
    const part = good({
      ...base,
      knobs: [
        knob({ min: 6, max: 10 }),
        { id: 'wood', label: 'wood', sets: ['blank.material'], choices: ['white-oak', 'red-oak'] },
        { id: 'point', label: 'tailstock', sets: ['holding.tailstock'] },
        { id: 'length', label: 'length', sets: ['length'], min: 80, max: 120, step: 5 },
      ],
    });
    expect(knobsOf(part)).toMatchObject([
      { id: 'flutes', kind: 'whole', unit: 'count', min: 6, max: 10, step: 1, value: 8 },
      { id: 'wood', kind: 'choice', choices: ['white-oak', 'red-oak'], value: 'sugar-maple' },
      { id: 'point', kind: 'flag', value: true },
      { id: 'length', kind: 'number', unit: 'mm', min: 80, max: 120, step: 5, value: 100, places: [['length']] },
    ]);
  });

  test('of an inch document are in inches, as its lengths are', () => {
    const part = good({
      ...base,
      units: 'inch',
      length: 4,
      form: [{ element: 'cylinder', share: 1, start: 1.25 }],
      carvings: [{ carving: 'flutes', count: 8, depth: 0.05 }],
      knobs: [
        { id: 'length', label: 'length', sets: ['length'], min: 3, max: 5, step: 0.125 },
        knob({ min: 6, max: 9 }),
      ],
    });
    // 25.4 mm to the inch, exact by definition (international yard and pound agreement, 1959).
    expect(knobsOf(part)).toMatchObject([
      { min: 76.2, max: 127, step: 3.175, value: 101.6 },
      { min: 6, max: 9 },
    ]);
    expect(parsePart(writePart(part))).toEqual({ part });
    expect(JSON.parse(writePart(part)).knobs[0]).toMatchObject({ min: 3, max: 5, step: 0.125 });
  });

  test.each<[string, unknown, RegExp]>([
    [
      'no such place',
      [knob({ sets: ['carvings[1].count'] })],
      /^knobs\[0\]\.sets\[0\]: there is no place "carvings\[1\]\.count"/,
    ],
    ['a slip of a key', [knob({ sets: ['carvings[0].cout'] })], /\(did you mean "count"\?\)$/],
    ['no path at all', [knob({ sets: ['../count'] })], /there is no place "\.\.\/count"/],
    ['a whole group', [knob({ sets: ['carvings[0]'] })], /"carvings\[0\]" is no number and no choice/],
    ['a name of a kind', [knob({ sets: ['form[0].element'] })], /"form\[0\]\.element" is no number and no choice/],
    ['a text', [knob({ sets: ['notes'] })], /"notes" is no number/],
    ['the units', [knob({ sets: ['units'] })], /there is no place "units"/],
    ['itself', [knob({ sets: ['knobs[0].min'] })], /there is no place "knobs\[0\]\.min"/],
    ['below the place', [knob({ min: 0, max: 10 })], /^knobs\[0\]\.min: 0 is less than its places take \(at least \d/],
    ['above the place', [knob({ min: 4, max: 1e6 })], /^knobs\[0\]\.max: 1000000 is more than its places take/],
    ['turned round', [knob({ min: 10, max: 6 })], /^knobs\[0\]\.max: 6 is not above 10/],
    ['half a flute', [knob({ min: 6.5, max: 10 })], /^knobs\[0\]\.min: 6\.5 is not whole/],
    ['no step', [knob({ step: 0 })], /^knobs\[0\]\.step: 0 is no step/],
    ['names for a number', [knob({ choices: ['six', 'eight'] })], /^knobs\[0\]\.choices: its places take numbers/],
    [
      'two kinds of place',
      [knob({ sets: ['carvings[0].count', 'length'] })],
      /takes another kind of value than carvings\[0\]\.count/,
    ],
    ['an id twice', [knob({}), knob({ sets: ['length'] })], /^knobs\[1\]\.id: another knob is called "flutes"/],
    ['a place twice', [knob({}), knob({ id: 'more' })], /the knob "flutes" sets it already/],
    ['a word of the table', [knob({ id: 'quantity' })], /has its own column "quantity"/],
    ['an id of capitals', [knob({ id: 'Flutes' })], /^knobs\[0\]\.id: /],
    [
      'an unknown wood',
      [{ id: 'wood', label: 'wood', sets: ['blank.material'], choices: ['white-oak', 'read-oak'] }],
      /^knobs\[0\]\.choices\[1\]: "read-oak" is not known \(did you mean "red-oak"\?\)/,
    ],
    [
      'numbers for a choice',
      [{ id: 'wood', label: 'wood', sets: ['blank.material'], min: 1 }],
      /^knobs\[0\]\.min: its places take names/,
    ],
  ])('%s is one line with its path', (_what, knobs, line) => {
    const said = lines(knobs);
    expect(said).toHaveLength(1);
    expect(said[0]).toMatch(line);
  });

  test('limits of an inch document are told in inches', () => {
    const said = lines([{ id: 'length', label: 'length', sets: ['length'], min: 0.001, max: 5 }], {
      units: 'inch',
      length: 4,
      form: [{ element: 'cylinder', share: 1, start: 1 }],
      carvings: [],
    });
    expect(said).toEqual([
      expect.stringMatching(/^knobs\[0\]\.min: 0\.001 is less than its places take \(at least 0\.0394\)/),
    ]);
  });
});

describe('every template has knobs that can be turned as far as they go', () => {
  const folder = join(import.meta.dirname, '..', 'templates');
  const files = readdirSync(folder);
  const raws = new Map(files.map((f) => [f, JSON.parse(readFileSync(join(folder, f), 'utf8')) as object]));
  const refusals = (raw: object): string[] => {
    const part = good(raw);
    const { job, problems } = resolvePart(part);
    return [...problems, ...(job ? checkFit(job) : [])].filter((p) => p.severity === 'refuse').map(problemLine);
  };

  test.each(files)('%s', (file) => {
    const raw = raws.get(file)!;
    const knobs = knobsOf(good(raw));
    expect(knobs.length).toBeGreaterThanOrEqual(3);
    expect(knobs.length).toBeLessThanOrEqual(8);
    for (const k of knobs) {
      // The document says every value itself, inside the limits, and the same at all places of one knob.
      for (const place of k.places) expect(valueAt(raw, place), `${k.id} at ${pathText(place)}`).toBe(k.value);
      if (k.kind === 'choice') expect(k.choices).toContain(k.value);
      else if (k.kind !== 'flag') {
        expect(k.value, k.id).toBeGreaterThanOrEqual(k.min);
        expect(k.value, k.id).toBeLessThanOrEqual(k.max);
      }
      for (const v of ends(k)) expect(refusals(turned(raw, [[k, v]])), `${k.id} at ${v}`).toEqual([]);
    }
    const [least, most] = extremes(raw, knobs);
    expect(refusals(least), 'all at their least').toEqual([]);
    expect(refusals(most), 'all at their most').toEqual([]);
  });

  test('a chess pawn is proven at both ends of its knobs', async () => {
    const raw = raws.get('chess-pawn.part.json')!;
    for (const end of extremes(raw, knobsOf(good(raw)))) {
      const built = await build(good(end), { solid: 'none' });
      expect(built.verdict, JSON.stringify(built.proof?.findings)).toBe('proven');
    }
  });
});
