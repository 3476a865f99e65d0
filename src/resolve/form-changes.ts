/** Changes of the form itself that would mend what bends or breaks: one element thicker, or the whole a little stouter. */
import type { Change, Edit, Problem } from '../../shared/problems.ts';
import type { Job } from '../cam/job.ts';
import { upTo } from '../cam/mend.ts';
import type { Part } from '../part/document.ts';
import { layOut } from '../profiles/layout.ts';
import { formSection } from './blank.ts';

/** Room over what is just enough: the neck's own neighbours change with it. */
const SPARE = 1.03;
/** Stouter than this is another design. */
const MOST = 1.6;

/** How much thicker the form must be for a problem to go, as a factor of its diameters; undefined if that would not help. */
function stouter(problem: Problem): number | undefined {
  const { measure } = problem;
  if (!measure) return undefined;
  // Give goes with the fourth power of the diameter, bending stress with its third.
  if (problem.code === 'bends') return (measure.got / measure.bound) ** (1 / 4);
  if (problem.code === 'slender' && measure.unit === 'times') return Math.cbrt(measure.bound / measure.got);
  if (problem.code === 'neck-shears') return measure.bound / measure.got;
  return undefined;
}

/** The element at x with its diameters raised to at least `diameter`; only where the element says them itself. */
function thicker(part: Part, job: Job, x: number, diameter: number): Change[] {
  const { placed } = layOut(part, formSection(job.blank));
  const at = placed.find((p) => x >= p.from && x <= p.to);
  const element = at && (part.form[at.index] as { start?: number; end?: number; element: string });
  if (!at || !element) return [];
  const wanted = upTo(diameter / (part.girth ?? 1), 0.5);
  const set: Edit[] = [];
  if (at.start < diameter) set.push({ path: `form[${at.index}].start`, value: wanted });
  if (at.end < diameter && element.element !== 'cylinder' && element.element !== 'fillet')
    set.push({ path: `form[${at.index}].end`, value: wanted });
  return set.length ? [{ say: `the ${at.kind} at least ${wanted} mm thick`, set }] : [];
}

/** The whole form stouter by a factor, and its stock with it where the document says how wide that is. */
function girth(part: Part, job: Job, factor: number): Change[] {
  const grown = upTo((part.girth ?? 1) * factor, 0.01);
  if (factor > MOST || grown > 10) return [];
  const set: Edit[] = [{ path: 'girth', value: grown }];
  const ratio = grown / (part.girth ?? 1);
  if (part.blank.width !== undefined && 2 * job.field.maxRadius * ratio > part.blank.width - 1)
    for (const key of ['width', 'height'] as const) {
      const size = part.blank[key];
      if (size !== undefined) set.push({ path: `blank.${key}`, value: upTo(size * ratio, 0.5) });
    }
  return [{ say: `everything ${Math.round(100 * (ratio - 1)) || 1} % thicker`, set }];
}

/** Problems with the changes of the form that would mend them added to their own. */
export const withFormChanges = (part: Part, job: Job, problems: readonly Problem[]): Problem[] =>
  problems.map((p) => {
    const factor = stouter(p);
    if (factor === undefined) return p;
    const local =
      p.measure && p.code === 'neck-shears' && p.x !== undefined
        ? thicker(part, job, p.x, p.measure.bound * SPARE)
        : [];
    return { ...p, changes: [...(p.changes ?? []), ...local, ...girth(part, job, factor * SPARE)] };
  });
