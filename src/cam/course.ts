/**
 * A course over the work: nodes in (x, θ) joined by straight lines, θ growing, and the tip as low as the work allows along
 * it, sampled as finely as the work asks.
 *
 * Where the work is round the height depends on x alone and few samples do. Elsewhere the first samples lie an arc apart
 * that the bit's own end bounds (z* is the upper envelope of the bit's shape, so it never bulges above a chord by more
 * than chord²/8 times the curvature of that end), every arris is a sample, and where the middle of an interval is off the
 * chord the interval is halved. What still may hide between samples is added on top.
 */
import type { Bit } from '../../shared/catalog.ts';
import { TURN, wrapTurn } from '../../shared/units.ts';
import type { Surface } from '../profiles/field.ts';
import { cuspRadius } from './bit.ts';
import type { Heights } from './contact-heights.ts';
import type { Samples } from './thin.ts';

/** A corner of a course. */
export interface Node {
  readonly theta: number;
  readonly x: number;
  /** The tip stays at or above this, linear to the next node, mm; 0 where only the work binds. */
  readonly floor: number;
}

export interface Sampling {
  /** How far the height may be off the chord in the middle of an interval, mm. */
  readonly chord: number;
  /** Added to every height, mm: what may hide between samples, rounding of the words. */
  readonly guard: number;
}

/** Largest step round the axis between samples where the work is round, radians: short of a quarter turn. */
const ROUND_STEP = TURN / 5;
/** Largest step where it is not, radians, and the arc that the bit's end allows at the most, mm. */
const CARVED_STEP = TURN / 90;
const CARVED_ARC = 1.2;
/** Fewest first samples for one of a section's like features. */
const SAMPLES_A_PERIOD = 8;
/** An interval that rises by more than this many chords must be straight twice over: an S has its middle on its chord. */
const STEEP = 16;
/** No interval is halved below this arc, mm: a step of the height inside it is taken at its higher side. */
const SHORTEST_ARC = 0.02;

/** A place of a path with the height found there. */
export interface Point {
  /** What the path runs over: θ of a course, the length of a track. */
  run: number;
  theta: number;
  x: number;
  floor: number;
  z: number;
  knot: number;
}

/**
 * Samples a course.
 * @param nodes θ strictly growing @returns samples whose `low` is at or above the tip height that the work allows
 */
export function sampleCourse(
  work: Surface,
  contact: Heights,
  bit: Bit,
  nodes: readonly Node[],
  sampling: Sampling,
): Samples {
  const R = bit.diameter / 2;
  const arc = Math.min(CARVED_ARC, 4 * Math.sqrt(8 * (cuspRadius(bit) || R) * sampling.chord));
  const points: Point[] = [];
  const add = (a: Node, b: Node, theta: number, knot: number) => {
    const s = (theta - a.theta) / (b.theta - a.theta);
    points.push({ run: theta, theta, x: a.x + (b.x - a.x) * s, floor: a.floor + (b.floor - a.floor) * s, z: 0, knot });
  };
  for (let n = 0; n < nodes.length - 1; n++) {
    const a = nodes[n];
    const b = nodes[n + 1];
    const x0 = Math.max(work.from, Math.min(a.x, b.x) - R);
    const x1 = Math.min(work.to, Math.max(a.x, b.x) + R);
    const plain = work.isRound(x0, x1);
    const around = plain ? 0 : work.bounds(x0, x1)[1];
    // A feature that comes round n times shall not hide between even samples.
    const period = Number.isFinite(work.symmetry) ? TURN / work.symmetry : TURN;
    const step = plain ? ROUND_STEP : Math.min(CARVED_STEP, arc / around, period / SAMPLES_A_PERIOD);
    const inside = plain ? [] : arrises(work, a, b);
    const count = Math.max(1, Math.ceil((b.theta - a.theta) / step - 1e-9));
    add(a, b, a.theta, 1);
    let next = 0;
    const gap = ((b.theta - a.theta) / count) * 1e-3;
    for (let k = 1; k < count; k++) {
      const theta = a.theta + ((b.theta - a.theta) * k) / count;
      while (next < inside.length && inside[next] < theta - gap) {
        if (inside[next] > points.at(-1)!.theta + gap) add(a, b, inside[next], 0);
        next++;
      }
      add(a, b, theta, 0);
    }
    while (next < inside.length && inside[next] < b.theta - gap) {
      if (inside[next] > points.at(-1)!.theta + gap) add(a, b, inside[next], 0);
      next++;
    }
  }
  const last = nodes.at(-1)!;
  points.push({ run: last.theta, theta: last.theta, x: last.x, floor: last.floor, z: 0, knot: 1 });
  return settle(contact, points, sampling);
}

