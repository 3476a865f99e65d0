/** From the document as written to all that follows from it at once: part, field, layout, job, problems. */
import type { Problem } from '../../../shared/problems.ts';
import type { Job } from '../../cam/job.ts';
import { inDocumentUnits } from '../../part/change.ts';
import { checkPart, type Part } from '../../part.ts';
import { fieldOf } from '../../profiles/build-field.ts';
import type { Field } from '../../profiles/field.ts';
import { type Layout, layOut } from '../../profiles/layout.ts';
import { formSection, sectionSize } from '../../resolve/blank.ts';
import { resolvePart } from '../../resolve.ts';
import type { Raw } from './contract.ts';

export interface Derived {
  part: Part | undefined;
  field: Field | undefined;
  layout: Layout | undefined;
  job: Job | undefined;
  problems: Problem[];
}

/** @param raw a document in its own units @returns everything that could be told of it; the rest undefined */
export function derive(raw: Raw): Derived {
  const checked = checkPart(raw);
  if (!('part' in checked))
    return { part: undefined, field: undefined, layout: undefined, job: undefined, problems: checked.problems };
  const { part } = checked;
  const resolved = resolvePart(part);
  const { job } = resolved;
  const problems = inDocumentUnits(part, resolved.problems);
  if (job) return { part, field: job.field, layout: layOut(part, formSection(job.blank)), job, problems };
  // A part that fits no bench is still a form to look at and to change.
  const width = part.blank.width ?? fieldOf(part).field?.maxRadius ?? 0;
  const section = formSection(sectionSize(part.blank, width));
  return { part, field: fieldOf(part, section).field, layout: layOut(part, section), job: undefined, problems };
}
