/**
 * Cuts a surface along x into spans in which nothing starts or ends: between two breaks, and with the same arrises all
 * along. The arrises of a span are followed by identity, so that each can be one column of the mesh.
 */
import { SAME_X } from '../../shared/tolerances.ts';
import { TURN, wrapHalfTurn, wrapTurn } from '../../shared/units.ts';
import type { Side, Surface } from '../profiles/field.ts';

/** Angles nearer than this are one arris, radians: a thousandth of a micrometre on the largest part. */
const SAME_ANGLE = 1e-8;
/** Just inside a break, where the section already has the arrises of its span, mm. */
const INSIDE = 10 * SAME_X;
/** How closely arrises are looked for, mm. */
export interface Probing {
  /** Distance of the first looks. */
  readonly apart: number;
  /** Where the arrises change faster than this can follow, the mesh lets go of them. */
  readonly shortest: number;
}
/** For a solid: nearer than two crossings of grooves on any part. */
export const FINE: Probing = { apart: 2, shortest: 0.02 };
/** For a mesh of few rings, where an arris that is missed only bends its columns: under half a pixel of the longest parts. */
export const SCREEN: Probing = { apart: 6, shortest: 0.25 };
/** More changes than this between two breaks: the section is no pattern of arrises, and none is followed. */
const MOST_CHANGES = 600;

/** A length of the surface with the same arrises all along. */
export interface Span {
  readonly from: number;
  readonly to: number;
  /** Whether the outline may bend or jump at the ends (a break of the surface, or its end). */
  readonly lockedFrom: boolean;
  readonly lockedTo: boolean;
  readonly round: boolean;
  /** Number of arrises. */
  readonly count: number;
  /**
   * Angles of the arrises at x in the frame that turns with the surface (θ − turning(x)), ascending over less than a
   * turn, each entry the same arris all along the span; not reduced to one turn.
   */
  creases(x: number): number[];
  /** Positions at which the arrises were looked up, ascending, both ends included. */
  readonly probes: readonly number[];
}

/** Arrises of one section in the turned frame, ascending in [0, 2π). */
function turned(surface: Surface, x: number, side: Side): number[] {
  const turn = surface.turning(x);
  const out = surface
    .creases(x, side)
    .map((c) => wrapTurn(c - turn))
    .sort((a, b) => a - b);
  return out.filter((c, k) => k === 0 || c - out[k - 1]! > SAME_ANGLE);
}

/** Whether no arris moved: what turns with the surface stands still in its frame, the usual case. */
const still = (list: readonly number[], near: readonly number[]): boolean =>
  list.length === near.length && list.every((c, k) => Math.abs(c - near[k]!) < SAME_ANGLE);

/** The list rotated and unwrapped so that entry k is nearest to entry k of `near`; both of the same length. */
function aligned(list: number[], near: readonly number[]): number[] {
  const n = list.length;
  if (n === 0) return [];
  if (still(list, near)) return [...near];
  let best = 0;
  for (let k = 1; k < n; k++)
    if (Math.abs(wrapHalfTurn(list[k]! - near[0]!)) < Math.abs(wrapHalfTurn(list[best]! - near[0]!))) best = k;
  let found = 0;
  let least = Infinity;
  for (let s = best - 2; s <= best + 2; s++) {
    let sum = 0;
    for (let k = 0; k < n; k++) sum += Math.abs(wrapHalfTurn(list[(((k + s) % n) + n) % n]! - near[k]!));
    if (sum < least - 1e-12) {
      least = sum;
      found = s;
    }
  }
  const first = near[0]! + wrapHalfTurn(list[((found % n) + n) % n]! - near[0]!);
  const out = [first];
  for (let k = 1; k < n; k++) {
    const before = list[(((k - 1 + found) % n) + n) % n]!;
    const here = list[(((k + found) % n) + n) % n]!;
    out.push(out[k - 1]! + wrapTurn(here - before));
  }
  return out;
}

interface Probe {
  x: number;
  list: number[];
}

/**
 * Share of the way at which a second look is taken beside the middle. A pattern that turns by a whole number of its repeats
 * in a step looks as if it stood still, at the middle too if the number is even; not at the golden section.
 */
const GOLDEN = (3 - Math.sqrt(5)) / 2;

/** Whether the arrises go on from a to b: the same number all along, and evenly, so that no repeat of them was skipped. */
function continues(a: Probe, early: Probe, mid: Probe, b: Probe): boolean {
  if (![early, mid, b].every((p) => p.list.length === a.list.length)) return false;
  const direct = aligned(b.list, a.list);
  return [
    { list: aligned(early.list, a.list), share: GOLDEN },
    { list: aligned(mid.list, a.list), share: 0.5 },
  ].every(({ list, share }) =>
    list.every((c, k) => {
      const [turned, want] = [c - a.list[k]!, share * (direct[k]! - a.list[k]!)];
      return Math.abs(turned - want) <= 0.15 * Math.max(Math.abs(turned), Math.abs(want)) + 0.025;
    }),
  );
}

