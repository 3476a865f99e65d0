/**
 * The one pipeline that both shells call: part → job → solid, plan → programs → proof → report, sheet, files.
 * Pure but for the threads that a shell may lend it: no file system, no clock; the same part gives the same bytes.
 */
import type { Problem } from '../shared/problems.ts';
import { fillReport } from './build/fill-report.ts';
import { type BuiltFirstRun, firstRuns } from './build/first-runs.ts';
import {
  type BuiltProgram,
  namePrograms,
  UNPROVEN_LINES,
  unprovenFile,
  unprovenText,
  workOf,
} from './build/programs.ts';
import { proofJobOf } from './build/proof-job.ts';
import type { Report } from './build/report.ts';
import { noSuchPass, proveRestart, restartFrom } from './build/restart.ts';
import { sheetFacts } from './build/sheet-facts.ts';
import { slugOf } from './build/slug.ts';
import { type SolidFiles, type SolidMaker, solidHere, solidOptions } from './build/solid-files.ts';
import { offsetsOf } from './cam/control.ts';
import type { Job, Plan } from './cam/job.ts';
import { planJob } from './cam/plan.ts';
import { priceOf } from './cam/price.ts';
import { prove } from './cam/proof/prove.ts';
import { type Progress, type Proof, Stopped } from './cam/proof/verdict.ts';
import { sheetHtml } from './cam/sheet.ts';
import { type Strength, strengthOf } from './cam/strength.ts';
import { orderProblems, type StrengthInOrder, strengthInOrder } from './cam/strength-order.ts';
import { writePrograms } from './cam/write.ts';
import { expectedOf } from './mesh/expected.ts';
import type { Part } from './part/document.ts';
import { checkedPart, triedChanges } from './resolve/checked-part.ts';

export interface BuildOptions {
  /** Called now and then with a share 0…1; returning false stops the build, which then throws `Stopped`. */
  readonly onProgress?: Progress;
  /** Keep refused programs, under names and first lines that say so. */
  readonly unproven?: boolean;
  /** Adds the program that takes cutting up again at this pass, its restart number; proven on the wood as it then is. */
  readonly fromPass?: number;
  /** What makes the solid: here by default, another thread if a shell lends one; `none` for a check alone. */
  readonly solid?: SolidMaker | 'none';
}

export interface Built {
  /** invalid: the part cannot be resolved; refused: by fit, solid or proof; proven: every program. */
  readonly verdict: 'proven' | 'refused' | 'invalid';
  /** What is wrong, and what is worth saying, before any program text. */
  readonly problems: readonly Problem[];
  readonly slug: string;
  readonly job?: Job;
  readonly solid?: SolidFiles;
  readonly plan?: Plan;
  readonly programs: readonly BuiltProgram[];
  /** Programs to be watched before the first cut. */
  readonly firstRuns?: readonly BuiltFirstRun[];
  /** What takes cutting up again, if that was asked for. */
  readonly restart?: BuiltProgram;
  readonly proof?: Proof;
  readonly strength?: Strength;
  /** Of a stick of several pieces: its weakest moment while it is cut. */
  readonly inOrder?: StrengthInOrder;
  readonly report?: Report;
  /** Files by name, in the order in which they should appear; the report last. Programs are among them only if proven, or kept. */
  readonly files: ReadonlyMap<string, Uint8Array | string>;
}

/** Shares of the whole that each step takes, from measured runs. */
const PLAN_SHARE = 0.6;
const PROOF_SHARE = 0.97;

const refused = (problems: readonly Problem[]): boolean => problems.some((p) => p.severity === 'refuse');

/**
 * Builds a part.
 * @param part checked, from `parsePart` @throws Stopped if onProgress asked to stop
 */
