/** What the proof is asked about a job's programs: plain data and text, nothing that the planner knows beyond that. */
import { offsetsOf } from '../cam/control.ts';
import type { Job } from '../cam/job.ts';
import type { ProofJob } from '../cam/proof/verdict.ts';
import { type Provable, proofText } from './programs.ts';

/** @param job resolved @param programs in run order @returns the question that `prove` answers */
export const proofJobOf = (job: Job, programs: readonly Provable[]): ProofJob => ({
  field: job.field,
  blank: job.blank,
  stubs: job.stubs,
  keepOut: job.keepOut,
  bench: job.bench,
  control: job.control,
  offsets: offsetsOf(job),
  tolerance: job.tolerance,
  scallop: job.plan.scallop,
  surfaceBits: [job.tools.finishing, ...job.tools.detail].map((t) => t.bit),
  programs: programs.map(proofText),
});
