/**
 * What must be left standing while the part is cut: the form, the stubs beside it, and the untouched blank beyond them.
 * The planner's bits are held above this surface.
 */
import { SAME_X } from '../../shared/tolerances.ts';
import { TURN } from '../../shared/units.ts';
import type { Break, Field, Side, Surface } from '../profiles/field.ts';
import type { Blank } from './blank.ts';
import { blankRadius, innerRadius, outerRadius } from './blank.ts';
import type { Job } from './job.ts';

/** A range along x, mm, from ≤ to. */
export interface Span {
  readonly from: number;
  readonly to: number;
}

/** Steps along a kept range in search of where its shoulder meets the section, mm. */
const SHOULDER_STEP = 0.25;

/**
 * Where nothing at all is cut of the form: the kept ranges less the shoulders at their ends, which are shaped from the
 * blank's corners inward.
 * @returns ascending ranges, mm
 */
export function untouched(job: Pick<Job, 'field' | 'blank'>): Span[] {
  const { field, blank } = job;
  const angles = blank.section === 'round' ? [0] : cornersOf(blank);
  const section = angles.map((t) => blankRadius(blank, t));
  const whole = (x: number, side: Side) => angles.every((t, k) => field.radius(x, t, side) >= section[k]! - SAME_X);
  const out: Span[] = [];
  for (const k of field.kept) {
    const n = Math.max(1, Math.ceil((k.to - k.from) / SHOULDER_STEP));
    const x = (i: number) => k.from + ((k.to - k.from) * i) / n;
    let a = 0;
    while (a <= n && !whole(x(a), 1)) a++;
    let b = n;
    while (b > a && !whole(x(b), -1)) b--;
    if (a < b) out.push({ from: x(a), to: x(b) });
  }
  return out;
}

/** Whether the form's own end is left as the blank's section, so that nothing is turned beside it. */
const endKept = (job: Pick<Job, 'field' | 'blank'>, x: number): boolean =>
  untouched(job).some((k) => k.from - SAME_X <= x && x <= k.to + SAME_X);

/**
 * Where the tip may have to go: the whole length between the outer ends of the stubs, less the ranges that are left
 * untouched, and less a stub whose form's end is untouched.
 * @returns ascending spans, mm
 */
export function turnedSpans(job: Pick<Job, 'field' | 'blank' | 'stubs'>): Span[] {
  const { field, stubs } = job;
  const spans: Span[] = [];
  let from = endKept(job, 0) ? 0 : Math.min(0, stubs.chuck.from);
  const end = endKept(job, field.length) ? field.length : Math.max(field.length, stubs.tail.to);
  for (const k of untouched(job)) {
    if (k.from - from > SAME_X) spans.push({ from, to: k.from });
    from = Math.max(from, k.to);
  }
  if (end - from > SAME_X) spans.push({ from, to: end });
  return spans;
}

/** One stretch of the work surface: what its radius is there. */
interface Zone extends Span {
  /** A cylinder inside the blank, or the blank's section where cylinder is Infinity; the field where it is undefined. */
  readonly cylinder: number | undefined;
}

function largestAt(field: Field, x: number, side: Side): number {
  const n = field.isRound(x, x) ? 1 : 720;
  const thetas = Float64Array.from({ length: n }, (_, j) => (j * TURN) / n);
  const out = new Float64Array(n);
  field.ring(x, thetas, out, side);
  let most = 0;
  for (const r of out) most = Math.max(most, r);
  for (const t of field.creases(x, side)) most = Math.max(most, field.radius(x, t, side));
  return most;
}

