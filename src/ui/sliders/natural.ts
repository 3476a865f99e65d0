/** What stands for a value that the document leaves out: shown beside its switch, and put in when it is switched on. Pure. */
import { carvingKind } from '../../profiles/carvings/registry.ts';
import { elementKind } from '../../profiles/elements/registry.ts';
import type { Path, Workshop } from '../state/contract.ts';
import type { FieldRow } from './fields.ts';

type Known = Pick<Workshop, 'part' | 'layout' | 'job' | 'lastGood'>;
type Loose = Record<string, unknown>;

function resolved(w: Known, path: Path): unknown {
  const [root, index, key] = path;
  const layout = w.layout?.placed.length ? w.layout : w.lastGood?.layout;
  const job = w.job ?? w.lastGood?.job;
  if (root === 'form' && typeof index === 'number') {
    const p = layout?.placed.find((q) => q.index === index);
    const girth = w.part?.girth ?? 1;
    if (p && key === 'length') return p.to - p.from;
    if (p && key === 'start') return p.start / girth;
    if (p && key === 'end') return p.end / girth;
    const example = w.part && (elementKind(w.part.form[index]!.element).example as Loose);
    return example?.[String(key)];
  }
  if (root === 'carvings' && typeof index === 'number') {
    if (key === 'from') return 0;
    if (key === 'to') return layout?.length;
    const carving = w.part?.carvings?.[index];
    return carving && (carvingKind(carving.carving).example as Loose)[String(key)];
  }
  if (root === 'blank' && job)
    return index === 'length' ? job.blank.to - job.blank.from : (job.blank as unknown as Loose)[String(index)];
  if (root === 'holding' && job) return (job.holding as unknown as Loose)[String(index)];
  if (root === 'bits' && job && (index === 'roughing' || index === 'finishing')) return job.tools[index].bit.id;
  if (root === 'length') return layout?.length;
  if (root === 'girth') return 1;
  return undefined;
}

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
