/** Where each carving lies and what its bar says. Pure. */
import type { Part } from '../../part.ts';
import { outlineBounds } from '../../profiles/bounds.ts';
import { reachOf } from '../../profiles/carve.ts';
import { type Carving, carvingKind } from '../../profiles/carvings/registry.ts';
import type { Layout } from '../../profiles/layout.ts';
import { turnedOutline } from '../../profiles/outline.ts';
import { lengthNumber, lengthText, type ShownUnits } from '../measure.ts';

export interface CarvingBar {
  index: number;
  from: number;
  to: number;
  /** Length of its run-out at each end, mm; 0 where it is cut off square. */
  chuckRun: number;
  tailRun: number;
  /** Whether it lies over elements and stretches with them. */
  held: boolean;
  words: string;
}

function wordsOf(c: Carving, shown: ShownUnits): string {
  const { count, depth, turns, hand } = c as { count?: number; depth?: number; turns?: number; hand?: string };
  return [
    `${count ? `${count} ` : ''}${carvingKind(c.carving).label}`,
    ...(depth ? [`${lengthText(depth, shown)} deep`] : []),
    ...(turns ? [`${lengthNumber(turns, 'mm', 0.01)} turn${turns === 1 ? '' : 's'} ${hand ?? 'right'}`] : []),
  ].join(' · ');
}

/** @returns a bar for each carving that lies somewhere; one with impossible ends is left out */
export function carvingBars(part: Part, layout: Layout, shown: ShownUnits): CarvingBar[] {
  if (!part.carvings?.length || !layout.placed.length) return [];
  const outline = turnedOutline(layout.placed, layout.length);
  return part.carvings.flatMap((c, index) => {
    const reach = reachOf(c, outline, part.girth ?? 1, (a, b) => outlineBounds(outline, a, b));
    if ('message' in reach) return [];
    const run = (end: string) => (end === 'square' ? 0 : reach.run);
    return [
      {
        index,
        from: reach.from,
        to: reach.to,
        chuckRun: run(reach.chuckEnd),
        tailRun: run(reach.tailEnd),
        held: c.over !== undefined,
        words: wordsOf(c, shown),
      },
    ];
  });
}

/** The nearest of the element edges, if it is near enough; else the place itself. All mm. */
export function magnet(x: number, layout: Layout, within: number): number {
  const edges = [0, ...layout.placed.map((p) => p.to)];
  const best = edges.reduce((a, b) => (Math.abs(b - x) < Math.abs(a - x) ? b : a), Infinity);
  return Math.abs(best - x) <= within ? best : x;
}

/** First and last element that a stretch touches, for `over`. */
export function elementsUnder(from: number, to: number, layout: Layout): [number, number] {
  const touched = layout.placed.filter((p) => p.to > from + 1e-6 && p.from < to - 1e-6).map((p) => p.index);
  return [touched[0] ?? 0, touched.at(-1) ?? layout.placed.length - 1];
}
