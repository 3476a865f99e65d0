/**
 * Where a bit that follows the first finds the rotary centre again once the form is turned: a place of the stock that no
 * program cuts.
 */
import { CLEARANCE } from '../../../shared/tolerances.ts';
import { type Blank, blankRadius } from '../blank.ts';
import type { Job, Tool } from '../job.ts';
import { turnedSpans } from '../work.ts';

/** Stock that must lie on either side of the tip, mm: sawn lengths and pencil lines are not truer. */
const MARGIN = 1;
/** Shortest stretch in which a tip can be set down by eye, mm. */
const SHORTEST = 1;
/** Steps along x in search of a place, mm. */
const STEP = 0.25;

/** Height of the stock's top over the rotary centre when the rotary stands on a whole turn. @returns mm */
export const topOf = (blank: Blank): number => blankRadius(blank, 0);

/** Whether a bit whose tip rests on the stock's top at x keeps clear of chuck, tailstock and brackets, its holder and the spindle's mount too. */
function clearAt(job: Job, { bit }: Tool, x: number): boolean {
  const top = topOf(job.blank);
  const nut = top + bit.stickOut;
  const parts = [
    { from: top, half: Math.max(bit.diameter, bit.shank) / 2 },
    { from: nut, half: bit.holder / 2 },
    { from: nut + bit.holderLength, half: job.bench.overhang ?? bit.holder / 2 },
  ];
  return job.keepOut.every((k) =>
    parts.every((p) => {
      const aside = p.half + CLEARANCE;
      return p.from >= k.radius + CLEARANCE || x + aside <= k.from || x - aside >= k.to;
    }),
  );
}

/**
 * Stretches between jaws and tailstock on which nothing is cut and the stock's top still stands.
 * @param tools that must all be able to stand there
 * @returns x of the middle of the longest of them, mm; undefined where there is none
 */
export function touchPlace(job: Job, tools: readonly Tool[]): number | undefined {
  const { blank, field, holding } = job;
  const cut = turnedSpans(job);
  const whole = (x: number) =>
    cut.every((s) => x + MARGIN <= s.from || x - MARGIN >= s.to) &&
    // A length that keeps its section can be drilled.
    field.holes.every((h) => Math.abs(x - h.x) >= h.diameter / 2 + MARGIN);
  const first = -holding.chuckStub + MARGIN;
  const count = Math.floor((blank.to - MARGIN - first) / STEP);
  let best = { from: 0, run: -1 };
  let from = Number.NaN;
  for (let i = 0; i <= count; i++) {
    const x = first + i * STEP;
    if (!whole(x) || !tools.every((t) => clearAt(job, t, x))) from = Number.NaN;
    else {
      if (Number.isNaN(from)) from = x;
      if (x - from > best.run) best = { from, run: x - from };
    }
  }
  return best.run < SHORTEST ? undefined : Math.round(2 * (best.from + best.run / 2)) / 2;
}
