/** What hands do to a form, as recipes on the document. Pure; lengths given in mm are written in the document's own unit. */

import { lengthsToInches } from '../../part/inch.ts';
import { elementSchema } from '../../profiles/elements/registry.ts';
import type { Layout } from '../../profiles/layout.ts';
import { toDocument } from '../measure.ts';
import type { Raw } from '../state/contract.ts';
import { knobsFollow } from './knob-places.ts';

/** An element or carving as the document writes it. */
export type RawItem = { [key: string]: unknown };

/** An element in mm as the document writes it. */
export const writtenElement = (raw: Raw, element: RawItem): RawItem =>
  raw.units === 'inch' ? (lengthsToInches(elementSchema, element) as RawItem) : element;

export const formOf = (raw: Raw): RawItem[] => (Array.isArray(raw.form) ? (raw.form as RawItem[]) : []);
export const carvingsOf = (raw: Raw): RawItem[] => (Array.isArray(raw.carvings) ? (raw.carvings as RawItem[]) : []);

/** Shortest length that a dragged edge leaves, mm. */
export const SHORTEST = 0.5;

const lengthAt = (layout: Layout, i: number): number => layout.placed[i]!.to - layout.placed[i]!.from;
const isShare = (e: RawItem): boolean => e.share !== undefined;

function setLength(draft: Raw, i: number, mm: number): void {
  const e = formOf(draft)[i]!;
  delete e.share;
  e.length = toDocument(draft, mm);
}

/**
 * Moves the tail-side edge of an element. What has a share of the overall length keeps it, and takes up what the others give.
 * @param layout of the document when the gesture began @param x where the edge shall stand, mm
 * @param trade whether the element behind gives what this one takes, so that all else stays
 */
export function moveEdge(draft: Raw, layout: Layout, i: number, x: number, trade: boolean): void {
  const form = formOf(draft);
  const last = form.length - 1;
  const here = Math.max(SHORTEST, x - layout.placed[i]!.from);
  const grown = here - lengthAt(layout, i);
  const behind = i < last ? Math.max(SHORTEST, lengthAt(layout, i + 1) - grown) : undefined;
  const shares = form.filter(isShare).length;
  if (trade && behind !== undefined) {
    const given = lengthAt(layout, i + 1) - behind;
    const [a, b] = [form[i]!, form[i + 1]!];
    if (isShare(a) && isShare(b)) {
      const sum = Number(a.share) + Number(b.share);
      const both = lengthAt(layout, i) + lengthAt(layout, i + 1);
      a.share = Number(((sum * (lengthAt(layout, i) + given)) / both).toFixed(4));
      b.share = Number((sum - Number(a.share)).toFixed(4));
      return;
    }
    if (!isShare(a)) setLength(draft, i, lengthAt(layout, i) + given);
    if (!isShare(b)) setLength(draft, i + 1, behind);
    return;
  }
  if (isShare(form[i]!)) {
    // Its length follows from the overall length: that is what the hand moves.
    const weight = Number(form[i]!.share) / form.reduce((s, e) => s + Number(e.share ?? 0), 0);
    draft.length = toDocument(draft, layout.length + grown / weight);
    return;
  }
  setLength(draft, i, here);
  if (shares === 0 && draft.length !== undefined) draft.length = toDocument(draft, layout.length + grown);
}

/** Where in the list of carvings `over` counts elements: keeps it pointing at the same ones. */
function renumber(draft: Raw, where: (index: number) => number): void {
  for (const c of carvingsOf(draft))
    if (Array.isArray(c.over)) {
      const [a, b] = (c.over as number[]).map(where) as [number, number];
      c.over = [Math.min(a, b), Math.max(a, b)];
    }
}

/** What the overall length must become when elements without shares come or go; left as it is where shares take it up. */
function lengthen(draft: Raw, layout: Layout, mm: number): void {
  if (draft.length !== undefined && !formOf(draft).some(isShare))
    draft.length = toDocument(draft, Math.max(SHORTEST, layout.length + mm));
}

/** @param at index that the new element gets @param mm its length */
export function insertElement(draft: Raw, layout: Layout, at: number, element: RawItem, mm: number): void {
  formOf(draft).splice(at, 0, element);
  const where = (k: number) => (k >= at ? k + 1 : k);
  renumber(draft, where);
  knobsFollow(draft, 'form', where);
  lengthen(draft, layout, mm);
}

/** The last one stays: a form has at least one. */
export function removeElement(draft: Raw, layout: Layout, at: number): void {
  const form = formOf(draft);
  if (form.length < 2) return;
  const mm = lengthAt(layout, at);
  form.splice(at, 1);
  renumber(draft, (k) => Math.min(form.length - 1, k > at ? k - 1 : k));
  knobsFollow(draft, 'form', (k) => (k === at ? undefined : k > at ? k - 1 : k));
  // Without a share left the overall length can only be what the elements add up to.
  if (draft.length !== undefined && !form.some(isShare)) draft.length = toDocument(draft, layout.length - mm);
}

/** Where the entries of a list stand after one of them went from one place to another. */
const moved = (from: number, to: number) => (k: number) =>
  k === from ? to : from < to && k > from && k <= to ? k - 1 : to < from && k >= to && k < from ? k + 1 : k;

/** @param to index that it then has */
export function moveElement(draft: Raw, from: number, to: number): void {
  const form = formOf(draft);
  if (to < 0 || to >= form.length || to === from) return;
  const [e] = form.splice(from, 1);
  form.splice(to, 0, e!);
  const where = moved(from, to);
  renumber(draft, where);
  knobsFollow(draft, 'form', where);
}

export function duplicateElement(draft: Raw, layout: Layout, at: number): void {
  const copy = JSON.parse(JSON.stringify(formOf(draft)[at])) as RawItem;
  insertElement(draft, layout, at + 1, copy, lengthAt(layout, at));
}

/** Puts one element or several in place of one; together they are as long as it was. */
export function replaceElement(draft: Raw, at: number, elements: RawItem[]): void {
  const form = formOf(draft);
  const more = elements.length - 1;
  form.splice(at, 1, ...elements);
  for (const c of carvingsOf(draft))
    if (Array.isArray(c.over)) {
      const [a, b] = c.over as [number, number];
      c.over = [a > at ? a + more : a, b >= at ? b + more : b];
    }
  knobsFollow(draft, 'form', (k) => (k > at ? k + more : k));
}

/** Moves a carving in its list: later ones are cut into what earlier ones leave. */
export function moveCarving(draft: Raw, from: number, to: number): void {
  const list = carvingsOf(draft);
  if (to < 0 || to >= list.length) return;
  const [c] = list.splice(from, 1);
  list.splice(to, 0, c!);
  knobsFollow(draft, 'carvings', moved(from, to));
}

export function removeCarving(draft: Raw, at: number): void {
  carvingsOf(draft).splice(at, 1);
  knobsFollow(draft, 'carvings', (k) => (k === at ? undefined : k > at ? k - 1 : k));
}
