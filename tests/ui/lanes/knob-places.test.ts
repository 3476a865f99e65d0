/** Knobs stay on what they set while hands insert, move, split and take out elements and carvings. */
import { expect, test } from 'vitest';
import {
  insertElement,
  moveCarving,
  moveElement,
  removeCarving,
  removeElement,
  replaceElement,
} from '../../../src/ui/lanes/form-edits.ts';
import type { Raw } from '../../../src/ui/state/contract.ts';
import { derive } from '../../../src/ui/state/derive.ts';

const leg = (): Raw => ({
  name: 'Leg',
  form: [
    { element: 'cylinder', length: 40, start: 30 },
    { element: 'bead', length: 10, start: 28 },
    { element: 'taper', length: 50, start: 28, end: 20 },
  ],
  carvings: [
    { carving: 'flutes', over: [2, 2], count: 8, depth: 1 },
    { carving: 'facets', over: [0, 0], flats: 6 },
  ],
  knobs: [
    { id: 'foot', label: 'foot', sets: ['form[2].end'], min: 16, max: 24 },
    { id: 'neck', label: 'neck', sets: ['form[0].start', 'form[1].start'], min: 26, max: 34 },
    { id: 'flutes', label: 'flutes', sets: ['carvings[0].count'], min: 6, max: 12 },
    { id: 'wood', label: 'wood', sets: ['blank.material'] },
  ],
});
const places = (raw: Raw) =>
  Object.fromEntries(((raw.knobs ?? []) as { id: string; sets: string[] }[]).map((k) => [k.id, k.sets]));
const layoutOf = (raw: Raw) => derive(raw).layout!;

test('an element put in before shifts the places behind it', () => {
  const raw = leg();
  insertElement(raw, layoutOf(raw), 1, { element: 'fillet', length: 3 }, 3);
  expect(places(raw)).toEqual({
    foot: ['form[3].end'],
    neck: ['form[0].start', 'form[2].start'],
    flutes: ['carvings[0].count'],
    wood: ['blank.material'],
  });
});

test('an element that moves takes its place along', () => {
  const raw = leg();
  moveElement(raw, 2, 0);
  expect(places(raw).foot).toEqual(['form[0].end']);
  expect(places(raw).neck).toEqual(['form[1].start', 'form[2].start']);
});

test('a knob that has lost its last place leaves the document, one with others stays', () => {
  const raw = leg();
  removeElement(raw, layoutOf(raw), 2);
  removeElement(raw, layoutOf(raw), 1);
  expect(places(raw)).toEqual({ neck: ['form[0].start'], flutes: ['carvings[0].count'], wood: ['blank.material'] });
  removeCarving(raw, 0);
  expect(Object.keys(places(raw))).toEqual(['neck', 'wood']);
});

test('an element of another kind in its stead keeps only what it has too', () => {
  const raw = leg();
  replaceElement(raw, 2, [{ element: 'cylinder', length: 50, start: 28 }]);
  expect(Object.keys(places(raw))).toEqual(['neck', 'flutes', 'wood']);
});

test('carvings that change places keep their knobs', () => {
  const raw = leg();
  moveCarving(raw, 0, 1);
  expect(places(raw).flutes).toEqual(['carvings[1].count']);
});
