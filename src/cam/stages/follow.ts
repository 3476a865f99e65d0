/** From a course to a pass: how finely the work is followed, how many blocks that takes, and the cut itself. */
import { MM_PER_INCH, perSecond } from '../../../shared/units.ts';
import type { Sampling } from '../course.ts';
import { type EaseOf, easeOver } from '../ease.ts';
import type { Job, Tool } from '../job.ts';
import { LARGEST_TURN } from '../link.ts';
import type { Pass, StageName } from '../path.ts';
import { skimRound } from '../skim.ts';
import { type Samples, type Thinning, thin } from '../thin.ts';
import type { StageContext } from './context.ts';
import { PassBuilder } from './pass-builder.ts';

/** Shares of the finish tolerance: how far above the lowest tip a block may run, and what may hide between samples. */
const THINNING = 1 / 3;
const CHORD = 1 / 6;

/** Step of the control's last linear decimal, mm. */
export const quantumOf = (job: Pick<Job, 'control'>): number =>
  10 ** -job.control.decimals.linear * (job.control.units === 'inch' ? MM_PER_INCH : 1);

/** How finely the work is followed, from the job's tolerance and the control's decimals. */
export function samplingOf(job: Pick<Job, 'control' | 'tolerance'>): Sampling {
  const chord = job.tolerance * CHORD;
  return { chord, guard: chord / 2 + quantumOf(job) / 2 };
}

/** How blocks are saved: within a third of the tolerance, within two thirds where the control could not keep up. */
export function thinningOf(job: Pick<Job, 'control' | 'tolerance' | 'bench'>, feed_mm_min: number): Thinning {
  const quantum = quantumOf(job);
  const tolerance = Math.max(2 * quantum, job.tolerance * THINNING);
  return {
    tolerance,
    widest: 2 * tolerance,
    shortest: perSecond(feed_mm_min) / job.bench.blocksPerSecond,
    quantum,
    turn: LARGEST_TURN,
  };
}

/** Which share of a job's ease a stage takes. */
const easeOfStage = (stage: StageName): EaseOf =>
  stage === 'finishing' || stage === 'grooves' ? 'finishing' : 'roughing';

/**
 * Thins the samples of a course, cuts along them and lifts clear.
 * @param feed_mm_min full feed; where the part is slender the job's ease slows it
 * @param carved whether the map must follow where the work is not round (a later stage asks it); else it shows too much there
 * @returns undefined if the course is empty
 */
export function follow(
  ctx: StageContext,
  tool: Tool,
  samples: Samples,
  feed_mm_min: number,
  label: string,
  carved: boolean,
  stage: StageName = 'finishing',
): Pass | undefined {
  const { work, wood } = ctx;
  const kept = thin(samples, thinningOf(ctx.job, feed_mm_min));
  const pass = new PassBuilder(ctx, tool);
  const R = tool.bit.diameter / 2;
  const xs = Float64Array.from(kept.index, (i) => samples.x[i]);
  const thetas = Float64Array.from(kept.index, (i) => samples.theta[i]);
  for (let k = 0; k < xs.length; k++) {
    if (k === 0) {
      pass.approach(xs[0], kept.r[0], thetas[0]);
      continue;
    }
    const x0 = Math.max(work.from, Math.min(xs[k - 1], xs[k]) - 2 * R);
    const x1 = Math.min(work.to, Math.max(xs[k - 1], xs[k]) + 2 * R);
    const feed = feed_mm_min * easeOver(ctx.job.ease, easeOfStage(stage), xs[k - 1], xs[k]);
    if (carved && !work.isRound(x0, x1)) pass.cutTo(xs[k], kept.r[k], thetas[k], feed);
    else pass.trace(xs[k], kept.r[k], thetas[k], feed);
  }
  skimRound(wood, work, tool.bit, xs, kept.r, thetas);
  return pass.finish(stage, label);
}
