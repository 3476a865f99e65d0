/** What a clock on the wall would show. The reel runs at the feeds that are asked for; what it costs to speed up and slow down is estimated by stage. Pure. */
import type { Reel } from '../../cam/proof/reel.ts';

/** A refused program is kept under a name that says so; its stages are told under its own. */
const own = (file: string): string => file.replace('.UNPROVEN', '');

/**
 * @param stretches of the reel, one after another @param stages with their estimated times, s
 * @returns from a time of the reel, s, to that of the estimate, s: straight within each stretch, in the proportion of its stage
 */
export function wallClock(
  stretches: Reel['stretches'],
  stages: readonly { readonly file: string; readonly stage: string; readonly time_s: number }[],
): (t: number) => number {
  const same = (a: { file: string; stage: string }, b: { file: string; stage: string }) =>
    own(a.file) === own(b.file) && a.stage === b.stage;
  const ends: { from: number; to: number; begins: number; rate: number }[] = [];
  let told = 0;
  for (const s of stretches) {
    const played = stretches.filter((o) => same(o, s)).reduce((sum, o) => sum + o.to_s - o.from_s, 0);
    const estimated = stages.filter((o) => same(o, s)).reduce((sum, o) => sum + o.time_s, 0);
    const rate = played > 0 && estimated > 0 ? estimated / played : 1;
    ends.push({ from: s.from_s, to: s.to_s, begins: told, rate });
    told += (s.to_s - s.from_s) * rate;
  }
  return (t) => {
    const at = ends.findLast((e) => e.from <= t) ?? ends[0];
    return at ? at.begins + (Math.min(t, at.to) - at.from) * at.rate : t;
  };
}
