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

/** A place of a path. */
export interface Point {
  /** What the path runs over: θ of a course, the length of a track. */
  run: number;
  theta: number;
  x: number;
  floor: number;
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
    points.push({ run: theta, theta, x: a.x + (b.x - a.x) * s, floor: a.floor + (b.floor - a.floor) * s, knot });
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
  points.push({ run: last.theta, theta: last.theta, x: last.x, floor: last.floor, knot: 1 });
  return settle(contact, points, sampling);
}

/** Finds the heights of points in their order, halves intervals until they are straight, and adds the guard. */
export function settle(contact: Heights, points: readonly Point[], sampling: Sampling): Samples {
  const n = points.length;
  const path = newPath(n);
  points.forEach((p, i) => {
    path.run[i] = p.run;
    path.theta[i] = p.theta;
    path.x[i] = p.x;
    path.floor[i] = p.floor;
    path.knot[i] = p.knot;
    path.open[i] = i < n - 1 ? OPEN : SETTLED;
  });
  path.bent.fill(Infinity);
  contact.along(path.x, path.theta, path.z);
  for (let i = 0; i < n; i++) path.z[i] = Math.max(path.z[i], path.floor[i]);
  const { run, theta, x, z, knot } = refine(contact, path, sampling.chord);
  return { run, theta, x, low: z.map((low) => low + sampling.guard), knot };
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

const SETTLED = 0;
const OPEN = 1;
/** Its middle lay on its chord once already. */
const STRAIGHT_ONCE = 2;

/** The points of a path while it is refined; entry i of `open` and `bent` is about the interval from point i to i + 1. */
interface Path {
  run: Float64Array;
  theta: Float64Array;
  x: Float64Array;
  floor: Float64Array;
  z: Float64Array;
  knot: Uint8Array;
  open: Uint8Array;
  /** How far the last middle that was asked for lay off the cubic through the four points around it, mm. */
  bent: Float64Array;
}

const newPath = (n: number): Path => ({
  run: new Float64Array(n),
  theta: new Float64Array(n),
  x: new Float64Array(n),
  floor: new Float64Array(n),
  z: new Float64Array(n),
  knot: new Uint8Array(n),
  open: new Uint8Array(n),
  bent: new Float64Array(n),
});

/**
 * Where an interval and both beside it bend this little, as a share of the chord, the cubic stands for further middles: halved
 * intervals bend sixteen times less, so what it misses is below a hundredth of the chord. Half of all heights are saved.
 */
const SMOOTH = 1 / 8;

/** The cubic through points i − 1 … i + 2, halfway between i and i + 1. @returns mm; NaN at the path's ends */
function cubic({ run, z }: Path, i: number): number {
  if (i < 1 || i + 2 >= run.length) return Number.NaN;
  const at = (run[i] + run[i + 1]) / 2;
  const [a, b, c, d] = [run[i - 1] - at, run[i] - at, run[i + 1] - at, run[i + 2] - at];
  return (
    -(z[i - 1] * b * c * d) / ((a - b) * (a - c) * (a - d)) -
    (z[i] * a * c * d) / ((b - a) * (b - c) * (b - d)) -
    (z[i + 1] * a * b * d) / ((c - a) * (c - b) * (c - d)) -
    (z[i + 2] * a * b * c) / ((d - a) * (d - b) * (d - c))
  );
}

/** Halves intervals until their middles lie on their chords. */
function refine(contact: Heights, start: Path, chord: number): Path {
  let path = start;
  for (let level = 0; level < 12; level++) {
    const { run, theta, x, floor, z, knot, open, bent } = path;
    const n = run.length;
    const halved: number[] = [];
    const asked: number[] = [];
    const smooth = (i: number) => bent[i] <= SMOOTH * chord;
    for (let i = 0; i + 1 < n; i++)
      if (open[i] !== SETTLED) {
        halved.push(i);
        if (!(i > 0 && smooth(i - 1) && smooth(i) && smooth(i + 1))) asked.push(i);
      }
    if (halved.length === 0) break;
    const found = new Float64Array(asked.length);
    contact.along(
      Float64Array.from(asked, (i) => (x[i] + x[i + 1]) / 2),
      Float64Array.from(asked, (i) => (theta[i] + theta[i + 1]) / 2),
      found,
    );
    const next = newPath(n + halved.length);
    let to = 0;
    let m = 0;
    const copy = (i: number) => {
      next.run[to] = run[i];
      next.theta[to] = theta[i];
      next.x[to] = x[i];
      next.floor[to] = floor[i];
      next.knot[to] = knot[i];
      next.open[to] = open[i];
      next.bent[to] = bent[i];
      next.z[to++] = z[i];
    };
    for (let i = 0; i < n; i++) {
      copy(i);
      if (open[i] === SETTLED) continue;
      const own = to++;
      next.run[own] = (run[i] + run[i + 1]) / 2;
      next.theta[own] = (theta[i] + theta[i + 1]) / 2;
      next.x[own] = (x[i] + x[i + 1]) / 2;
      next.floor[own] = (floor[i] + floor[i + 1]) / 2;
      const guess = cubic(path, i);
      let middle = guess;
      if (asked[m] === i) {
        middle = found[m++];
        next.bent[own - 1] = Number.isNaN(guess) ? Infinity : Math.abs(middle - guess);
      }
      next.bent[own] = next.bent[own - 1];
      middle = Math.max(middle, next.floor[own]);
      const straight = Math.abs(middle - (z[i] + z[i + 1]) / 2) <= chord;
      const half = Math.hypot((theta[i + 1] - theta[i]) * Math.max(z[i], z[i + 1]), x[i + 1] - x[i]) / 2;
      const fine = half <= SHORTEST_ARC;
      if (!straight && fine) {
        // A step inside a hair's breadth: the whole of it at its higher side.
        middle = Math.max(z[i], z[i + 1], middle);
        z[i + 1] = middle;
        next.z[own - 1] = middle;
      }
      const settled = straight && (open[i] === STRAIGHT_ONCE || Math.abs(z[i + 1] - z[i]) <= STEEP * chord);
      next.z[own] = middle;
      next.open[own] = settled || fine ? SETTLED : straight ? STRAIGHT_ONCE : OPEN;
      next.open[own - 1] = next.open[own];
    }
    path = next;
  }
  return path;
}