/** Follows the arrises from a to b and cuts where they change. */
function follow(surface: Surface, a: number, b: number, probing: Probing): Probe[][] {
  const inset = Math.min(INSIDE, (b - a) / 4);
  const lookUp = (x: number): Probe => ({
    x,
    list: turned(surface, Math.min(b - inset, Math.max(a + inset, x)), 0),
  });
  const few = [0, 0.207, GOLDEN, 0.5, 0.793, 1].map((share) => lookUp(a + share * (b - a)));
  if (few.every((p) => still(p.list, few[0]!.list))) return [few];
  const runs: Probe[][] = [[few[0]!]];
  const advance = (from: Probe, to: Probe) => {
    if (runs.length > MOST_CHANGES) return;
    const mid = lookUp((from.x + to.x) / 2);
    const even = mid.list.length === from.list.length && to.list.length === from.list.length;
    if (even && continues(from, lookUp(from.x + GOLDEN * (to.x - from.x)), mid, to)) {
      mid.list = aligned(mid.list, from.list);
      to.list = aligned(to.list, mid.list);
      runs.at(-1)!.push(mid, to);
    } else if (to.x - from.x > probing.shortest) {
      advance(from, mid);
      advance(runs.at(-1)!.at(-1)!, to);
    } else {
      runs.at(-1)!.push({ x: mid.x, list: from.list });
      runs.push([{ x: mid.x, list: to.list }, to]);
    }
  };
  const pieces = Math.max(8, Math.ceil((b - a) / probing.apart));
  for (let k = 1; k <= pieces; k++)
    advance(runs.at(-1)!.at(-1)!, lookUp(k === pieces ? b : a + ((b - a) * k) / pieces));
  return runs;
}

/** The place of x in a run: index of the last probe at or before it. */
function before(run: readonly Probe[], x: number): number {
  let [lo, hi] = [0, run.length - 1];
  while (hi - lo > 1) {
    const mid = (lo + hi) >> 1;
    if (run[mid]!.x <= x) lo = mid;
    else hi = mid;
  }
  return lo;
}

function creasesOf(surface: Surface, run: readonly Probe[]): (x: number) => number[] {
  const first = run[0]!.list;
  if (run.every((p) => still(p.list, first))) return () => first;
  return (x) => {
    const k = before(run, x);
    const [a, b] = [run[k]!, run[Math.min(run.length - 1, k + 1)]!];
    if (x <= a.x) return a.list;
    if (x >= b.x) return b.list;
    const list = turned(surface, x, 0);
    const t = (x - a.x) / (b.x - a.x);
    const between = a.list.map((c, i) => c + t * (b.list[i]! - c));
    return list.length === a.list.length ? aligned(list, between) : between;
  };
}

/**
 * Cuts a surface into spans.
 * @param probing how closely arrises are looked for
 * @returns spans ascending in x, each starting where the one before ends
 */
export function spansOf(surface: Surface, probing: Probing): Span[] {
  const cuts = [surface.from];
  for (const { x } of surface.breaks) if (x > cuts.at(-1)! + SAME_X && x < surface.to - SAME_X) cuts.push(x);
  cuts.push(surface.to);
  const spans: Span[] = [];
  for (let i = 0; i + 1 < cuts.length; i++) {
    const [a, b] = [cuts[i]!, cuts[i + 1]!];
    const inset = Math.min(INSIDE, (b - a) / 4);
    if (surface.isRound(a + inset, b - inset)) {
      spans.push(plain(a, b, true));
      continue;
    }
    const runs = follow(surface, a, b, probing).filter((r) => r.at(-1)!.x > r[0]!.x);
    if (runs.length > MOST_CHANGES) {
      spans.push(plain(a, b, false));
      continue;
    }
    runs.forEach((run, k) => {
      spans.push({
        from: run[0]!.x,
        to: run.at(-1)!.x,
        lockedFrom: k === 0,
        lockedTo: k === runs.length - 1,
        round: false,
        count: run[0]!.list.length,
        creases: creasesOf(surface, run),
        probes: run.map((p) => p.x),
      });
    });
  }
  return spans;
}

function plain(from: number, to: number, round: boolean): Span {
  const probes = Array.from({ length: 17 }, (_, k) => from + ((to - from) * k) / 16);
  return { from, to, lockedFrom: true, lockedTo: true, round, count: 0, creases: () => [], probes };
}

/** Widths of the sectors between neighbouring arrises, radians; the last one closes the turn. */
export function sectorWidths(creases: readonly number[]): number[] {
  return creases.map((c, k) => (k + 1 < creases.length ? creases[k + 1]! : creases[0]! + TURN) - c);
}
