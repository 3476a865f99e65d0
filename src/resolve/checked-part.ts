/** A part resolved and held against its bench, with changes that would mend what does not fit, tried out before they are offered. */
import type { Change, Problem } from '../../shared/problems.ts';
import { checkFit } from '../cam/fit.ts';
import type { Job } from '../cam/job.ts';
import { changedPart, inDocumentUnits } from '../part/change.ts';
import type { Part } from '../part/document.ts';
import { resolvePart } from '../resolve.ts';
import { withFormChanges } from './form-changes.ts';

/** Everything that speaks against making a job as its part has it, with untried changes in mm. */
export const fitProblems = (part: Part, job: Job): Problem[] => withFormChanges(part, job, checkFit(job));

export interface CheckedPart {
  /** Undefined where the part cannot be resolved. */
  readonly job: Job | undefined;
  /** The document's and the fit's, with untried changes in mm. */
  readonly problems: Problem[];
}

/** Resolves and fits. Quick enough to follow a slider. */
export function checkedPart(part: Part): CheckedPart {
  const { job, problems } = resolvePart(part);
  if (!job) return { job, problems };
  return { job, problems: [...problems, ...fitProblems(part, job)] };
}

const WEIGHT = { refuse: 2, warn: 1, note: 0 };
const heavy = (p: Problem) => p.severity !== 'note';

/** Whether a part with a change is rid of a problem, and has no new one of weight in its stead. */
function mends(part: Part, problems: readonly Problem[], problem: Problem, change: Change): boolean {
  const changed = changedPart(part, change);
  if (!changed) return false;
  const after = checkedPart(changed);
  if (!after.job) return false;
  const same = (p: Problem) => p.code === problem.code && p.path === problem.path && heavy(p);
  if (after.problems.some(same)) return false;
  const worst = (list: readonly Problem[], code: string) =>
    Math.max(0, ...list.filter((p) => p.code === code).map((p) => WEIGHT[p.severity]));
  return after.problems.every((p) => !heavy(p) || WEIGHT[p.severity] <= worst(problems, p.code));
}

/**
 * The problems with those of their changes that mend them: each is made on a copy of the part, which is resolved and fitted
 * anew. Offered in the units of the part's document.
 * @param untried codes whose changes only a new plan can judge; they are handed on as they are
 */
export function triedChanges(part: Part, problems: readonly Problem[], untried: readonly string[] = []): Problem[] {
  const tried = problems.map((p) => {
    if (!p.changes) return p;
    const { changes, ...rest } = p;
    const good = heavy(p)
      ? changes.filter((c) => (untried.includes(p.code) ? changedPart(part, c) : mends(part, problems, p, c)))
      : [];
    return good.length ? { ...rest, changes: good } : rest;
  });
  return inDocumentUnits(part, tried);
}
