/** The bar between chuck and centre as it stands at each moment of the cutting: stations along x and the section at each. */
import { SAME_X } from '../../shared/tolerances.ts';
import { TURN } from '../../shared/units.ts';
import type { Side } from '../profiles/field.ts';
import { type SectionMoments, sectionOf } from './beam.ts';
import { blankRadius, innerRadius, type Stub } from './blank.ts';
import { bridgeOf } from './bridge.ts';
import type { Job } from './job.ts';

/** Cells along the bar; more change the give of a turned part by less than a hundredth. */
const CELLS = 160;
const ANGLES = 180;
/** Cells are halved until the radii in each differ by less than this share, or it is this short, mm. */
const SPREAD = 0.1;
const SHORTEST = 0.1;

/**
 * What stands when a stage makes its last and worst cut: the blank's own section while the corners come off; form, stubs and
 * allowance at the end of roughing; the form itself at the end of finishing; the same with its stubs turned down, for necking.
 * Where the form falls below the stub beside it, the form is what the bits can make of it (`bridge.ts`).
 */
export type Standing = 'blank' | 'roughed' | 'finished' | 'necked';

/** A cell of the bar: its section in the middle, for the give, and what it is at its weakest, for the strength. */
export interface CellSection extends SectionMoments {
  /** Smallest radius anywhere in the cell, mm. */
  readonly thinnest: number;
  /** Largest c/I anywhere in the cell, 1/mm³: stress for a moment of one. */
  readonly bends: number;
}

/** The bar cut into cells, and its section in each at every moment. */
export interface Cells {
  /** n + 1 ascending edges, mm. */
  readonly edges: Float64Array;
  /** n sections for each moment. */
  readonly rows: Record<Standing, CellSection[]>;
}

/** A tube's bore takes its own circle out of every section; radii are kept. */
function bored(section: SectionMoments, bore: number): SectionMoments {
  if (!(bore > 0)) return section;
  return { ...section, inertia: Math.max(0, section.inertia - (Math.PI * bore ** 4) / 64) };
}

/** Ends of zones and breaks of the form: what stands may differ on their two sides. @returns mm, in no order */
function jumpsOf(job: Job): number[] {
  const between = (job.stubs.between ?? []).flatMap((s) => [s.from, s.to]);
  const joints = [0, job.field.length, job.stubs.chuck.from, job.stubs.tail.to, ...between];
  return [...joints, ...job.field.breaks.map((b) => b.x)];
}

/** Even stations and every jump, from the jaws to the end at the centre. @returns ascending edges, mm */
function stationsOf(job: Job, jumps: readonly number[]): number[] {
  const from = job.blank.from + job.holding.chuckGrip;
  const to = job.blank.to;
  const xs = Array.from({ length: CELLS + 1 }, (_, i) => from + ((to - from) * i) / CELLS);
  // Of an even station and a jump in one place the jump stays.
  const inner = jumps.filter((x) => x > from && x < to);
  const even = xs.filter((x) => inner.every((jump) => Math.abs(jump - x) > SAME_X));
  const sorted = [...even, ...inner].sort((a, b) => a - b);
  return sorted.filter((x, i) => i === 0 || x - sorted[i - 1]! > SAME_X);
}

/** Radii of the form round one station: one where it is round, else evenly spaced over a turn. */
function formRing(job: Job, x: number, side: Side = 0): Float64Array {
  const { field } = job;
  if (field.isRound(x, x)) return Float64Array.of(field.radius(x, 0, side));
  // A symmetric section is looked at over one of its periods and repeated.
  const order = Number.isFinite(field.symmetry) && field.symmetry >= 1 ? Math.round(field.symmetry) : 1;
  const each = Math.max(12, Math.ceil(ANGLES / order));
  const part = new Float64Array(each);
  field.ring(
    x,
    Float64Array.from({ length: each }, (_, j) => (j * TURN) / order / each),
    part,
    side,
  );
  return Float64Array.from({ length: each * order }, (_, j) => part[j % each]!);
}

/** Sections of rings grown by an allowance, inside the blank. */
function growing(job: Job): (ring: Float64Array, extra: number) => SectionMoments {
  const { blank } = job;
  const inner = innerRadius(blank);
  const bore = blank.bore ?? 0;
  // The blank's radii are the same at every station: looked up once for each number of angles.
  const tables = new Map<number, Float64Array>();
  const tableOf = (n: number): Float64Array => {
    const known = tables.get(n);
    if (known) return known;
    const made = Float64Array.from({ length: n }, (_, j) => blankRadius(blank, (j * TURN) / n));
    tables.set(n, made);
    return made;
  };
  return (ring, extra) => {
    const round = ring.length === 1;
    if (round && ring[0]! + extra <= inner) return bored(sectionOf(Float64Array.of(ring[0]! + extra)), bore);
    const out = tableOf(round ? ANGLES : ring.length).slice();
    for (let j = 0; j < out.length; j++) out[j] = Math.min((round ? ring[0]! : ring[j]!) + extra, out[j]!);
    return bored(sectionOf(out), bore);
  };
}

/** What stands at one place, at every moment. */
type At = Readonly<Record<Standing, SectionMoments>>;
const MOMENTS = ['blank', 'roughed', 'finished', 'necked'] as const;

