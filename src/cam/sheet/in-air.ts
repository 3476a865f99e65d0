/** How a program is run in air above the work: how far its zero is lifted for it, and whether the bench has room for that. */
import { offsetsOf, positionOf, wordsFor } from '../control.ts';
import type { Job, Tool } from '../job.ts';
import type { Extents } from '../program-lines.ts';
import { type LengthText, plain } from './html.ts';

/** @returns mm that every program must run higher so that its lowest point passes over the stock's corners, a whole number */
export function liftInAir(job: Job, programs: readonly { readonly extents: Extents }[]): number {
  return Math.ceil(job.safeRadius - Math.min(...heights(job, programs).map(([low]) => low)));
}

/** Lowest and highest radius of each program's tip, mm. */
const heights = (job: Job, programs: readonly { readonly extents: Extents }[]): [number, number][] =>
  programs.map((p) => {
    const [a, b] = p.extents.radial.map(
      (radial) => positionOf(job.control, { axial: 0, radial, rotary: 0 }, offsetsOf(job)).r,
    ) as [number, number];
    return [Math.min(a, b), Math.max(a, b)];
  });

/**
 * @param programs in the order of running, each with its bits
 * @returns a sentence or two: what to type before and after, or how else it is done where the spindle cannot go that high
 */
export function airText(
  job: Job,
  programs: readonly { readonly extents: Extents; readonly tools: readonly Tool[] }[],
  len: LengthText,
): string {
  const { control, bench } = job;
  const ra = control.radial.letter;
  const lift = liftInAir(job, programs);
  const highest = heights(job, programs).map(([, high], i) => {
    const out = programs[i]!.tools.map((t) => t.bit.stickOut);
    return high + lift + Math.max(...out);
  });
  if (Math.max(...highest) > bench.roomAbove)
    return `In air: a program would run ${len(lift)} higher; this bench has no room for that. Run each with its bit before the stock is mounted: chuck empty, tailstock back.`;
  const word = wordsFor(control, 0, lift, 0).radial;
  const by = plain(Math.abs(word), control.decimals.linear);
  const [before, after] = word > 0 ? ['less', 'plus'] : ['plus', 'less'];
  return `In air, ${len(lift)} higher: type for ${ra} what it reads ${before} ${by}; to cut, what it reads ${after} ${by}.`;
}
