/** Cutting taken up again after a stop: the program that starts at a pass, proven on the wood as it then is. */
import type { Problem } from '../../shared/problems.ts';
import { offsetsOf } from '../cam/control.ts';
import type { Job, Plan } from '../cam/job.ts';
import { prove } from '../cam/proof/prove.ts';
import type { Progress, Proof, ProofJob } from '../cam/proof/verdict.ts';
import { writeFrom } from '../cam/write.ts';
import { type BuiltProgram, proofText } from './programs.ts';
import { proofJobOf } from './proof-job.ts';

export interface Restart {
  readonly program: BuiltProgram;
  /** Place in the run order, from 0, of the program that was stopped; those after it follow as they are. */
  readonly stopped: number;
  /** 1-based line of that program before which everything is cut. */
  readonly until: number;
}

/**
 * Writes the program that starts at a pass.
 * @param programs as built, of the whole plan @param pass its restart number, from 1
 * @returns undefined where no program has that pass
 */
export function restartFrom(
  job: Job,
  plan: Plan,
  programs: readonly BuiltProgram[],
  pass: number,
): Restart | undefined {
  const stopped = programs.findIndex((p) => p.written.passLines.some((l) => l.restart === pass));
  const old = programs[stopped];
  const written = old && writeFrom(job, plan.programs, pass, old.written.rezeroed, offsetsOf(job));
  if (!written) return undefined;
  return {
    program: {
      file: old.file.replace(/\.nc$/, `-from-${pass}.nc`),
      text: written.text,
      written,
      tools: written.sections.map((s) => s.tool),
    },
    stopped,
    until: old.written.passLines.find((l) => l.restart === pass)!.line,
  };
}

/** What the proof is asked: everything up to the stop as it was cut, then the new program, then those that follow. */
export function restartQuestion(job: Job, programs: readonly BuiltProgram[], restart: Restart): ProofJob {
  const texts = programs.map(proofText);
  const before = texts.slice(0, restart.stopped);
  const cut = { ...texts[restart.stopped]!, until: restart.until };
  return {
    ...proofJobOf(job, programs),
    programs: [...before, cut, proofText(restart.program), ...texts.slice(restart.stopped + 1)],
  };
}

/** @returns the proof of the whole part cut in two goes, and what forbids it, if anything does */
export function proveRestart(
  job: Job,
  programs: readonly BuiltProgram[],
  restart: Restart,
  progress?: Progress,
): { proof: Proof; problems: Problem[] } {
  const proof = prove(restartQuestion(job, programs, restart), progress);
  const worst = proof.findings.filter((f) => f.severity === 'refuse');
  return {
    proof,
    problems: worst.map((f) => ({
      code: 'restart',
      severity: 'refuse',
      path: restart.program.file,
      message: `cutting cannot be taken up again there: ${f.message}${f.line ? ` (line ${f.line})` : ''}`,
      allowed: 'start a pass or a few before it',
    })),
  };
}

/** What is said where no program has the pass that was asked for. */
export function noSuchPass(programs: readonly BuiltProgram[], pass: number): Problem {
  const last = programs.at(-1)?.written.passLines.at(-1)?.restart ?? 0;
  return {
    code: 'out-of-limits',
    severity: 'refuse',
    path: '--from-pass',
    message: `there is no pass ${pass}`,
    allowed: `1 to ${last}: the number after "restart" in the pass's comment`,
  };
}
