/** An element of the palette, shaped so that it is possible where it is put down. Pure. */
import { defaultElement, type ElementName, elementKind } from '../../profiles/elements/registry.ts';
import type { Layout } from '../../profiles/layout.ts';
import type { Raw } from '../state/contract.ts';
import { derive } from '../state/derive.ts';
import { insertElement, type RawItem, SHORTEST, writtenElement } from './form-edits.ts';

/** Thickness that an example is thought to follow where it names no diameter of its own; as the palette draws it, mm. */
const DRAWN_BEHIND = 30;
/** A parting cut goes below its neighbours, but leaves this much so that the part does not come off by itself (common practice), mm. */
const LEAST_NECK = 6;
/** What is tried one after another: shares of the size that suits the diameter at hand. */
const SHARES = [1, 0.7, 0.5, 0.35, 0.25, 0.15, 0.1, 0.05];

const tenth = (mm: number) => Number(mm.toFixed(1));

/**
 * The palette's example behind a diameter: its lengths in proportion, but never longer than they are drawn, its diameters as far
 * from the one at hand as from its own first one.
 * @param here diameter that it follows, of the document (girth left out), mm @param share of that size, 0…1
 */
export function scaledExample(kind: ElementName, here: number, share: number): RawItem {
  const element = defaultElement(kind) as unknown as RawItem;
  const readings = element.readings as { at: number; diameter: number }[] | undefined;
  const parting = kind === 'parting';
  const own = (parting ? undefined : (element.start as number | undefined)) ?? readings?.[0]?.diameter ?? DRAWN_BEHIND;
  // A pommel keeps the blank's section: how thick the turned part before it is says nothing about its size.
  const scale = (kind === 'pommel' ? 1 : Math.min(1, here / own)) * share;
  const across = (diameter: number) => tenth(here + (diameter - own) * scale);
  const along = (mm: number) => Math.max(SHORTEST, tenth(mm * scale));
  const made: RawItem = { ...element };
  for (const key of ['length', 'run'] as const) if (key in element) made[key] = along(Number(element[key]));
  for (const key of ['rise', 'depth'] as const)
    if (key in element)
      made[key] = Math.sign(Number(element[key])) * Math.max(0.1, tenth(Math.abs(Number(element[key]) * scale)));
  for (const key of ['end', 'belly'] as const) if (key in element) made[key] = across(Number(element[key]));
  // It goes on where the element before it ends, whatever becomes of that one later.
  if (parting) made.start = Math.max(across(Number(element.start)), Math.min(here, LEAST_NECK));
  else delete made.start;
  if (Array.isArray(element.points))
    made.points = (element.points as { diameter: number }[]).map((p) => ({ ...p, diameter: across(p.diameter) }));
  if (readings)
    made.readings = readings.map((r) => ({
      ...r,
      at: Number((r.at * scale).toFixed(2)),
      diameter: across(r.diameter),
    }));
  return made;
}

const refusals = (raw: Raw): number => derive(raw).problems.filter((p) => p.severity === 'refuse').length;

/**
 * The largest shape of a kind that refuses nothing that was not refused before.
 * @param layout of the document @param at index that it shall get @param girth of the part
 * @returns the element as the document writes it, and its length, mm; the one that suits the diameter where none is possible
 */
export function addedElement(
  raw: Raw,
  layout: Layout,
  at: number,
  kind: ElementName,
  girth: number,
): { element: RawItem; length: number } {
  const before = layout.placed[at - 1];
  const tried = SHARES.map((share) => {
    const radius = before && (before.outline.next ?? before.outline.radius(before.to - before.from, -1));
    const mm = radius ? scaledExample(kind, (2 * radius) / girth, share) : (defaultElement(kind) as unknown as RawItem);
    const length = Number(mm.length ?? elementKind(kind).natural?.(mm as never));
    return { element: writtenElement(raw, mm), length };
  });
  const now = refusals(raw);
  const possible = tried.find(({ element, length }) => {
    const trial = structuredClone(raw);
    insertElement(trial, layout, at, structuredClone(element), length);
    return refusals(trial) <= now;
  });
  return possible ?? tried[0]!;
}