function zones(job: Pick<Job, 'field' | 'blank' | 'stubs'>): Zone[] {
  const { field, blank, stubs } = job;
  const list: Zone[] = [];
  const add = (from: number, to: number, cylinder: number | undefined) => {
    if (to - from > SAME_X) list.push({ from, to, cylinder });
  };
  const chuckFrom = Math.max(blank.from, Math.min(0, stubs.chuck.from));
  const tailTo = Math.min(blank.to, Math.max(field.length, stubs.tail.to));
  const stub = (x: number, side: Side, radius: number) =>
    endKept(job, x) ? Infinity : Math.max(radius, largestAt(field, x, side));
  add(blank.from, chuckFrom, Infinity);
  add(chuckFrom, 0, stub(0, 1, stubs.chuck.radius));
  let piece = 0;
  for (const p of stubs.between ?? []) {
    add(piece, p.from, undefined);
    add(p.from, p.to, p.standing ?? p.radius);
    piece = p.to;
  }
  add(piece, field.length, undefined);
  add(field.length, tailTo, stub(field.length, -1, stubs.tail.radius));
  add(tailTo, blank.to, Infinity);
  return list;
}

/** Order of the section's turning symmetry; Infinity for a round one. */
function blankSymmetry(blank: Blank): number {
  if (blank.section === 'round') return Infinity;
  if (blank.section === 'polygon') return blank.sides;
  return blank.width === blank.height ? 4 : 2;
}

function common(a: number, b: number): number {
  if (a === Infinity) return b;
  if (b === Infinity) return a;
  return b === 0 ? a : common(b, a % b);
}

/** Angles of the corners of a section, radians in [0, 2π), ascending; empty for a round one. */
export function cornersOf(blank: Blank): number[] {
  if (blank.section === 'round') return [];
  if (blank.section === 'polygon') {
    const step = TURN / blank.sides;
    return Array.from({ length: blank.sides }, (_, k) => (k + 0.5) * step);
  }
  const first = Math.atan2(blank.width, blank.height);
  return [first, Math.PI - first, Math.PI + first, TURN - first];
}

/**
 * The surface of the work on [blank.from, blank.to]: the form on [0, length] with its parting grooves as they stand, beside it
 * the stubs (cylinders of the stub's radius, or of the form's end where that is larger, never outside the blank), beyond them
 * the blank's own section.
 * Its joints are shoulders.
 */
