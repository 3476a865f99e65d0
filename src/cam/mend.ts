/** Changes of the document that would mend what does not fit: said in a few words, and as data that can be applied. */
import { type Bench, type Bit, benches, bits } from '../../shared/catalog.ts';
import type { Change, Edit } from '../../shared/problems.ts';
import { type Blank, innerRadius } from './blank.ts';
import type { Job, Tool } from './job.ts';

/** A bit in its role, and where the document names it. */
export interface Role {
  readonly kind: 'roughing' | 'finishing' | 'detail';
  /** Of several detail bits, which. */
  readonly index: number;
  /** Path of the bit in the document. */
  readonly path: string;
  readonly tool: Tool;
}

/** The bits that cut the form, in the order of their work. */
export const rolesOf = (job: Job): Role[] => [
  { kind: 'roughing', index: 0, path: 'bits.roughing', tool: job.tools.roughing },
  { kind: 'finishing', index: 0, path: 'bits.finishing', tool: job.tools.finishing },
  ...job.tools.detail.map((tool, index) => ({ kind: 'detail' as const, index, path: `bits.detail[${index}]`, tool })),
];

/** One edit, or several that belong together. */
export const change = (say: string, ...set: Edit[]): Change => ({ say, set });

/** A length, one decimal at the most. */
export const mm = (value: number): string => String(Number(value.toFixed(1)));

/** Rounded up or down to a step, clear of the noise of a division. */
export const upTo = (value: number, step: number): number => Number((Math.ceil(value / step - 1e-9) * step).toFixed(6));
export const downTo = (value: number, step: number): number =>
  Number((Math.floor(value / step + 1e-9) * step).toFixed(6));

/** A bit as a document names it: by its id if the catalog has that very row, else the whole row. */
const named = (bit: Bit): string | Bit => (bits.some((row) => row === bit) ? bit.id : bit);

/** Another bit in a role. The list of detail bits is written whole, since the document may have left it out. */
export function withBit(job: Job, role: Role, bit: Bit): Edit {
  if (role.kind !== 'detail') return { path: `bits.${role.kind}`, value: named(bit) };
  return { path: 'bits.detail', value: job.tools.detail.map((t, i) => named(i === role.index ? bit : t.bit)) };
}

/** The same bit with more or less of it out of the holder. @param stickOut mm, rounded to halves by the caller */
export const reset = (bit: Bit, stickOut: number): Bit => ({
  ...bit,
  id: `${bit.id}-out-${String(stickOut).replace('.', '-')}`,
  label: `${bit.label}, ${stickOut} mm out`,
  reach: Math.min(bit.reach, stickOut),
  fluteLength: Math.min(bit.fluteLength, stickOut),
  stickOut,
});

/** Other bits of the catalog of the same shape, the most alike first. */
export const likeBits = (bit: Bit): Bit[] =>
  bits
    .filter((b) => b.kind === bit.kind && b !== bit)
    .sort((a, b) => Math.abs(a.diameter - bit.diameter) - Math.abs(b.diameter - bit.diameter));

/** Another bench of the catalog that does, in the order of the catalog: for whoever has more than one. */
export function otherBench(job: Job, does: (bench: Bench) => boolean): Change[] {
  const bench = benches.find((b) => b.id !== job.bench.id && does(b));
  return bench ? [change(`the ${bench.label}`, { path: 'bench', value: bench.id })] : [];
}

/** Smallest width of a blank of the same section that still holds the form, mm. */
export const leastWidth = (job: Job): number => 2 * job.field.maxRadius;

/** A narrower blank, if the form still fits in. @param width mm at the most */
export function narrower(job: Job, width: number): Change[] {
  const least = leastWidth(job);
  const { blank } = job;
  const wanted = downTo(width, 0.5);
  // A kept section follows the blank, so that the form itself says nothing about how narrow it may get.
  if (blank.section === 'rectangle' || job.field.kept.length || wanted < least - 1e-6 || wanted >= blank.width)
    return [];
  return [change(`a ${blank.section} blank ${wanted} mm wide`, { path: 'blank.width', value: wanted })];
}

/** The same stock with its corners planed off, or turned round before it comes to the bench. */
export function rounder(job: Job, does: (blank: Blank) => boolean): Change[] {
  const { blank } = job;
  if (blank.section !== 'square' || job.field.kept.length) return [];
  const eight: Blank = { ...blank, section: 'polygon', sides: 8 };
  const round: Blank = { ...blank, section: 'round', sides: 0 };
  const out: Change[] = [];
  if (does(eight))
    out.push(
      change(
        'its corners planed off to eight sides first',
        { path: 'blank.section', value: 'polygon' },
        { path: 'blank.sides', value: 8 },
      ),
    );
  if (does(round))
    out.push(change(`round stock ${mm(2 * innerRadius(blank))} mm thick`, { path: 'blank.section', value: 'round' }));
  return out.map((c) => ({ ...c, set: [...c.set, { path: 'blank.width', value: blank.width }] }));
}
