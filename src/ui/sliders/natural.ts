/** What stands for a value that the document leaves out: shown beside its switch, and put in when it is switched on. Pure. */
import type { z } from 'zod';
import { CENTRING } from '../../../shared/tolerances.ts';
import { tenonFor } from '../../cam/fit-holding.ts';
import type { Job } from '../../cam/job.ts';
import { carvingKind } from '../../profiles/carvings/registry.ts';
import { elementKind } from '../../profiles/elements/registry.ts';
import type { Layout } from '../../profiles/layout.ts';
import { carvingBars, elementsUnder } from '../lanes/carving-bars.ts';
import type { Path, Workshop } from '../state/contract.ts';
import type { FieldRow } from './fields.ts';
import { seedOf } from './seed.ts';

type Known = Pick<Workshop, 'part' | 'layout' | 'job' | 'lastGood'>;
type Loose = Record<string, unknown>;

function resolved(w: Known, path: Path): unknown {
  if (path.length > 3) return undefined;
  const [root, index, key] = path;
  const layout = w.layout?.placed.length ? w.layout : w.lastGood?.layout;
  const job = w.job ?? w.lastGood?.job;
  if (root === 'form' && typeof index === 'number') {
    const p = layout?.placed.find((q) => q.index === index);
    const girth = w.part?.girth ?? 1;
    if (p && key === 'length') return p.to - p.from;
    if (p && key === 'start') return p.start / girth;
    if (p && key === 'end') return p.end / girth;
    if (key === 'share') return p && layout ? shareOf(w, layout, p.to - p.from) : undefined;
    const example = w.part && (elementKind(w.part.form[index]!.element).example as Loose);
    return example?.[String(key)];
  }
  if (root === 'carvings' && typeof index === 'number') {
    if (key === 'from' || key === 'to' || key === 'over') {
      const lies = w.part && layout && carvingBars(w.part, layout, 'mm').find((b) => b.index === index);
      if (key !== 'over') return lies?.[key] ?? (key === 'from' ? 0 : layout?.length);
      return lies && layout ? elementsUnder(lies.from, lies.to, layout) : undefined;
    }
    const carving = w.part?.carvings?.[index];
    return carving && (carvingKind(carving.carving).example as Loose)[String(key)];
  }
  if (root === 'feeds' && job && path.length === 3) return plannedNumber(job, index, String(key));
  if (root === 'holding' && index === 'tenon' && job) {
    const diameter = tenonFor(job) ?? job.bench.chuck.gripMin;
    return key === undefined ? { diameter } : diameter;
  }
  if (root === 'blank' && index === 'offCentre') return CENTRING;
  if (root === 'blank' && index === 'acknowledged') return job?.material.id;
  // A wall a quarter of the thinnest place thick.
  if (root === 'blank' && index === 'bore' && job) return Math.max(1, Math.floor(1.5 * job.field.minRadius));
  if (root === 'blank' && job)
    return index === 'length' ? job.blank.to - job.blank.from : (job.blank as unknown as Loose)[String(index)];
  if (root === 'holding' && job) return (job.holding as unknown as Loose)[String(index)];
  if (root === 'bits' && job && (index === 'roughing' || index === 'finishing')) return job.tools[index].bit.id;
  if (root === 'bits' && job && (index === 'detail' || index === 'drills') && key === undefined)
    return job.tools[index].map((t) => t.bit.id);
  // A first entry of a list: what it begins as is the schema's to say, but for a bit that this bench has in hand.
  if (root === 'bits' && job && index === 'detail') return job.tools.finishing.bit.id;
  if (root === 'solid' && w.part) return solidAddition(w, path);
  if (root === 'length') return layout?.length;
  if (root === 'girth') return 1;
  return undefined;
}

/** What would be planned of a bit's numbers. @param key as `feeds` has it */
function plannedNumber(job: Job, role: unknown, key: string): unknown {
  const tool =
    role === 'roughing' || role === 'finishing'
      ? job.tools[role]
      : role === 'detail' || role === 'drills'
        ? job.tools[role][0]
        : undefined;
  const last = role === 'finishing' || role === 'detail';
  return tool && (tool.limits as unknown as Loose)[key === 'feed' && last ? 'finishFeed' : key];
}

/** The share that keeps an element as long as it is beside the others that have one. */
function shareOf(w: Known, layout: Layout, length: number): number {
  const shared = w.part?.form.flatMap((e, i) => (e.share === undefined ? [] : [{ share: e.share, i }])) ?? [];
  const mm = shared.reduce((sum, { i }) => sum + layout.placed[i]!.to - layout.placed[i]!.from, 0);
  const shares = shared.reduce((sum, { share }) => sum + share, 0);
  return mm > 0 ? Number(((length * shares) / mm).toFixed(4)) : 1;
}

/** A peg or a bore that the end of the form has wood for; as thick as is usual, three fifths (common practice, no source). */
function solidAddition(w: Known, path: Path): unknown {
  const field = w.lastGood?.field;
  if (!field) return undefined;
  const half = (mm: number) => Math.max(1, Math.round(2 * mm) / 2);
  const [, what, end] = path;
  if (what === 'bore' && path.length === 2) return { diameter: half(0.6 * field.minRadius) };
  if (what !== 'tenons' || path.length !== 3) return undefined;
  const x = end === 'chuck' ? 0 : field.length;
  const diameter = half(1.2 * field.bounds(x, x)[0]);
  return { diameter, length: diameter };
}

/** What a whole part of the document begins as when it is switched on, lengths in mm. */
export const naturalPart = (w: Known, path: Path, schema: z.ZodType): unknown => resolved(w, path) ?? seedOf(schema);

/** @returns the value in mm (or the row's unit), never undefined: a row without anything natural begins near its lower end */
export function naturalOf(w: Known, row: FieldRow): unknown {
  const found = row.default ?? resolved(w, row.path);
  if (found !== undefined) return found;
  switch (row.kind) {
    case 'number':
      return Math.min(row.max, Math.max(row.min, 10 * row.step));
    case 'flag':
      return false;
    case 'choice':
    case 'row':
      return row.choices[0]?.value ?? '';
    default:
      return '';
  }
}
