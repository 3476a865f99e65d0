/**
 * From a design to its field: outline, pommels and carvings as one exact r(x, θ).
 * Cost: a ring works out everything that depends on x once, then one call a carving and angle.
 */
import type { Problem } from '../../shared/problems.ts';
import { SMALLEST_RADIUS } from '../../shared/tolerances.ts';
import { wrapTurn } from '../../shared/units.ts';
import { outlineBounds, surfaceBounds } from './bounds.ts';
import { type Carved, carve } from './carve.ts';
import type { Cutter } from './carving.ts';
import type { Design } from './design.ts';
import type { Field, Side } from './field.ts';
import { layOut } from './layout.ts';
import { mergeBreaks, type TurnedOutline, turnedOutline } from './outline.ts';
import { depthShares } from './reach.ts';
import { type Section, sectionCrossings } from './section.ts';

const round = (mm: number) => String(Math.round(mm * 1000) / 1000);

/** Numbers that are none, with their paths. */
function notNumbers(value: unknown, path: string, problems: Problem[]): void {
  if (typeof value === 'number' && !Number.isFinite(value))
    problems.push({
      code: 'out-of-limits',
      severity: 'refuse',
      path,
      message: `${value} is not a length or a count`,
      allowed: 'a finite number',
    });
  else if (Array.isArray(value)) for (const [i, v] of value.entries()) notNumbers(v, `${path}[${i}]`, problems);
  else if (value && typeof value === 'object')
    for (const [key, v] of Object.entries(value)) notNumbers(v, path ? `${path}.${key}` : key, problems);
}

/**
 * Makes the field of a design.
 * @param design form and carvings, as the schema takes them
 * @param section the blank's section, for pommels; undefined if there is no blank
 * @returns the field, undefined if it cannot be made, and every problem with its path in the document
 */
export function fieldOf(design: Design, section?: Section): { field: Field | undefined; problems: Problem[] } {
  const problems: Problem[] = [];
  notNumbers(
    { length: design.length, girth: design.girth, form: design.form, carvings: design.carvings },
    '',
    problems,
  );
  if (problems.length) return { field: undefined, problems };
  const layout = layOut(design, section);
  problems.push(...layout.problems);
  if (layout.problems.length || layout.placed.length !== design.form.length || layout.placed.length === 0)
    return { field: undefined, problems };
  const outline = turnedOutline(layout.placed, layout.length);
  const carved = carve(design.carvings ?? [], outline, design.girth ?? 1, (x0, x1) => outlineBounds(outline, x0, x1));
  problems.push(...carved.problems);
  if (!carved.problems.length) problems.push(...tooDeep(design, outline, section, carved));
  return problems.length ? { field: undefined, problems } : { field: field(outline, section, carved), problems };
}

/** The first carving that cuts through: which element, by how much. */
function tooDeep(design: Design, outline: TurnedOutline, section: Section | undefined, carved: Carved): Problem[] {
  const so: Cutter[] = [];
  for (const { index, cutter } of carved.cutters) {
    so.push(cutter);
    for (const p of outline.placed) {
      const from = Math.max(p.from, cutter.reach.from);
      const to = Math.min(p.to, cutter.reach.to);
      if (to <= from) continue;
      const [low] = surfaceBounds(outline, section, so, from, to);
      if (low >= SMALLEST_RADIUS) continue;
      const carving = design.carvings![index]!;
      return [
        {
          code: 'carving-too-deep',
          severity: 'refuse',
          path: `carvings[${index}]${'depth' in carving ? '.depth' : ''}`,
          message: `the ${carving.carving} cut ${round(SMALLEST_RADIUS - low)} mm deeper than the ${p.kind} form[${p.index}] allows`,
          allowed: `a core of at least ${2 * SMALLEST_RADIUS} mm left`,
        },
      ];
    }
  }
  return [];
}

function gcd(a: number, b: number): number {
  if (a === Infinity) return b;
  if (b === Infinity) return a;
  return b === 0 ? a : gcd(b, a % b);
}

