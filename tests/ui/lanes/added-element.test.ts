import { describe, expect, test } from 'vitest';
import { MM_PER_INCH } from '../../../shared/units.ts';
import { type ElementName, elementKinds } from '../../../src/profiles/elements/registry.ts';
import { addedElement } from '../../../src/ui/lanes/added-element.ts';
import { insertElement } from '../../../src/ui/lanes/form-edits.ts';
import type { Raw } from '../../../src/ui/state/contract.ts';
import { derive } from '../../../src/ui/state/derive.ts';

const refused = (raw: Raw) => derive(raw).problems.filter((p) => p.severity === 'refuse');
/** The document with a kind put in, and the element as written. */
function added(raw: Raw, at: number, kind: ElementName) {
  const { layout, part } = derive(raw);
  const { element, length } = addedElement(raw, layout!, at, kind, part!.girth ?? 1);
  const next = structuredClone(raw);
  insertElement(next, layout!, at, element, length);
  return { next, element };
}
const behind = (end: number, more: Raw = {}): Raw => ({
  cavetto: 1,
  name: 'End',
  form: [{ element: 'taper', length: 60, start: Math.max(end, 20), end }],
  blank: { section: 'square', width: end > 40 ? 64 : 30 },
  ...more,
});
const kinds = elementKinds.map((k) => k.kind as ElementName);

describe.each([6, 14, 60])('behind an end of %i mm', (end) => {
  test.each(kinds)('a %s is possible', (kind) => {
    const raw = behind(end);
    expect(refused(raw)).toEqual([]);
    const { next } = added(raw, 1, kind);
    expect(refused(next)).toEqual([]);
    const { layout } = derive(next);
    expect(layout!.placed[1]!.kind).toBe(kind);
    expect(layout!.placed[1]!.to - layout!.placed[1]!.from).toBeGreaterThanOrEqual(0.5);
  });
});

test('a cove behind a thin end is as deep as it was drawn, in proportion', () => {
  // The example, 16 long and half as deep, is drawn behind 30 mm.
  expect(added(behind(15), 1, 'cove').element).toEqual({ element: 'cove', length: 8 });
  expect(added(behind(30, { blank: { section: 'square', width: 40 } }), 1, 'cove').element.length).toBe(16);
});

test('what would stand out of the blank is made smaller, what has little length left shorter', () => {
  const tight = added(behind(29), 1, 'torus');
  expect(refused(tight.next)).toEqual([]);
  expect(Number(tight.element.length)).toBeLessThan(20);
  const shared = behind(20, {
    length: 50,
    form: [
      { element: 'cylinder', share: 1, start: 20 },
      { element: 'cylinder', length: 30, start: 20 },
    ],
  });
  const short = added(shared, 2, 'entasis');
  expect(refused(short.next)).toEqual([]);
  expect(derive(short.next).layout!.length).toBe(50);
});

test('a document in inches and one with a girth get the same shape', () => {
  const mm = added(behind(14), 1, 'vase').element;
  const inch = added(
    {
      ...behind(14),
      units: 'inch',
      form: [{ element: 'taper', length: 60 / MM_PER_INCH, start: 20 / MM_PER_INCH, end: 14 / MM_PER_INCH }],
      blank: { section: 'square', width: 30 / MM_PER_INCH },
    },
    1,
    'vase',
  ).element;
  expect(Number(inch.length) * MM_PER_INCH).toBeCloseTo(Number(mm.length), 6);
  expect(Number(inch.belly) * MM_PER_INCH).toBeCloseTo(Number(mm.belly), 6);
  const girth = added({ ...behind(28), girth: 0.5 }, 1, 'vase').next;
  expect(refused(girth)).toEqual([]);
});
