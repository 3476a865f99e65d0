/** Builds a document as the command line does, for tests of the whole pipeline. */
import { problemLine } from '../../shared/problems.ts';
import { proofJobOf } from '../../src/build/proof-job.ts';
import { type BuildOptions, type Built, build } from '../../src/build.ts';
import type { ProofJob } from '../../src/cam/proof/verdict.ts';
import { checkPart } from '../../src/part.ts';

/** @param raw a document @throws Error with all problems if it is none */
export function buildRaw(raw: Record<string, unknown>, options: BuildOptions = {}): Promise<Built> {
  const checked = checkPart(raw);
  if (!('part' in checked)) throw new Error(checked.problems.map(problemLine).join('; '));
  return build(checked.part, options);
}

/** The question that was put to the proof of a build. */
export function questionOf(built: Built): ProofJob {
  if (!built.job) throw new Error('a build without a job');
  return proofJobOf(built.job, built.programs);
}

/** What a proof refuses, a line each: empty for a proven build. */
export const refusals = (built: Built): string[] => [
  ...built.problems.filter((p) => p.severity === 'refuse').map(problemLine),
  ...(built.proof?.findings ?? [])
    .filter((f) => f.severity === 'refuse')
    .map((f) => `${f.file}:${f.line}: ${f.code}: ${f.message}`),
];
