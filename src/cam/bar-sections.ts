/** The bar between chuck and centre as it stands at each moment of the cutting: stations along x and the section at each. */
import { SAME_X } from '../../shared/tolerances.ts';
import { TURN } from '../../shared/units.ts';
import { type SectionMoments, sectionOf } from './beam.ts';
import { blankRadius, innerRadius } from './blank.ts';
import type { Job } from './job.ts';

/** Cells along the bar; more change the give of a turned part by less than a hundredth. */
const CELLS = 160;
const ANGLES = 180;

/**
 * What stands when a stage makes its last and worst cut: the blank's own section while the corners come off; form, stubs and
 * allowance at the end of roughing; the form itself at the end of finishing; the same with its stubs turned down, for necking.
 */
export type Standing = 'blank' | 'roughed' | 'finished' | 'necked';

/** A tube's bore takes its own circle out of every section; radii are kept. */
function bored(section: SectionMoments, bore: number): SectionMoments {
  if (!(bore > 0)) return section;
  return { ...section, inertia: Math.max(0, section.inertia - (Math.PI * bore ** 4) / 64) };
}

/** Even stations with every break of the form, from the jaws to the end at the centre. @returns ascending edges, mm */
export function stationsOf(job: Job): Float64Array {
  const from = job.blank.from + job.holding.chuckGrip;
  const to = job.blank.to;
  const xs = Array.from({ length: CELLS + 1 }, (_, i) => from + ((to - from) * i) / CELLS);
  const between = (job.stubs.between ?? []).flatMap((s) => [s.from, s.to]);
  const joints = [0, job.field.length, job.stubs.chuck.from, job.stubs.tail.to, ...between];
  for (const x of [...joints, ...job.field.breaks.map((b) => b.x)]) if (x > from && x < to) xs.push(x);
  xs.sort((a, b) => a - b);
  return Float64Array.from(xs.filter((x, i) => i === 0 || x - xs[i - 1]! > SAME_X));
}

/** Radii of the form round one station: one where it is round, else evenly spaced over a turn. */
function formRing(job: Job, x: number): Float64Array {
  const { field } = job;
  if (field.isRound(x, x)) return Float64Array.of(field.radius(x, 0));
  // A symmetric section is looked at over one of its periods and repeated.
  const order = Number.isFinite(field.symmetry) && field.symmetry >= 1 ? Math.round(field.symmetry) : 1;
  const each = Math.max(12, Math.ceil(ANGLES / order));
  const part = new Float64Array(each);
  field.ring(
    x,
    Float64Array.from({ length: each }, (_, j) => (j * TURN) / order / each),
    part,
  );
  return Float64Array.from({ length: each * order }, (_, j) => part[j % each]!);
}

/** Section of a ring grown by `extra`, inside the blank. */
function grown(job: Job, ring: Float64Array, extra: number): SectionMoments {
  const round = ring.length === 1;
  if (round && ring[0]! + extra <= innerRadius(job.blank)) return sectionOf(Float64Array.of(ring[0]! + extra));
  const n = round ? ANGLES : ring.length;
  return sectionOf(
    Float64Array.from({ length: n }, (_, j) =>
      Math.min((round ? ring[0]! : ring[j]!) + extra, blankRadius(job.blank, (j * TURN) / n)),
    ),
  );
}

/**
 * Sections of the cells between stations, for every moment.
 * @param edges from `stationsOf` @returns one row of sections for each moment, in the order of the cells
 */
export function sectionsOf(job: Job, edges: Float64Array): Record<Standing, SectionMoments[]> {
  const { stubs, field, blank } = job;
  const bore = blank.bore ?? 0;
  const whole = bored(
    sectionOf(Float64Array.from({ length: ANGLES }, (_, j) => blankRadius(blank, (j * TURN) / ANGLES))),
    bore,
  );
  const out: Record<Standing, SectionMoments[]> = { blank: [], roughed: [], finished: [], necked: [] };
  const round = (radius: number, extra: number) => bored(grown(job, Float64Array.of(radius), extra), bore);
  const allowance = job.plan.allowance;
  for (let i = 0; i + 1 < edges.length; i++) {
    const x = (edges[i]! + edges[i + 1]!) / 2;
    out.blank.push(whole);
    const parting = stubs.between?.find((s) => x > s.from && x < s.to);
    if (!parting && x >= 0 && x <= field.length) {
      const ring = formRing(job, x);
      out.roughed.push(bored(grown(job, ring, allowance), bore));
      const finished = bored(grown(job, ring, 0), bore);
      out.finished.push(finished);
      out.necked.push(finished);
      continue;
    }
    const stub = parting ?? (x < 0 ? stubs.chuck : stubs.tail);
    if (x < stub.from || x > stub.to) {
      for (const row of [out.roughed, out.finished, out.necked]) row.push(whole);
      continue;
    }
    const standing = stub.standing ?? stub.radius;
    out.roughed.push(round(standing, allowance));
    out.finished.push(round(standing, 0));
    out.necked.push(job.plan.necking ? round(stub.radius, 0) : out.finished.at(-1)!);
  }
  return out;
}
