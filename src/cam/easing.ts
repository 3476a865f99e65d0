/** Works out where a job must go more gently, from its strength at full feed. */
import { EASE_LEAST, type Ease, easeFor } from './ease.ts';
import type { Job } from './job.ts';
import { SAFE, type StageAnswer, type StageOfStrength, stagesOf, turnedShare } from './strength.ts';

/**
 * Give that roughing may cause, in allowances: the part springs back by as much, and finishing finds twice the skin, which is
 * still no full layer. Half an allowance cost a walking stick another hour of roughing and left nothing better to see.
 */
const ROUGHING_GIVE = 1;

/**
 * Shares of feed and layer along the bar.
 * @param job without an ease of its own @returns undefined where the full feed does everywhere
 */
export function easeOf(job: Job): Ease | undefined {
  const { ease: _none, ...plain } = job;
  const { edges: xs, rows, answers } = stagesOf(plain);
  const n = xs.length;
  const roughing = new Float64Array(n).fill(1);
  const finishing = new Float64Array(n).fill(1);
  const stepDown = new Float64Array(n).fill(1);
  for (let k = 0; k < n; k++) {
    // What the rotary slows already need not be slowed again.
    const turned = turnedShare(job, rows.finished[Math.min(k, n - 2)]!.largest);
    const fine = share(answers, 'finishing', k, job.tolerance);
    finishing[k] = fine >= 1 ? 1 : easeFor(fine * turned);
    const need = Math.min(
      share(answers, 'roughing', k, job.plan.allowance * ROUGHING_GIVE),
      share(answers, 'necking', k, Infinity),
    );
    roughing[k] = easeFor(need);
    if (need < EASE_LEAST) stepDown[k] = easeFor(need / EASE_LEAST);
  }
  const full = [roughing, finishing, stepDown].every((row) => row.every((share) => share === 1));
  return full ? undefined : { xs, roughing, finishing, stepDown };
}

/** Share of the force that keeps a stage's give within `most` and its stress within a half of the strength. */
function share(answers: readonly StageAnswer[], stage: StageOfStrength, k: number, most: number): number {
  const a = answers.find((answer) => answer.load.stage === stage);
  if (!a) return Infinity;
  return Math.min(most / a.give[k]!, a.bending[k]! / SAFE, a.torsion[k]! / SAFE);
}
