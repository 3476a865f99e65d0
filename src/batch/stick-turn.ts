/**
 * A piece turned end for end: half a turn about the line that stands up from the top flat, so that x becomes length − x and θ
 * becomes −θ. Nothing is mirrored: a right-hand screw is one from either end, and lettering stays readable.
 */
import type { Element } from '../profiles/elements/registry.ts';
import { BELLY_AT } from '../profiles/elements/vase.ts';
import { angleOf, atAngle, isWrung, type Piece, type PlacedCarving, turnOf, wrungBy } from './stick-piece.ts';

const FULL_TURN = 360;
/** Helices that come out this near to each other are one, degrees. */
const SAME_ANGLE = 1e-6;

/** @returns the piece turned end for end; undefined where the words of a document cannot say it (see `crossed`) */
export function endForEnd(piece: Piece): Piece | undefined {
  const wrung = wrungBy(piece);
  const carvings: PlacedCarving[] = [];
  for (const c of piece.carvings) {
    const back = turnedCarving(c, piece.length, wrung);
    if (!back) return undefined;
    carvings.push(back);
  }
  return {
    length: piece.length,
    form: piece.form.map(turnedElement).reverse(),
    carvings,
    ends: [piece.ends[1], piece.ends[0]],
  };
}

/** @param e written out: start and end both told where its kind has them */
function turnedElement(e: Element): Element {
  if (e.element === 'measured') return { ...e, readings: e.readings.map((r) => ({ ...r, at: 0 - r.at })).reverse() };
  const { start, end } = e as { start?: number; end?: number };
  const back = end === undefined ? e : ({ ...e, start: end, end: start } as Element);
  switch (back.element) {
    case 'scotia':
      return { ...back, large: back.large === 'tail' ? 'chuck' : 'tail' };
    case 'vase':
      return { ...back, at: 1 - (back.at ?? BELLY_AT) };
    case 'spline':
      return { ...back, points: back.points.map((p) => ({ ...p, at: 1 - p.at })).reverse() };
    case 'pommel': {
      const other = { chuck: 'tail', tail: 'chuck', both: 'both', none: 'none' } as const;
      return { ...back, shoulders: other[back.shoulders ?? 'both'] };
    }
    default:
      return back;
  }
}

/** @param wrung how far the piece's twists turn what lies behind them, degrees */
function turnedCarving(c: PlacedCarving, length: number, wrung: number): PlacedCarving | undefined {
  const back = { ...c, from: Math.max(0, length - c.to), to: length - c.from } as PlacedCarving;
  if (back.carving === 'twist') return back;
  if (back.carving === 'holes') {
    // Rows are counted from the other side: of an even number the staggered ones change places.
    const staggered = back.staggered === true && (back.rows ?? 1) % 2 === 0;
    return atAngle(back, (staggered ? FULL_TURN / (2 * back.count) : 0) - angleOf(c));
  }
  const ends = back.ends ?? 'round';
  const swapped = { ...back, ends: back.tailEnd ?? ends, tailEnd: ends } as PlacedCarving;
  // Where it ended, seen from the other side, it now begins; the twists that lay before it there now lie behind it.
  const first = -(angleOf(c) + turnOf(c)) - (isWrung(c) ? wrung : 0);
  if (c.carving === 'crossed') {
    // Both hands start at one angle; at the other end they meet again only after whole steps.
    const apart = (2 * turnOf(c)) / (FULL_TURN / c.starts);
    if (Math.abs(apart - Math.round(apart)) * (FULL_TURN / c.starts) > SAME_ANGLE) return undefined;
  }
  return atAngle(swapped, first);
}
