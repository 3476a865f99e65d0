/** Which bits do the work: those the document names, else a sensible choice from the catalog. */
import { type Bench, type Bit, bits as catalog, type Material } from '../../shared/catalog.ts';
import type { Problem } from '../../shared/problems.ts';
import { cuspRadius } from '../cam/bit.ts';
import { limitsFor } from '../cam/feeds.ts';
import type { Job, Tool } from '../cam/job.ts';
import type { Part } from '../part/document.ts';
import type { Field } from '../profiles/field.ts';
import { hollowRest } from './hollow.ts';
import { lookUp } from './lookup.ts';

/** Roughing bits by the blank's corner radius up to which each is the handy one, mm (common practice, no source). */
const ROUGHING: readonly [number, string][] = [
  [12, 'flat-eighth'],
  [26, 'flat-6'],
  [Infinity, 'flat-10'],
];
/** Finishing bits from large to small; the large one only on work of its size. */
const FINISHING: readonly { id: string; from: number }[] = [
  { id: 'ball-10', from: 35 },
  { id: 'ball-6', from: 10 },
  { id: 'ball-eighth', from: 0 },
];
/** Sanding takes this much out of a cove (common practice, no source), mm: no reason for a bit half as thick. */
const HOLLOW_REST = 0.15;
/** Bits for grooves that the finishing bit cannot enter, from blunt to fine. */
const DETAIL = ['ball-eighth', 'tapered-one', 'tapered-half', 'tapered-quarter'];

const row = (id: string): Bit => {
  const bit = catalog.find((b) => b.id === id);
  if (!bit) throw new Error(`the catalog of bits has lost "${id}"`);
  return bit;
};

function finishingFor(broad: Field, corner: number): Bit {
  const handy = FINISHING.filter((f) => corner >= f.from).map((f) => row(f.id));
  const rest = hollowRest(broad);
  return handy.find((b) => rest(b) <= HOLLOW_REST) ?? handy.at(-1)!;
}

/** Detail bits for the field's guides: the bluntest that enters each, every bit once, blunt before fine. */
function detailFor(field: Field, finishing: Bit): Bit[] {
  const wanted = new Set<string>();
  for (const guide of field.guides) {
    const enters = (tip: number) => tip <= Math.max(guide.bottomRadius, 0.05 * guide.width);
    if (enters(cuspRadius(finishing))) continue;
    wanted.add(DETAIL.find((id) => enters(cuspRadius(row(id)))) ?? DETAIL.at(-1)!);
  }
  return DETAIL.filter((id) => wanted.has(id)).map(row);
}

/** One bit a hole diameter: the widest that fits the hole, reaches its bottom and may plunge. */
function drillsFor(field: Field): Bit[] {
  const chosen = new Set<Bit>();
  for (const hole of field.holes) {
    const fits = catalog.filter(
      (b) => b.kind === 'flat' && b.centreCutting && b.diameter <= hole.diameter + 1e-9 && b.reach >= hole.depth,
    );
    const bit = fits.sort((a, b) => b.diameter - a.diameter)[0];
    if (bit) chosen.add(bit);
  }
  return [...chosen];
}

/**
 * The bits of a job in their roles, with what each may do.
 * @param broad the field without the carvings that detail bits cut: what the finishing bit must fit
 * @param corner radius of the blank's corners, mm @param problems gets what is wrong with a named bit
 */
export function toolsFor(
  part: Part,
  field: Field,
  broad: Field,
  corner: number,
  material: Material,
  bench: Bench,
  problems: Problem[],
): Job['tools'] | undefined {
  const named = (bit: string | Bit, path: string) => lookUp(bit, catalog, path, 'bit', problems);
  const list = (bits: readonly (string | Bit)[], key: string) => bits.map((b, i) => named(b, `bits.${key}[${i}]`));
  const { bits } = part;
  const roughing = bits.roughing ? named(bits.roughing, 'bits.roughing') : row(ROUGHING.find(([r]) => corner <= r)![1]);
  const finishing = bits.finishing ? named(bits.finishing, 'bits.finishing') : finishingFor(broad, corner);
  const detail = bits.detail ? list(bits.detail, 'detail') : finishing ? detailFor(field, finishing) : [];
  const drills = bits.drills ? list(bits.drills, 'drills') : drillsFor(field);
  const all = [roughing, finishing, ...detail, ...drills];
  if (all.includes(undefined)) return undefined;
  const tool = (bit: Bit | undefined, role: keyof Part['feeds']): Tool => ({
    bit: bit!,
    limits: limitsFor(bit!, material, bench, {
      radius: corner,
      skin: part.plan.allowance,
      asked: part.feeds[role],
      finishes: role === 'finishing' || role === 'detail',
    }),
  });
  return {
    roughing: tool(roughing, 'roughing'),
    finishing: tool(finishing, 'finishing'),
    detail: detail.map((b) => tool(b, 'detail')),
    drills: drills.map((b) => tool(b, 'drills')),
  };
}
