/**
 * The angles of a span's columns: every arris is one, and between two arrises lie as many more as the section's chords
 * ask for, at the same fractions of the sector all along the span.
 */
import { TURN } from '../../shared/units.ts';
import type { Surface } from '../profiles/field.ts';
import { type Span, sectorWidths } from './spans.ts';

/** Columns of one span. */
export interface Columns {
  readonly count: number;
  /** 1 where the column is an arris. */
  readonly arris: Uint8Array;
  /** Angles at x in the turned frame, radians, ascending over less than one turn (not reduced to [0, 2π)). */
  at(x: number): Float64Array;
}

/** How many columns: by the sagitta of a chord (mm, measured square to it), or a fixed number a turn. */
export type Fineness = { chord: number } | { columns: number };

/** Fewest columns of a round section. */
const FEWEST = 12;
/** Pieces that a whole turn is looked at in, before the chords decide. */
const FIRST_LOOK = 48;
/** A lone chord between two arrises is halved from this share of the limit on, so that its middle can make up the area. */
const LONE_CHORD = 0.1;
/** Halvings of one piece at the most. */
const DEEPEST = 8;

/** Columns of a round section of the given radius, evenly around. @param radius mm @param chord sagitta, mm */
export const roundColumns = (radius: number, chord: number): number =>
  Math.max(FEWEST, Math.ceil(Math.PI / Math.acos(Math.max(0, 1 - chord / radius))));

/** Largest distance between the section's line from angle a to b and its chord, mm. */
function sagitta(surface: Surface, x: number, a: number, b: number): number {
  const point = (t: number): [number, number] => {
    const r = surface.radius(x, t);
    return [r * Math.sin(t), r * Math.cos(t)];
  };
  const [p, q] = [point(a), point(b)];
  const [dy, dz] = [q[0] - p[0], q[1] - p[1]];
  const length = Math.hypot(dy, dz) || 1;
  let worst = 0;
  const looks = Math.max(4, Math.ceil((FIRST_LOOK * (b - a)) / TURN));
  for (let k = 1; k < looks; k++) {
    const m = point(a + ((b - a) * k) / looks);
    worst = Math.max(worst, Math.abs((m[0] - p[0]) * dz - (m[1] - p[1]) * dy) / length);
  }
  return worst;
}

/** Fractions (0 first, 1 left out) of one sector, fine enough at every probe. */
function fractions(
  surface: Surface,
  probes: readonly { x: number; start: number; width: number }[],
  fineness: Fineness,
  lone: boolean,
): number[] {
  const widest = Math.max(...probes.map((p) => p.width));
  if ('columns' in fineness) {
    const asked = Math.max(1, Math.round((fineness.columns * widest) / TURN));
    const middle = probes[probes.length >> 1]!;
    const bent =
      sagitta(surface, middle.x, middle.start, middle.start + middle.width) >
      1e-3 * surface.radius(middle.x, middle.start);
    const n = Math.max(asked, bent ? 2 : 1);
    return Array.from({ length: n }, (_, k) => k / n);
  }
  const worst = (f0: number, f1: number) => {
    let most = 0;
    for (const p of probes)
      most = Math.max(most, sagitta(surface, p.x, p.start + f0 * p.width, p.start + f1 * p.width));
    return most;
  };
  const straight = lone && worst(0, 1) <= fineness.chord;
  const pieces = straight ? 1 : Math.max(lone ? 1 : 3, Math.ceil((FIRST_LOOK * widest) / TURN));
  const out: number[] = [];
  const add = (f0: number, f1: number, n: number, depth: number) => {
    for (let k = 0; k < n; k++) {
      const [a, b] = [f0 + ((f1 - f0) * k) / n, f0 + ((f1 - f0) * (k + 1)) / n];
      // A chord shrinks with the square of its length; 1.2 because the estimate is only an estimate.
      const more = depth < DEEPEST ? Math.ceil(Math.sqrt(worst(a, b) / (1.2 * fineness.chord))) : 1;
      if (more > 1) add(a, b, Math.min(more, 64), depth + 1);
      else out.push(a);
    }
  };
  add(0, 1, pieces, 0);
  if (out.length === 1 && worst(0, 1) > LONE_CHORD * fineness.chord) return [0, 0.5];
  return out;
}

/** Columns of round spans, by their number: neighbours that share them need not be joined. */
const even = new Map<number, { phi: Float64Array; arris: Uint8Array }>();
function evenly(n: number): { phi: Float64Array; arris: Uint8Array } {
  let known = even.get(n);
  if (!known) {
    known = { phi: Float64Array.from({ length: n }, (_, k) => (k * TURN) / n), arris: new Uint8Array(n) };
    even.set(n, known);
  }
  return known;
}

/** Chooses a span's columns. @param fineness sagitta in mm or columns a turn */
export function columnsOf(surface: Surface, span: Span, fineness: Fineness): Columns {
  if (span.round) {
    const n =
      'columns' in fineness ? fineness.columns : roundColumns(surface.bounds(span.from, span.to)[1], fineness.chord);
    const { phi, arris } = evenly(n);
    return { count: n, arris, at: () => phi };
  }
  // Without arrises the sectors are the repeats of the pattern.
  const repeats = Number.isFinite(surface.symmetry) ? Math.max(1, Math.round(surface.symmetry)) : 1;
  const free = span.count === 0;
  const sectors = free ? repeats : span.count;
  const edges = Array.from({ length: repeats }, (_, k) => (k * TURN) / repeats);
  const starts = (x: number) => (free ? edges : span.creases(x));
  // One repeat stands for all, where the arrises repeat with the section.
  const distinct = sectors % repeats === 0 ? sectors / repeats : sectors;
  const step = Math.max(1, Math.floor(span.probes.length / 16));
  const xs = span.probes.filter((_, k) => k % step === 0 || k === span.probes.length - 1);
  const inset = Math.min(1e-5, (span.to - span.from) / 4);
  const looks = xs.map((at) => {
    const x = Math.min(span.to - inset, Math.max(span.from + inset, at));
    const s = starts(x);
    return { x, turn: surface.turning(x), starts: s, widths: sectorWidths(s) };
  });
  const patterns: number[][] = [];
  for (let k = 0; k < sectors; k++) {
    if (k >= distinct) {
      patterns.push(patterns[k - distinct]!);
      continue;
    }
    const probes = looks.map((l) => ({ x: l.x, start: l.starts[k]! + l.turn, width: l.widths[k]! }));
    patterns.push(fractions(surface, probes, fineness, !free));
  }
  const count = patterns.reduce((n, p) => n + p.length, 0);
  const arris = new Uint8Array(count);
  if (!free) {
    let j = 0;
    for (const p of patterns) {
      arris[j] = 1;
      j += p.length;
    }
  }
  let last: readonly number[] | undefined;
  let kept = new Float64Array(0);
  const at = (x: number) => {
    const s = starts(x);
    if (s === last) return kept;
    const widths = sectorWidths(s);
    const out = new Float64Array(count);
    let j = 0;
    for (let k = 0; k < sectors; k++) for (const f of patterns[k]!) out[j++] = s[k]! + f * widths[k]!;
    last = s;
    kept = out;
    return out;
  };
  return { count, arris, at };
}
