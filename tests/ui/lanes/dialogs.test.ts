import { unzipSync } from 'fflate';
import { describe, expect, test } from 'vitest';
import { fieldOf } from '../../../src/profiles/build-field.ts';
import type { Element } from '../../../src/profiles/elements/registry.ts';
import { elementKinds } from '../../../src/profiles/elements/registry.ts';
import { fitForm } from '../../../src/ui/dialogs/fit-form.ts';
import { packed, unpacked } from '../../../src/ui/dialogs/link-text.ts';
import { toForm } from '../../../src/ui/dialogs/photo.ts';
import { deviations, readTable } from '../../../src/ui/dialogs/readings.ts';
import { takenFiles } from '../../../src/ui/dialogs/taken.ts';
import { zipOf } from '../../../src/ui/dialogs/zip.ts';
import { KEYS, keyOf } from '../../../src/ui/keys/list.ts';
import { alternativesTo, fieldsAt, handRange } from '../../../src/ui/sliders/fields.ts';
import type { BuildResult } from '../../../src/ui/state/contract.ts';

describe('what may be taken', () => {
  const built = (verdict: 'proven' | 'refused', program: string) =>
    ({
      verdict,
      files: new Map([
        [program, 'G0'],
        ['knob.stl', 'solid'],
      ]),
    }) as unknown as BuildResult;
  const names = (...of: Parameters<typeof takenFiles>) => takenFiles(...of).map((f) => f.name);
  test('programs of a proven part', () => {
    expect(names({}, 'knob', built('proven', 'knob-1.nc'), false)).toEqual(['knob-1.nc', 'knob.stl', 'knob.part.json']);
  });
  test('of a refused part only those that say so, and only when asked for', () => {
    expect(names({}, 'knob', built('refused', 'knob-1.UNPROVEN.nc'), false)).toEqual(['knob.stl', 'knob.part.json']);
    expect(names({}, 'knob', built('refused', 'knob-1.UNPROVEN.nc'), true)).toContain('knob-1.UNPROVEN.nc');
    expect(names({}, 'knob', built('refused', 'knob-1.nc'), true)).not.toContain('knob-1.nc');
  });
  test('nothing but the document before it is proven', () => {
    expect(names({}, 'knob', undefined, true)).toEqual(['knob.part.json']);
  });
  test('a zip gives every file back, and the same files give the same bytes', () => {
    const files = new Map<string, string | Uint8Array>([
      ['a.nc', 'G21'],
      ['b.stl', Uint8Array.of(1, 2, 3)],
    ]);
    const zip = zipOf(files, 'knob');
    const back = unzipSync(zip);
    expect(new TextDecoder().decode(back['knob/a.nc'])).toBe('G21');
    expect([...back['knob/b.stl']!]).toEqual([1, 2, 3]);
    expect(zipOf(files, 'knob')).toEqual(zip);
  });
});

describe('a link', () => {
  test('carries a document there and back in letters that a link may hold', () => {
    const text = JSON.stringify({
      name: 'Rudder – ø 12 ½',
      form: Array.from({ length: 40 }, (_, i) => ({ element: 'bead', length: i + 1 })),
    });
    expect(packed(text)).toMatch(/^[A-Za-z0-9_-]+$/);
    expect(unpacked(packed(text))).toBe(text);
  });
  test('cut short or damaged is refused', () => {
    const letters = packed(JSON.stringify({ name: 'x'.repeat(10), form: [1, 2, 3, 4, 5, 6, 7, 8, 9] }));
    expect(unpacked(letters.slice(0, 12))).toBeUndefined();
    expect(unpacked('!!!')).toBeUndefined();
  });
  test('that would fill the memory is refused', () => {
    expect(unpacked(packed('0'.repeat(3_000_000)))).toBeUndefined();
  });
});