/** What stands at x on one side of it, of the zone in which `inside` lies: zones never change within a cell. */
function lookAt(job: Job): (x: number, side: Side, inside: number) => At {
  const { stubs, field, tools } = job;
  const allowance = job.plan.allowance;
  const grown = growing(job);
  const whole = grown(Float64Array.of(Infinity), 0);
  const untouched: At = { blank: whole, roughed: whole, finished: whole, necked: whole };
  const low = (x: number) => formRing(job, x).reduce((a, b) => Math.min(a, b));
  const rough = bridgeOf(job, [tools.roughing.bit], low);
  // Every bit that may cut there: wood is claimed only where none of them takes it.
  const fine = bridgeOf(
    job,
    [tools.roughing, tools.finishing, ...tools.detail].map((t) => t.bit),
    low,
  );
  const raised = (ring: Float64Array, least: number) => (least > 0 ? ring.map((r) => Math.max(r, least)) : ring);
  const turned = new Map<Stub, At>();
  const ofStub = (stub: Stub): At => {
    const standing = Float64Array.of(stub.standing ?? stub.radius);
    const finished = grown(standing, 0);
    const necked = job.plan.necking ? grown(Float64Array.of(stub.radius), 0) : finished;
    const made = { blank: whole, roughed: grown(standing, allowance), finished, necked };
    turned.set(stub, made);
    return made;
  };
  return (x, side, inside) => {
    const parting = stubs.between?.find((s) => inside > s.from && inside < s.to);
    if (!parting && inside >= 0 && inside <= field.length) {
      const ring = formRing(job, x, side);
      const finished = grown(raised(ring, fine(x)), 0);
      // A neck is turned clear of the form's faces: beside it the form stays as it was.
      return { blank: whole, roughed: grown(raised(ring, rough(x)), allowance), finished, necked: finished };
    }
    const stub = parting ?? (inside < 0 ? stubs.chuck : stubs.tail);
    if (inside < stub.from || inside > stub.to) return untouched;
    return turned.get(stub) ?? ofStub(stub);
  };
}

/** Whether two radii differ by more than a cell may hold. */
const differ = (a: number, b: number): boolean => Math.abs(a - b) > SPREAD * Math.min(a, b);

/** Where the parabola through three evenly spaced values has its least, in shares of their distance from the middle one. */
function dip(a: number, m: number, b: number): number {
  const bend = a - 2 * m + b;
  return bend > 0 ? (a - b) / (2 * bend) : Infinity;
}

/**
 * The bar in cells with what stands in each. Where the section changes fast the cells are short, and the weakest place of
 * each is looked for at both its edges, in its middle and where it dips in between: the answer does not hang on where the
 * edges of the cells happen to fall.
 */
export function cellsOf(job: Job): Cells {
  const jumps = new Set(jumpsOf(job));
  const coarse = stationsOf(job, [...jumps]);
  const look = lookAt(job);
  const { field } = job;
  const edges = [coarse[0]!];
  const rows: Record<Standing, CellSection[]> = { blank: [], roughed: [], finished: [], necked: [] };
  const cell = (a: number, b: number, atA: At, atB: At): void => {
    const x = (a + b) / 2;
    const middle = look(x, 0, x);
    const samples = [atA, middle, atB];
    const [ra, rm, rb] = samples.map((at) => at.finished.smallest) as [number, number, number];
    const changes = [atA, atB].some(
      (at) =>
        differ(at.finished.smallest, rm) ||
        differ(at.finished.largest, middle.finished.largest) ||
        differ(at.roughed.smallest, middle.roughed.smallest),
    );
    // A narrow groove between the places that were looked at shows in the field's own bounds.
    const onForm = a >= 0 && b <= field.length && !job.stubs.between?.some((s) => x > s.from && x < s.to);
    const hidden = (): boolean =>
      onForm && field.isRound(a, b) && field.bounds(a, b)[0] < (1 - SPREAD) * Math.min(ra, rm, rb);
    if (b - a > 2 * SHORTEST && (changes || hidden())) {
      cell(a, x, atA, middle);
      cell(x, b, middle, atB);
      return;
    }
    const at = dip(ra, rm, rb);
    if (at !== 0 && Math.abs(at) < 1) samples.push(look(x + (at * (b - a)) / 2, 0, x));
    edges.push(b);
    for (const moment of MOMENTS) {
      let thinnest = Infinity;
      let bends = 0;
      for (const sample of samples) {
        const s = sample[moment];
        thinnest = Math.min(thinnest, s.smallest);
        bends = Math.max(bends, s.largest / s.inertia);
      }
      rows[moment].push({ ...middle[moment], thinnest, bends });
    }
  };
  let before: At | undefined;
  for (let i = 0; i + 1 < coarse.length; i++) {
    const [a, b] = [coarse[i]!, coarse[i + 1]!];
    const x = (a + b) / 2;
    const end = look(b, -1, x);
    cell(a, b, before ?? look(a, 1, x), end);
    // Beyond a joint or a break something else may stand.
    before = jumps.has(b) ? undefined : end;
  }
  return { edges: Float64Array.from(edges), rows };
}