/** Finds the heights of points in their order, halves intervals until they are straight, and adds the guard. */
export function settle(contact: Heights, points: Point[], sampling: Sampling): Samples {
  evaluate(contact, points);
  return finish(refine(contact, points, sampling.chord), sampling);
}

function evaluate(contact: Heights, points: readonly Point[]): void {
  const xs = Float64Array.from(points, (p) => p.x);
  const thetas = Float64Array.from(points, (p) => p.theta);
  const out = new Float64Array(points.length);
  contact.along(xs, thetas, out);
  for (let i = 0; i < points.length; i++) points[i].z = Math.max(out[i], points[i].floor);
}

/** Angles between two nodes at which the course crosses an arris, ascending. */
function arrises(work: Surface, a: Node, b: Node): number[] {
  const at = (theta: number) => a.x + ((b.x - a.x) * (theta - a.theta)) / (b.theta - a.theta);
  const found: number[] = [];
  for (const crease of work.creases((a.x + b.x) / 2)) {
    let theta = a.theta + wrapTurn(crease - a.theta);
    if (a.x !== b.x)
      // The arris turns along x: where it really meets the course.
      for (let i = 0; i < 2; i++) {
        let nearest = Infinity;
        for (const c of work.creases(at(theta))) {
          const off = wrapTurn(c - theta + TURN / 2) - TURN / 2;
          if (Math.abs(off) < Math.abs(nearest)) nearest = off;
        }
        if (Math.abs(nearest) < TURN / 8) theta += nearest;
      }
    for (; theta < b.theta; theta += TURN) if (theta > a.theta) found.push(theta);
  }
  return found.sort((p, q) => p - q);
}

/** Halves intervals until their middles lie on their chords. */
function refine(contact: Heights, start: Point[], chord: number): Point[] {
  let points = start;
  /** Of the interval from point i to i + 1: 0 settled, 1 to be looked at, 2 straight once already. */
  let open: number[] = points.map((_, i) => (i < points.length - 1 ? 1 : 0));
  for (let level = 0; level < 12; level++) {
    const middles: Point[] = [];
    for (let i = 0; i < points.length - 1; i++) {
      if (!open[i]) continue;
      const a = points[i];
      const b = points[i + 1];
      const middle = { run: (a.run + b.run) / 2, theta: (a.theta + b.theta) / 2, x: (a.x + b.x) / 2 };
      middles.push({ ...middle, floor: (a.floor + b.floor) / 2, z: 0, knot: 0 });
    }
    if (middles.length === 0) break;
    evaluate(contact, middles);
    const nextPoints: Point[] = [];
    const nextOpen: number[] = [];
    let m = 0;
    for (let i = 0; i < points.length; i++) {
      nextPoints.push(points[i]);
      if (i === points.length - 1 || !open[i]) {
        nextOpen.push(0);
        continue;
      }
      const a = points[i];
      const b = points[i + 1];
      const middle = middles[m++];
      const off = Math.abs(middle.z - (a.z + b.z) / 2);
      const half = Math.hypot((b.theta - a.theta) * Math.max(a.z, b.z), b.x - a.x) / 2;
      const fine = half <= SHORTEST_ARC;
      const straight = off <= chord;
      const settled = straight && (open[i] === 2 || Math.abs(b.z - a.z) <= STEEP * chord);
      const more = settled || fine ? 0 : straight ? 2 : 1;
      if (!straight && fine) {
        // A step inside a hair's breadth: the whole of it at its higher side.
        const top = Math.max(a.z, b.z, middle.z);
        a.z = top;
        b.z = top;
        middle.z = top;
      }
      nextOpen.push(more);
      nextPoints.push(middle);
      nextOpen.push(more);
    }
    points = nextPoints;
    open = nextOpen;
  }
  return points;
}

function finish(points: readonly Point[], sampling: Sampling): Samples {
  return {
    run: Float64Array.from(points, (p) => p.run),
    theta: Float64Array.from(points, (p) => p.theta),
    x: Float64Array.from(points, (p) => p.x),
    low: Float64Array.from(points, (p) => p.z + sampling.guard),
    knot: Uint8Array.from(points, (p) => p.knot),
  };
}