describe('readings of an old part', () => {
  test.each([
    ['0 36\n12.5 31.2', [0, 36, 12.5, 31.2]],
    ['at\tdiameter\n0\tø36\n12,5\t31,2', [0, 36, 12.5, 31.2]],
    ['0,36\n12,31', [0, 36, 12, 31]],
    ['12.5; 31.2\n0; 36', [0, 36, 12.5, 31.2]],
    ['0 mm 36 mm\n0.5 in 1 in', [0, 36, 12.7, 25.4]],
  ])('%j', (text, numbers) => {
    expect(readTable(text, 'mm').readings.flatMap((r) => [r.at, r.diameter])).toEqual(numbers);
  });
  test('lines without two numbers are left out, and each is told with its number and why', () => {
    const read = readTable('old leg\n0 30\n5\n\n9 28\n12 wide\n14 -3', 'mm');
    expect(read.readings).toEqual([
      { at: 0, diameter: 30 },
      { at: 9, diameter: 28 },
    ]);
    expect(read.leftOut).toEqual([
      { line: 1, text: 'old leg', why: 'its position is no number' },
      { line: 3, text: '5', why: 'it has no diameter' },
      { line: 6, text: '12 wide', why: 'its diameter is no number' },
      { line: 7, text: '14 -3', why: 'its diameter is not above 0' },
    ]);
    expect(read.unordered).toBeUndefined();
  });
  test('positions out of order are sorted, and the line is told; a step at one position is in order', () => {
    expect(readTable('0 30\n9 28\n\n5 26\n7 25', 'mm')).toEqual({
      readings: [0, 5, 7, 9].map((at, i) => ({ at, diameter: [30, 26, 25, 28][i] })),
      leftOut: [],
      unordered: 4,
    });
    expect(readTable('0 30\n9 28\n9 24', 'mm').unordered).toBeUndefined();
  });
  test('the deviation is the form minus the reading', () => {
    const { field } = fieldOf({ form: [{ element: 'taper', length: 100, start: 40, end: 30 }] as Element[] });
    const list = deviations(
      field!,
      [
        { at: 10, diameter: 40 },
        { at: 60, diameter: 35 },
        { at: 500, diameter: 3 },
      ],
      0,
    );
    expect(list.map((d) => [d.x, Number(d.by.toFixed(6))])).toEqual([
      [0, 0],
      [50, 0],
    ]);
  });
  test('elements fitted to readings of another taper come near it', () => {
    const readings = Array.from({ length: 11 }, (_, i) => ({ at: i * 10, diameter: 36 - i }));
    const fitted = fitForm({ form: [{ element: 'taper', length: 100, start: 40, end: 30 }] as Element[] }, readings, 0);
    expect(fitted.before).toBeGreaterThan(2);
    expect(fitted.after).toBeLessThan(0.2);
    expect(fitted.form[0]).toMatchObject({ element: 'taper' });
  });
  test('a form is not fitted by growing too short for the readings that it does not meet', () => {
    const form = [
      { element: 'cylinder', length: 30, start: 26 },
      { element: 'taper', length: 60, start: 30, end: 30 },
    ] as Element[];
    const readings = [
      [0, 24],
      [29.9, 24],
      [30.1, 28],
      [60, 24],
      [90, 20],
    ].map(([at, diameter]) => ({ at: at!, diameter: diameter! }));
    const [rung, taper] = fitForm({ form }, readings, 0).form as unknown as Record<string, number>[];
    expect([rung!.length, rung!.start]).toEqual([30, 24]);
    expect([taper!.length, taper!.start, taper!.end]).toEqual([60, 28, 20]);
  });
});

test('a photograph is turned and scaled until its two marks stand where they were said to', () => {
  const [a, b, c, d, e, f] = toForm({ a: { px: 100, py: 200, x: 0 }, b: { px: 400, py: 600, x: 250 } })!;
  const at = (x: number, y: number) => [a * x + c * y + e, b * x + d * y + f].map((v) => Number(v.toFixed(9)) + 0);
  expect(at(100, 200)).toEqual([0, 0]);
  expect(at(400, 600)).toEqual([250, 0]);
  // Scale 250 mm on 500 px: a point 100 px to the left of the way from one mark to the other lies 50 mm above the axis.
  expect(at(100 + 80, 200 - 60)).toEqual([0, -50]);
  expect(toForm({ a: { px: 1, py: 1, x: 0 }, b: { px: 1, py: 1, x: 9 } })).toBeUndefined();
});

describe('rows of the panel', () => {
  test('every member of every kind of element has a row or a group of its own', () => {
    for (const kind of elementKinds) {
      const raw = { form: [kind.example] };
      const groups = fieldsAt(raw, ['form', 0]);
      const shown = groups.flatMap((g) => [...g.rows.map((r) => String(r.path[2])), String(g.path[2])]);
      for (const key of Object.keys(kind.schema.shape)) if (key !== 'element') expect(shown, kind.kind).toContain(key);
      for (const row of groups.flatMap((g) => g.rows)) expect(row.description, row.label).not.toBe('');
    }
  });
  test('a catalog place offers the catalog, and its own numbers once the document has them', () => {
    const [byId] = fieldsAt({ form: [] }, ['bench']);
    expect(byId!.rows[0]!.choices.length).toBeGreaterThan(1);
    expect(fieldsAt({ form: [], bench: { id: 'own', swing: 200 } }, ['bench'])[0]!.rows.map((r) => r.label)).toContain(
      'swing',
    );
  });
  test('of a length and a share one goes when the other comes', () => {
    expect(alternativesTo('share', { length: 3 })).toEqual(['length']);
    expect(alternativesTo('over', { from: 0, to: 5 })).toEqual(['from', 'to']);
    expect(alternativesTo('start', { length: 3 })).toEqual([]);
  });
  test('a slider of wide limits shows what is near its value', () => {
    expect(handRange({ min: 0.05, max: 3000, step: 0.5 }, 26)).toEqual({ from: 0.05, to: 100 });
    expect(handRange({ min: 3, max: 96, step: 1 }, 8)).toEqual({ from: 3, to: 96 });
  });
});

describe('keys', () => {
  const press = (key: string, held: Partial<{ ctrlKey: boolean; shiftKey: boolean; metaKey: boolean }> = {}) =>
    keyOf({ key, ctrlKey: false, metaKey: false, shiftKey: false, altKey: false, ...held });
  test('every key of the sheet is heard as what the sheet says', () => {
    const keys: Record<string, string> = { Space: ' ', '−': '-', '←': 'ArrowLeft', '→': 'ArrowRight' };
    for (const { name, shown } of KEYS) {
      const words = shown.split(' ');
      const key = words.at(-1)!;
      expect(
        press(keys[key] ?? key, { ctrlKey: words.includes('Ctrl'), shiftKey: words.includes('Shift') }),
        shown,
      ).toBe(name);
    }
  });
  test('with a modifier of the browser letters are left to it', () => {
    expect(press('p', { ctrlKey: true })).toBeUndefined();
    expect(press('l', { metaKey: true })).toBeUndefined();
  });
});
