/**
 * Splitting an element and turning it end for end. Where the kind can say the new outline itself, it stays that kind;
 * where it cannot, the outline is kept as readings. Pure; everything in mm before girth.
 */
import type { z } from 'zod';
import { choicesOf } from '../../part/walk.ts';
import { type Element, elementKind, elementKinds, elementSchema } from '../../profiles/elements/registry.ts';
import type { PlacedElement } from '../../profiles/layout.ts';
import type { Section } from '../../profiles/section.ts';
import { stations } from './outline-path.ts';

/** Outlines nearer than this everywhere are one, mm. */
const SAME = 0.01;
/** Readings nearer than this to an end are the end's, mm: rounded, they would fall on it. */
const NEAR = 0.01;
const tidy = (v: number) => Number(v.toFixed(4));

type Loose = { [key: string]: unknown };

/** A stretch of a placed outline, perhaps walked backward: what the new element has to look like. */
interface Wanted {
  length: number;
  radius(u: number, side: -1 | 1): number;
  stations: number[];
}

function stretch(p: PlacedElement, from: number, to: number, backward: boolean): Wanted {
  const us = stations(p, 12).filter((u) => u > from + NEAR && u < to - NEAR);
  const all = [from, ...us, to];
  const length = to - from;
  return {
    length,
    stations: backward ? all.map((u) => to - u).reverse() : all.map((u) => u - from),
    radius: (u, side) =>
      backward ? p.outline.radius(to - u, (-side || 1) as -1 | 1) : p.outline.radius(from + u, side),
  };
}

/** Whether an element, standing alone between its own diameters, has the wanted outline. */
function fits(e: Loose, wanted: Wanted, girth: number, section: Section | undefined): boolean {
  if (!elementSchema.safeParse(e).success) return false;
  const { start, end } = e as { start?: number; end?: number };
  const made = elementKind(String(e.element)).outline(e as never, {
    length: wanted.length,
    start: ((start ?? (2 * wanted.radius(0, 1)) / girth) / 2) * girth,
    end: end === undefined ? undefined : (end / 2) * girth,
    girth,
    section,
  });
  if (typeof made === 'string') return false;
  return wanted.stations.every((u) => {
    const side = u === 0 ? 1 : -1;
    return Math.abs(made.radius(u, side) - wanted.radius(u, side)) < SAME;
  });
}

/** The wanted outline as readings taken from it. */
function asReadings(wanted: Wanted, girth: number, extent: Loose): Loose {
  return {
    element: 'measured',
    ...extent,
    readings: wanted.stations.map((u) => ({
      at: tidy(u),
      diameter: tidy((2 * wanted.radius(u, u === 0 ? 1 : -1)) / girth),
    })),
  };
}

function shaped(
  e: Loose,
  p: PlacedElement,
  wanted: Wanted,
  girth: number,
  section: Section | undefined,
  extent: Loose,
): Loose | undefined {
  const shape = elementKind(String(e.element)).schema.shape as Record<string, z.ZodType>;
  const sized = (key: 'start' | 'end', u: number, side: 1 | -1) =>
    key in shape ? { [key]: tidy((2 * wanted.radius(u, side)) / girth) } : {};
  const { length: _length, share: _share, ...rest } = e;
  const own: Loose = { ...rest, ...extent, ...sized('start', 0, 1), ...sized('end', wanted.length, -1) };
  const turned: Loose = { ...own };
  if (typeof e.at === 'number') turned.at = tidy(1 - e.at);
  if (Array.isArray(e.points))
    turned.points = (e.points as { at: number }[]).map((p) => ({ ...p, at: tidy(1 - p.at) })).reverse();
  const others = elementKinds
    .filter((k) => k.kind !== e.element && k.kind !== 'measured')
    .map((k) => ({ ...own, element: k.kind }));
  const shoulders = shape.shoulders ? choicesOf(shape.shoulders).map((shoulders) => ({ ...own, shoulders })) : [];
  const found = [own, turned, ...shoulders, ...others].find((c) => fits(c, wanted, girth, section));
  // Readings are round: they cannot stand for a length that keeps the blank's section.
  return found ?? (p.outline.kept ? undefined : asReadings(wanted, girth, extent));
}

/** Its length or its share, for a part of it. */
function extentOf(e: Loose, p: PlacedElement, mm: number): Loose {
  return typeof e.share === 'number' ? { share: tidy((e.share * mm) / (p.to - p.from)) } : { length: tidy(mm) };
}

/**
 * Two elements in place of one.
 * @param e the element in mm @param at where, as a share of its length, 0…1 @param girth of the form @param section of the blank, for pommels
 * @returns undefined if no elements have its two halves
 */
export function split(
  e: Element,
  p: PlacedElement,
  at: number,
  girth: number,
  section?: Section,
): [Loose, Loose] | undefined {
  const length = p.to - p.from;
  const cut = length * at;
  const part = (a: number, b: number) => shaped(e, p, stretch(p, a, b, false), girth, section, extentOf(e, p, b - a));
  const [first, second] = [part(0, cut), part(cut, length)];
  return first && second && [first, second];
}

/** The element turned end for end. @returns undefined if no element looks like that */
export function turnedRound(e: Element, p: PlacedElement, girth: number, section?: Section): Loose | undefined {
  const length = p.to - p.from;
  return shaped(e, p, stretch(p, 0, length, true), girth, section, extentOf(e, p, length));
}
