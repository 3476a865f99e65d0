import { describe, expect, test } from 'vitest';
import { MM_PER_INCH } from '../../../shared/units.ts';
import {
  duplicateElement,
  insertElement,
  moveEdge,
  moveElement,
  removeElement,
  replaceElement,
} from '../../../src/ui/lanes/form-edits.ts';
import type { Raw } from '../../../src/ui/state/contract.ts';
import { derive } from '../../../src/ui/state/derive.ts';

const fixed = (): Raw => ({
  form: [
    { element: 'cylinder', length: 40, start: 30 },
    { element: 'bead', length: 10 },
    { element: 'taper', length: 50, start: 28, end: 20 },
  ],
  carvings: [{ carving: 'reeds', count: 8, over: [2, 2] }],
  blank: { section: 'round', width: 60 },
});
const shared = (): Raw => ({
  ...fixed(),
  length: 200,
  form: [
    { element: 'cylinder', length: 40, start: 30 },
    { element: 'vase', share: 1, start: 28, end: 22, belly: 36, at: 0.3 },
    { element: 'taper', share: 3, start: 28, end: 20 },
  ],
});
/** Edges of the elements after an edit, mm; fails where the document is no longer right. */
function edges(raw: Raw): number[] {
  const { layout, problems } = derive(raw);
  expect(problems.filter((p) => p.severity === 'refuse' && /form|length|carvings/.test(p.path))).toEqual([]);
  return layout!.placed.map((p) => Number(p.to.toFixed(3)));
}
const layoutOf = (raw: Raw) => derive(raw).layout!;
const over = (raw: Raw) => (raw.carvings as { over: number[] }[])[0]!.over;

describe('an edge under the hand', () => {
  test('makes its element longer and moves all behind it', () => {
    const raw = fixed();
    moveEdge(raw, layoutOf(raw), 0, 45, false);
    expect(edges(raw)).toEqual([45, 55, 105]);
  });
  test('in trade takes from the element behind, and all else stays', () => {
    const raw = fixed();
    moveEdge(raw, layoutOf(raw), 0, 45, true);
    expect(edges(raw)).toEqual([45, 50, 100]);
  });
  test('keeps the overall length where elements have shares of it', () => {
    const raw = shared();
    moveEdge(raw, layoutOf(raw), 0, 60, false);
    expect(edges(raw)).toEqual([60, 95, 200]);
  });
  test('between two shares weighs them anew', () => {
    const raw = shared();
    moveEdge(raw, layoutOf(raw), 1, 100, true);
    expect(edges(raw).map(Math.round)).toEqual([40, 100, 200]);
  });
  test('of a share alone moves the overall length until the edge stands there', () => {
    const raw = shared();
    moveEdge(raw, layoutOf(raw), 1, 100, false);
    expect(edges(raw)[1]).toBeCloseTo(100, 2);
  });
  test('carries an overall length along that nothing shares', () => {
    const raw: Raw = { ...fixed(), length: 100 };
    moveEdge(raw, layoutOf(raw), 2, 120, false);
    expect(edges(raw)).toEqual([40, 50, 120]);
    expect(raw.length).toBe(120);
  });
  test('writes inches into a document in inches', () => {
    const raw: Raw = { units: 'inch', form: [{ element: 'cylinder', length: 2, start: 1 }] };
    moveEdge(raw, layoutOf(raw), 0, 3 * MM_PER_INCH, false);
    expect((raw.form as { length: number }[])[0]!.length).toBe(3);
  });
});

describe('elements that come, go and change places', () => {
  test('carvings stay on the elements that they lay over', () => {
    const raw = fixed();
    insertElement(raw, layoutOf(raw), 1, { element: 'fillet', length: 3 }, 3);
    expect(over(raw)).toEqual([3, 3]);
    moveElement(raw, 3, 0);
    expect(over(raw)).toEqual([0, 0]);
    removeElement(raw, layoutOf(raw), 1);
    expect(over(raw)).toEqual([0, 0]);
    duplicateElement(raw, layoutOf(raw), 0);
    expect(edges(raw).at(-1)).toBe(113);
  });
  test('a carving over a split element lies over both of its halves', () => {
    const raw = fixed();
    replaceElement(raw, 2, [
      { element: 'taper', length: 25, start: 28, end: 24 },
      { element: 'taper', length: 25, start: 24, end: 20 },
    ]);
    expect(over(raw)).toEqual([2, 3]);
    expect(edges(raw).at(-1)).toBe(100);
  });
  test('the last element stays', () => {
    const raw: Raw = { form: [{ element: 'cylinder', length: 40, start: 30 }] };
    removeElement(raw, layoutOf(raw), 0);
    expect(raw.form).toHaveLength(1);
  });
});
