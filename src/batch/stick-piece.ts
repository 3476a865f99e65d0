/** A piece made ready to share a stick: every length, diameter and depth written out, so that it looks the same wherever it is put. */
import type { Problem } from '../../shared/problems.ts';
import type { Part } from '../part/document.ts';
import { outlineBounds } from '../profiles/bounds.ts';
import { reachOf } from '../profiles/carve.ts';
import { handSign } from '../profiles/carving.ts';
import type { Carving } from '../profiles/carvings/registry.ts';
import { type Element, elementKind } from '../profiles/elements/registry.ts';
import { layOut, type PlacedElement } from '../profiles/layout.ts';
import { turnedOutline } from '../profiles/outline.ts';
import { turnsOf } from '../profiles/pitch.ts';
import type { Section } from '../profiles/section.ts';

/** A form without shares, girth or inherited diameters; lengths in mm from its own chuck-side face. */
export interface Piece {
  readonly length: number;
  readonly form: readonly Element[];
  readonly carvings: readonly PlacedCarving[];
  /** Diameters of the turned outline at its chuck-side and tail-side face, mm. */
  readonly ends: readonly [chuck: number, tail: number];
}

export type PlacedCarving = Carving & { readonly from: number; readonly to: number };

/** Diameters and rises by kind of element that girth scales, other than start and end. */
const SCALED = ['rise', 'depth', 'belly'] as const;

type Loose = Record<string, unknown>;
const scaled = (loose: Loose, keys: readonly string[], by: number): void => {
  for (const key of keys) if (typeof loose[key] === 'number') loose[key] = (loose[key] as number) * by;
};
const without = (loose: Loose, ...keys: string[]): Loose =>
  Object.fromEntries(Object.entries(loose).filter(([key, value]) => value !== undefined && !keys.includes(key)));

/**
 * Writes a part's form out.
 * @param section of the stick that it will be cut from, for pommels
 * @returns the piece, or what is wrong with its form, with paths in its own document
 */
export function pieceOf(part: Part, section: Section): { piece: Piece } | { problems: Problem[] } {
  const { placed, length, problems } = layOut(part, section);
  if (problems.length) return { problems };
  const girth = part.girth ?? 1;
  const form = placed.map((p, k) => writtenOut(part.form[p.index]!, p, placed[k - 1], girth));
  const outline = turnedOutline(placed, length);
  const carvings: PlacedCarving[] = [];
  for (const [index, c] of (part.carvings ?? []).entries()) {
    const reach = reachOf(c, outline, girth, (x0, x1) => outlineBounds(outline, x0, x1));
    if ('at' in reach)
      return {
        problems: [
          {
            code: 'carving-range',
            severity: 'refuse',
            path: `carvings[${index}].${reach.at}`,
            message: reach.message,
            allowed: reach.allowed,
          },
        ],
      };
    const e = structuredClone(c) as unknown as Loose;
    if (c.carving !== 'holes') scaled(e, ['depth', 'across', 'width'], girth);
    carvings.push(without({ ...e, from: reach.from, to: reach.to }, 'over', 'inset') as unknown as PlacedCarving);
  }
  const first = placed[0]!;
  const last = placed.at(-1)!;
  return { piece: { length, form, carvings, ends: [first.start, last.end] } };
}

/** Radius from which an element that names none starts. */
const handedOn = (p: PlacedElement): number => p.outline.next ?? p.outline.radius(p.to - p.from, -1);

/** An element with its length, both diameters and everything that girth scales written out. */
function writtenOut(element: Element, p: PlacedElement, before: PlacedElement | undefined, girth: number): Element {
  const length = p.to - p.from;
  // A fillet's band stands above what came before it: alone, it is a straight length.
  if (element.element === 'fillet') return { element: 'cylinder', length, start: p.start };
  const e = structuredClone(element) as unknown as Loose;
  scaled(e, SCALED, girth);
  const thicker = <T extends { diameter: number }>(list: T[]) =>
    list.map((q) => ({ ...q, diameter: q.diameter * girth }));
  if (element.element === 'measured')
    return { ...without(e, 'share'), length, readings: thicker(element.readings) } as Element;
  if (element.element === 'spline') e.points = thicker(element.points);
  e.start = element.start === undefined ? (before ? 2 * handedOn(before) : p.start) : element.start * girth;
  if ('end' in elementKind(element.element).schema.shape) e.end = 2 * handedOn(p);
  return { ...without(e, 'share', 'goes', 'projection'), length } as unknown as Element;
}

/** How far a carving turns over its range, degrees, right-hand counted up; 0 for one that does not. */
export function turnOf(c: PlacedCarving): number {
  const loose = c as unknown as { turns?: number; pitch?: number; hand?: 'right' | 'left' };
  const winds = c.carving === 'lobes' || c.carving === 'groove' || c.carving === 'crossed';
  const turns = winds ? turnsOf(loose, c) : (loose.turns ?? 0);
  return handSign(loose.hand) * turns * DEGREES;
}
/** How far a piece's twists turn what lies behind them, degrees. */
export const wrungBy = (piece: Piece): number =>
  piece.carvings.filter((c) => c.carving === 'twist').reduce((sum, c) => sum + turnOf(c), 0);

/** Carvings that a twist turns with it. */
export const isWrung = (c: Carving): boolean =>
  c.carving === 'flutes' || c.carving === 'reeds' || c.carving === 'facets' || c.carving === 'lobes';

const DEGREES = 360;

/** The same carving with its first feature at another angle. @param turned degrees, any */
export function atAngle(c: PlacedCarving, turned: number): PlacedCarving {
  // Half a turn either way is the same: told in (−180°, 180°], free of the last bits of rounding.
  const wrapped = turned - DEGREES * Math.ceil(turned / DEGREES - 0.5);
  const tidy = Number(wrapped.toFixed(9)) || 0;
  const { turned: _before, ...rest } = c as PlacedCarving & { turned?: number };
  return (tidy === 0 ? rest : { ...rest, turned: tidy }) as PlacedCarving;
}
export const angleOf = (c: PlacedCarving): number => (c as { turned?: number }).turned ?? 0;