export async function build(part: Part, options: BuildOptions = {}): Promise<Built> {
  let furthest = 0;
  const progress = (share: number, what: string) => {
    // A stage that looks again at a stretch must not make the whole go back.
    furthest = Math.max(furthest, share);
    if (options.onProgress?.(furthest, what) === false) throw new Stopped();
    return undefined;
  };
  const slug = slugOf(part.name);
  const nothing = { slug, programs: [], files: new Map<string, string>() };
  progress(0, 'reading the design');
  const checked = checkedPart(part);
  const problems = triedChanges(part, checked.problems);
  const { job } = checked;
  if (!job) return { verdict: 'invalid', problems, ...nothing };
  if (refused(problems) && !options.unproven)
    return { verdict: 'refused', problems, job, strength: strengthOf(job), ...nothing };

  // A lent thread starts on the solid now and works while this one plans.
  const making = options.solid === 'none' ? undefined : (options.solid ?? solidHere())(part, job.field);
  // Its fault is reported where it is awaited; until then it must not count as unhandled.
  making?.catch(() => undefined);

  const plan = planJob(job, (share, what) => progress(PLAN_SHARE * share, `planning: ${what}`));
  problems.push(...plan.problems);
  // One piece is judged as it is at the end; a stick of several at every moment, since the torque runs through them all.
  const inOrder = job.stubs.between ? strengthInOrder(job, plan.programs) : undefined;
  if (inOrder) problems.push(...orderProblems(inOrder));
  const programs = namePrograms(slug, writePrograms(job, plan.programs, offsetsOf(job)));
  // Only a new plan could tell whether these mend; they are offered for what they do by their nature.
  const found = programs.flatMap((p) => p.written.problems);
  problems.push(
    ...triedChanges(
      part,
      found,
      found.map((p) => p.code),
    ),
  );
  const restart = options.fromPass === undefined ? undefined : restartFrom(job, plan, programs, options.fromPass);
  if (options.fromPass !== undefined && !restart)
    return { verdict: 'invalid', problems: [...problems, noSuchPass(programs, options.fromPass)], job, ...nothing };
  // With a restart the wood is cut twice, once in one go and once in two.
  const proofs = restart ? 2 : 1;
  const proving = (k: number) => (share: number, what: string) =>
    progress(PLAN_SHARE + ((PROOF_SHARE - PLAN_SHARE) * (k + share)) / proofs, `proving: ${what}`);
  const proof = prove(proofJobOf(job, programs), proving(0));
  if (restart) problems.push(...proveRestart(job, programs, restart, proving(1)).problems);
  const first = firstRuns(slug, job, programs);
  problems.push(...first.problems);
  progress(PROOF_SHARE, 'finishing the solid');
  const solid = await making;
  if (solid) problems.push(...solid.problems);
  const strength = strengthOf(job);
  const price = priceOf(job, programs.flatMap(workOf), part.price);
  const verdict = proof.verdict === 'proven' && !refused(problems) ? 'proven' : 'refused';
  const kept = verdict === 'refused' && options.unproven ? keepUnproven(programs, proof) : { programs, proof };
  const volume = solid?.measures.volume ?? expectedOf(job.field, solidOptions(part, job.field)).volume;
  const report = fillReport({ job, volume, programs: kept.programs, proof: kept.proof, strength, price });
  const files = new Map<string, Uint8Array | string>();
  if (solid && !solid.problems.length) {
    files.set(`${slug}.stl`, solid.stl);
    files.set(`${slug}.3mf`, solid.threemf);
  }
  if (verdict === 'proven' || options.unproven) {
    if (verdict === 'proven') for (const run of first.runs) files.set(run.file, run.text);
    for (const p of kept.programs) files.set(p.file, p.text);
    if (verdict === 'proven' && restart) files.set(restart.program.file, restart.program.text);
    files.set(
      `${slug}.sheet.html`,
      sheetHtml(
        sheetFacts(
          part,
          job,
          kept.programs,
          verdict === 'proven' ? first.runs : [],
          problems,
          kept.proof,
          verdict,
          strength,
          price,
        ),
      ),
    );
  }
  files.set(`${slug}.report.json`, `${JSON.stringify(report, null, 2)}\n`);
  progress(1, 'done');
  return {
    verdict,
    problems,
    slug,
    job,
    ...(solid ? { solid } : {}),
    plan,
    programs: kept.programs,
    firstRuns: first.runs,
    ...(restart ? { restart: restart.program } : {}),
    proof: kept.proof,
    strength,
    ...(inOrder ? { inOrder } : {}),
    report,
    files,
  };
}

/** Refused programs under names and heads that say so; the findings' files and lines follow. */
function keepUnproven(programs: readonly BuiltProgram[], proof: Proof): { programs: BuiltProgram[]; proof: Proof } {
  return {
    programs: programs.map((p) => ({ ...p, file: unprovenFile(p.file), text: unprovenText(p.text) })),
    proof: {
      ...proof,
      findings: proof.findings.map((f) => ({
        ...f,
        file: f.file && unprovenFile(f.file),
        line: f.line && f.line + UNPROVEN_LINES,
      })),
    },
  };
}
