/** What the setup sheet is told, from what the pipeline has found. */
import type { Problem } from '../../shared/problems.ts';
import type { Job } from '../cam/job.ts';
import type { Price } from '../cam/price.ts';
import type { Proof } from '../cam/proof/verdict.ts';
import type { SheetFacts } from '../cam/sheet/facts.ts';
import type { Strength } from '../cam/strength.ts';
import type { Part } from '../part/document.ts';
import type { BuiltFirstRun } from './first-runs.ts';
import { type BuiltProgram, programRows } from './programs.ts';

/** More findings than this are told as a number: the sheet is for the bench, the report has all of them. */
const TOLD = 8;

export function sheetFacts(
  part: Part,
  job: Job,
  programs: readonly BuiltProgram[],
  firstRuns: readonly BuiltFirstRun[],
  problems: readonly Problem[],
  proof: Proof,
  verdict: string,
  strength: Strength,
  price: Price,
): SheetFacts {
  const told = proof.findings.slice(0, TOLD).map((f) => `${f.message}${f.line ? ` (${f.file}, line ${f.line})` : ''}`);
  const more = proof.findings.length - told.length;
  return {
    job,
    about: part.about,
    notes: part.notes,
    guard: part.guard || problems.some((p) => p.code === 'local-code'),
    inch: part.units === 'inch' || job.control.units === 'inch',
    parts: part.price.parts,
    firstRuns,
    programs: programs.map((p) => ({
      file: p.file,
      tools: p.tools,
      stages: programRows(p).flatMap((r) => r.stages),
      restarts: { from: p.written.passLines[0]!.restart, to: p.written.passLines.at(-1)!.restart },
      extents: p.written.extents,
      blocks: p.written.blocks,
      time_s: p.written.time.total_s,
    })),
    problems,
    proof: { ...proof, verdict },
    findings: more > 0 ? [...told, `${more} more findings stand in the report`] : told,
    strength,
    price,
  };
}