function field(outline: TurnedOutline, section: Section | undefined, carved: Carved): Field {
  const { length, placed } = outline;
  const cutters = carved.cutters.map((c) => c.cutter);
  const breaks = mergeBreaks([...outline.breaks, ...carved.breaks], length);
  const shoulders = Float64Array.from(breaks.filter((b) => b.kind === 'shoulder').map((b) => b.x));
  const square = section && section.inner < section.outer ? section : undefined;
  const kept = placed.filter((p) => p.outline.kept);
  const symmetry = [...(kept.length && square ? [square.symmetry] : []), ...cutters.map((c) => c.symmetry)].reduce(
    gcd,
    Infinity,
  );
  const follow = cutters.find((c) => c.turning)?.turning;
  const [minRadius, maxRadius] = surfaceBounds(outline, section, cutters, 0, length);

  // The place that was asked for last: most callers stay on one ring for many angles.
  // In an array, where a number that changes all the time is kept without a new box for it.
  const at = Float64Array.of(Number.NaN, 0);
  let atSide: -1 | 1 = 1;
  let keeps = false;
  // Those of `cutters` that cut here: the first `cutting` entries. An array is never shortened, which would cost more than a cut.
  const active: Cutter[] = cutters.slice();
  let cutting = 0;
  function goTo(x: number, side: -1 | 1): void {
    if (x === at[0] && side === atSide) return;
    at[0] = x;
    atSide = side;
    const r0 = outline.radius(x, side);
    at[1] = r0;
    keeps = placed[outline.elementAt(x, side)]!.outline.kept !== undefined;
    cutting = 0;
    for (let k = 0; k < cutters.length; k++) if (cutters[k]!.at(x, side, r0)) active[cutting++] = cutters[k]!;
  }
  function here(theta: number): number {
    let r = at[1]!;
    if (keeps) r = Math.min(r, section!.radius(theta));
    for (let k = 0; k < cutting; k++) r = active[k]!.cut(r, theta);
    return r;
  }
  function ringHere(thetas: Float64Array, out: Float64Array): void {
    const r0 = at[1]!;
    if (keeps) for (let j = 0; j < thetas.length; j++) out[j] = Math.min(r0, section!.radius(thetas[j]!));
    else out.fill(r0);
    for (let k = 0; k < cutting; k++) {
      const c = active[k]!;
      for (let j = 0; j < thetas.length; j++) out[j] = c.cut(out[j]!, thetas[j]!);
    }
  }
  const clamp = (x: number) => Math.min(length, Math.max(0, x));
  const isShoulder = (x: number): boolean => {
    let low = 0;
    let high = shoulders.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (shoulders[middle]! < x) low = middle + 1;
      else high = middle;
    }
    return shoulders[low] === x;
  };
  /** The one side that counts at x, or 0 where both do. */
  const sideAt = (x: number, side: Side): Side =>
    x === 0 ? 1 : x === length ? -1 : side !== 0 ? side : isShoulder(x) ? 0 : 1;
  let other = new Float64Array(0);

  const creasesAt = (x: number, side: -1 | 1): number[] => {
    goTo(x, side);
    const r0 = at[1]!;
    const found: number[] = [];
    for (let k = 0; k < cutting; k++) found.push(...active[k]!.creases());
    if (keeps && square) found.push(...(r0 >= square.outer ? square.corners : sectionCrossings(square, r0)));
    return found;
  };

  return {
    from: 0,
    to: length,
    length,
    minRadius,
    maxRadius,
    symmetry,
    breaks,
    guides: cutters.flatMap((c) => c.guides),
    holes: carved.holes,
    kept: kept
      .map((p) => ({ from: p.from + p.outline.kept![0], to: p.from + p.outline.kept![1] }))
      .filter((k) => k.to > k.from),
    radius(x, theta, side = 0) {
      const place = x === at[0] ? x : clamp(x);
      const from = sideAt(place, side);
      if (from !== 0) {
        goTo(place, from);
        return here(theta);
      }
      goTo(place, -1);
      const before = here(theta);
      goTo(place, 1);
      return Math.max(before, here(theta));
    },
    ring(x, thetas, out, side = 0) {
      const place = clamp(x);
      const from = sideAt(place, side);
      goTo(place, from || 1);
      ringHere(thetas, out);
      if (from !== 0) return;
      if (other.length < thetas.length) other = new Float64Array(thetas.length);
      goTo(place, -1);
      ringHere(thetas, other);
      for (let j = 0; j < thetas.length; j++) out[j] = Math.max(out[j]!, other[j]!);
    },
    bounds: (x0, x1) => surfaceBounds(outline, section, cutters, clamp(x0), clamp(x1)),
    isRound(x0, x1) {
      const a = clamp(x0);
      const b = clamp(x1);
      // What runs out to nothing is round at its very end; what ends square is not.
      for (const { reach } of cutters) {
        const before = b < reach.from || (b === reach.from && reach.chuckEnd !== 'square');
        const behind = a > reach.to || (a === reach.to && reach.tailEnd !== 'square');
        if (!before && !behind) return false;
      }
      if (square)
        for (const p of kept) {
          if (p.to < a || p.from > b) continue;
          if (outlineMost(outline, p.from, p.to, a, b) > square.inner) return false;
        }
      return true;
    },
    isScrew(x0, x1) {
      const [a, b] = [clamp(x0), clamp(x1)];
      if (a !== x0 || b !== x1 || !follow) return false;
      const [low, high] = outlineBounds(outline, a, b);
      if (high - low > EVEN || breaks.some((k) => k.x > a && k.x < b)) return false;
      if (placed.some((p) => p.outline.kept && p.from < b && p.to > a)) return false;
      const near = cutters.filter(({ reach }) => reach.from <= b && reach.to >= a);
      const rate = (follow(b) - follow(a)) / (b - a);
      return near.every(
        (c) =>
          c.screws &&
          depthShares(c.reach, a, b)[0] === 1 &&
          SHARES.every((s) => Math.abs(c.turning!(a + s * (b - a)) - c.turning!(a) - rate * s * (b - a)) < EVEN),
      );
    },
    creases(x, side = 0) {
      const place = clamp(x);
      const from = sideAt(place, side);
      const found = from === 0 ? [...creasesAt(place, -1), ...creasesAt(place, 1)] : creasesAt(place, from);
      const sorted = found.map(wrapTurn).sort((a, b) => a - b);
      return sorted.filter((a, i) => i === 0 || a - sorted[i - 1]! > SAME_ANGLE);
    },
    turning: follow ? (x) => follow(clamp(x)) : () => 0,
  };
}

/** Outlines (mm) and turns (radians) that differ by less are even. */
const EVEN = 1e-9;
/** Places at which a turn is looked at; the turnings there are piecewise lines and smooth eases, never waves. */
const SHARES = [0.19, 0.5, 0.77, 1];

/** Arrises nearer than this are one, radians: at 100 mm radius a tenth of a nanometre. */
const SAME_ANGLE = 1e-12;

/** Largest outline of one element within a range that at least touches it. */
function outlineMost(outline: TurnedOutline, from: number, to: number, x0: number, x1: number): number {
  const a = Math.max(from, x0);
  const b = Math.min(to, x1);
  if (a < b) return outlineBounds(outline, a, b)[1];
  return outline.radius(a, a === from ? 1 : -1);
}
