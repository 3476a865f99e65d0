/** How fine the rays stand: as fine as the smallest bit end and the narrowest hollow ask, as coarse as time and memory allow. */
import type { Field } from '../../profiles/field.ts';
import type { Fineness } from './grid.ts';
import type { Shape } from './shape.ts';

/** Between two rays a round end may dip by this much unseen, mm: s²/(8R). */
const UNSEEN = 0.003;
const COARSEST = 0.25;
const FINEST = 0.12;
/** Rays at the most: 700 mm of a ⌀45 part at 0.2 mm, 30 MB with all that hangs on a ray. */
const MOST = 2_600_000;
/** Rays across a groove or flute at the least. */
const ACROSS = 6;

/** @param shapes of all bits of the job @returns cell size and bounds for the grid */
export function finenessOf(field: Field, shapes: readonly Shape[], tolerance: number): Fineness {
  const ends = shapes.map((s) => (s.kind === 'tapered-ball' ? s.q : s.kind === 'vee' ? FINEST : s.R));
  const end = Math.min(...ends, 10);
  const narrow = Math.min(...field.guides.map((g) => g.width / ACROSS), COARSEST);
  const cell = Math.min(Math.max(FINEST, Math.min(Math.sqrt(8 * end * UNSEEN), narrow)), COARSEST);
  return { cell, most: MOST, tolerance };
}
