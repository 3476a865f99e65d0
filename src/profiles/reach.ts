/** Where along x a carving is, and how deep it stands there: its run-out. */
import { convexQuadrant } from './element.ts';
import type { Break } from './field.ts';

export const endShapes = ['round', 'straight', 'square'] as const;
export type EndShape = (typeof endShapes)[number];

export interface Reach {
  readonly from: number;
  readonly to: number;
  readonly chuckEnd: EndShape;
  readonly tailEnd: EndShape;
  /** Length of one run-out, mm; at most half the range. */
  readonly run: number;
}

function rise(shape: EndShape, s: number): number {
  return shape === 'square' || s >= 1 ? 1 : shape === 'round' ? convexQuadrant(s) : s;
}

/** Share of the full depth at x: 1 but in the run-outs, 0 outside. `side` decides at a square end. */
export function depthShare(reach: Reach, x: number, side: -1 | 1): number {
  const { from, to, run } = reach;
  if (x < from || x > to || (x === from && side < 0) || (x === to && side > 0)) return 0;
  return Math.min(rise(reach.chuckEnd, (x - from) / run), rise(reach.tailEnd, (to - x) / run));
}

/** Smallest and largest share over [x0, x1], both limits at square ends included. */
export function depthShares(reach: Reach, x0: number, x1: number): [number, number] {
  const { from, to } = reach;
  if (x1 < from || x0 > to) return [0, 0];
  const middle = Math.min(x1, Math.max(x0, (from + to) / 2));
  const most = Math.max(depthShare(reach, middle, 1), depthShare(reach, middle, -1));
  const least = x0 <= from || x1 >= to ? 0 : Math.min(depthShare(reach, x0, 1), depthShare(reach, x1, -1));
  return [least, most];
}

/** Its ends and the ends of its run-outs; a square end of something that has depth is a shoulder. */
export function reachBreaks(reach: Reach): Break[] {
  const { from, to, run } = reach;
  const breaks: Break[] = [
    { x: from, kind: reach.chuckEnd === 'square' ? 'shoulder' : 'edge' },
    { x: to, kind: reach.tailEnd === 'square' ? 'shoulder' : 'edge' },
  ];
  if (reach.chuckEnd !== 'square') breaks.push({ x: from + run, kind: 'edge' });
  if (reach.tailEnd !== 'square') breaks.push({ x: to - run, kind: 'edge' });
  return breaks;
}
