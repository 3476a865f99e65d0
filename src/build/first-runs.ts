/** The turn test and the air run of a job under their file names, each proven, or left out with a word why. */
import type { Problem } from '../../shared/problems.ts';
import { offsetsOf } from '../cam/control.ts';
import { airRun, axialEnds, type FirstRun, turnTest } from '../cam/first-runs.ts';
import type { Job } from '../cam/job.ts';
import { proveFirstRun } from '../cam/proof/first-run.ts';
import type { BuiltProgram } from './programs.ts';
import { proofJobOf } from './proof-job.ts';

export interface BuiltFirstRun extends FirstRun {
  readonly file: string;
}

/** @param programs as built @returns what may be handed over, in the order of running, and what is said of the rest */
export function firstRuns(
  slug: string,
  job: Job,
  programs: readonly BuiltProgram[],
): { runs: BuiltFirstRun[]; problems: Problem[] } {
  const offsets = offsetsOf(job);
  const question = proofJobOf(job, []);
  const written = programs.map((p) => p.written);
  const { bit, limits } = job.tools.roughing;
  const { stepDown, rampAngle_deg, plunge } = limits;
  const problems: Problem[] = [];
  const runs = [turnTest(job, offsets), airRun(job, written, offsets)].flatMap((run): BuiltFirstRun[] => {
    const file = `${slug}-0-${run.name}.nc`;
    const text = { file, text: run.text, bit, stepDown, rampAngle_deg, plunge };
    const wrong = proveFirstRun(question, text, axialEnds(job, written, offsets)).find((f) => f.severity === 'refuse');
    if (!wrong) return [{ ...run, file }];
    problems.push({
      code: 'first-run',
      severity: 'warn',
      path: file,
      message: `the ${run.name === 'air-run' ? 'air run' : 'turn test'} is left out, because the proof refuses it: ${wrong.message} (line ${wrong.line})`,
      allowed: wrong.fix,
    });
    return [];
  });
  return { runs, problems };
}