export function workSurface(job: Pick<Job, 'field' | 'blank' | 'stubs'>): Surface {
  const { field, blank } = job;
  const list = zones(job);
  const first = list[0]!;
  const last = list.at(-1)!;
  const outer = outerRadius(blank);
  const inner = innerRadius(blank);
  const corners = cornersOf(blank);

  const zoneAt = (x: number, side: Side): Zone => {
    for (let k = 0; k < list.length; k++) {
      const z = list[k]!;
      if (x < z.to || k === list.length - 1) return z;
      if (x === z.to && side < 0) return z;
    }
    return last;
  };
  const inZone = (z: Zone, x: number, theta: number, side: Side): number => {
    if (z.cylinder === undefined) return field.radius(Math.min(field.length, Math.max(0, x)), theta, side);
    return z.cylinder <= inner ? z.cylinder : Math.min(z.cylinder, blankRadius(blank, theta));
  };
  const joint = (x: number): boolean => {
    for (let k = 1; k < list.length; k++) if (list[k]!.from === x) return true;
    return false;
  };
  const radius = (x: number, theta: number, side: Side = 0): number => {
    if (side === 0 && joint(x)) return Math.max(inZone(zoneAt(x, -1), x, theta, -1), inZone(zoneAt(x, 1), x, theta, 1));
    return inZone(zoneAt(x, side), x, theta, side);
  };
  const zoneBounds = (z: Zone, x0: number, x1: number): [number, number] => {
    if (z.cylinder === undefined)
      return field.bounds(Math.max(0, Math.min(x0, field.length)), Math.min(field.length, Math.max(x1, 0)));
    return [Math.min(z.cylinder, inner), Math.min(z.cylinder, outer)];
  };
  const touching = (x0: number, x1: number) => {
    const hit = list.filter((z) => z.to >= x0 && z.from <= x1);
    return hit.length > 0 ? hit : [x1 < first.from ? first : last];
  };
  const bounds = (x0: number, x1: number): [number, number] => {
    let lo = Infinity;
    let hi = 0;
    for (const z of touching(x0, x1)) {
      const [a, b] = zoneBounds(z, Math.max(x0, z.from), Math.min(x1, z.to));
      lo = Math.min(lo, a);
      hi = Math.max(hi, b);
    }
    return [lo, hi];
  };
  const zoneRound = (z: Zone, x0: number, x1: number) =>
    z.cylinder === undefined
      ? field.isRound(Math.max(0, Math.min(x0, field.length)), Math.min(field.length, Math.max(x1, 0)))
      : blank.section === 'round' || z.cylinder <= inner;
  const sectionBreaks = (z: Zone): boolean => z.cylinder !== undefined && z.cylinder > inner && corners.length > 0;

  const breaks: Break[] = [...field.breaks];
  for (let k = 1; k < list.length; k++)
    if (!breaks.some((b) => b.x === list[k]!.from)) breaks.push({ x: list[k]!.from, kind: 'shoulder' });
  breaks.sort((a, b) => a.x - b.x);
  const [minRadius, maxRadius] = bounds(first.from, last.to);
  return {
    from: first.from,
    to: last.to,
    minRadius,
    maxRadius,
    symmetry: list.some(sectionBreaks) ? common(field.symmetry, blankSymmetry(blank)) : field.symmetry,
    breaks,
    radius,
    ring: (x, thetas, out, side = 0) => {
      const z = zoneAt(x, side);
      if (z.cylinder === undefined && !(side === 0 && joint(x))) field.ring(x, thetas, out, side);
      else for (let j = 0; j < thetas.length; j++) out[j] = radius(x, thetas[j]!, side);
    },
    bounds,
    isRound: (x0, x1) => touching(x0, x1).every((z) => zoneRound(z, Math.max(x0, z.from), Math.min(x1, z.to))),
    isScrew: (x0, x1) => {
      const [zone, ...more] = touching(x0, x1);
      return !more.length && zone!.cylinder === undefined && x0 >= zone!.from && x1 <= zone!.to
        ? (field.isScrew?.(x0, x1) ?? false)
        : false;
    },
    creases: (x, side = 0) => {
      const sides: Side[] = side === 0 && joint(x) ? [-1, 1] : [side];
      const all = sides.flatMap((s) => {
        const z = zoneAt(x, s);
        if (z.cylinder === undefined) return field.creases(x, s);
        if (!sectionBreaks(z)) return [];
        if (z.cylinder >= outer) return corners;
        // A cylinder that pokes out of the blank's faces meets each of them at acos(face distance / radius).
        return crossings(blank, z.cylinder);
      });
      return [...new Set(all)].sort((a, b) => a - b);
    },
    turning: (x) => (x < 0 || x > field.length ? 0 : field.turning(x)),
  };
}

/** Where a circle crosses the flats of a section, and the corners inside it; radians in [0, 2π), unordered. */
function crossings(blank: Blank, radius: number): number[] {
  const flats: { normal: number; distance: number }[] =
    blank.section === 'polygon'
      ? Array.from({ length: blank.sides }, (_, k) => ({
          normal: (k * TURN) / blank.sides,
          distance: blank.width / 2,
        }))
      : Array.from({ length: 4 }, (_, k) => ({
          normal: (k * TURN) / 4,
          distance: (k % 2 ? blank.width : blank.height) / 2,
        }));
  const out = cornersOf(blank).filter((t) => blankRadius(blank, t) < radius);
  for (const f of flats) {
    if (f.distance >= radius) continue;
    const half = Math.acos(f.distance / radius);
    for (const t of [f.normal - half, f.normal + half])
      if (Math.abs(blankRadius(blank, t) - radius) < 1e-9 * radius) out.push(((t % TURN) + TURN) % TURN);
  }
  return out;
}
