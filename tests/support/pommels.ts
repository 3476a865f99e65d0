/** A turned wave between square pommels: a stand-in for balusters and legs. */
import type { Field } from '../../src/profiles/field.ts';
import { fieldFrom } from './fields.ts';

const square = (half: number, theta: number) => half / Math.max(Math.abs(Math.cos(theta)), Math.abs(Math.sin(theta)));

/**
 * @param side of the square blank, mm @param kept ranges of the pommels
 * @param slope length over which the tail end of each pommel is sloped at 45°, mm; 0 for a square shoulder
 */
export function pommels(length: number, side: number, kept: { from: number; to: number }[], slope = 0): Field {
  const half = side / 2;
  const at = (x: number, side_: number) =>
    kept.find((k) => (x > k.from && x < k.to) || (x === k.from && side_ >= 0) || (x === k.to && side_ <= 0));
  const field = fieldFrom({
    length,
    symmetry: 4,
    kept,
    breaks: kept
      .flatMap((k) => [k.from, k.to])
      .filter((x) => x > 0 && x < length)
      .map((x) => ({ x, kind: 'shoulder' as const })),
    radius: (x, theta, s) => {
      const k = at(x, s);
      if (!k) return half * 0.6 + half * 0.2 * Math.cos(x / 20);
      const cap = slope > 0 && k.to < length ? half * Math.SQRT2 - Math.max(0, x - (k.to - slope)) : Infinity;
      return Math.min(square(half, theta), cap);
    },
    creases: (x) => (at(x, 0) ? [1, 3, 5, 7].map((q) => (q * Math.PI) / 4) : []),
  });
  const round = (x0: number, x1: number) => !kept.some((k) => k.from <= x1 && k.to >= x0);
  return { ...field, isRound: round };
}
