/** Where along x a span gets its rings: no more than its chords ask for, or a fixed number. */
import { TURN } from '../../shared/units.ts';
import type { Side, Surface } from '../profiles/field.ts';
import type { Columns } from './columns.ts';
import type { Span } from './spans.ts';

/** Columns that are watched while stepping along x; in a repeating section one repeat is enough. */
const WATCHED = 24;
/** Steps a span is walked in at least once it is not straight, so that no wave hides between two looks. */
const FEWEST_STEPS = 8;
/** …but a step need not be shorter than this for that, mm. */
const SHORTEST_WALK = 0.5;
/** Share of a chord's limit that a diagonal between two columns may be off. */
const DIAGONAL = 2;
/** No step is shorter than this, mm: below what any bit leaves behind. */
const SHORTEST_STEP = 0.005;

/** Radii and angles of the watched columns on one ring; in a carved span followed by those of the columns next to them. */
interface Watch {
  x: number;
  theta: Float64Array;
  r: Float64Array;
}

function watched(surface: Surface, span: Span, columns: Columns): number[] {
  if (span.round) return [0];
  const repeats = Number.isFinite(surface.symmetry) ? Math.max(1, Math.round(surface.symmetry)) : 1;
  const n = columns.count % repeats === 0 ? columns.count / repeats : columns.count;
  if (n <= WATCHED) return Array.from({ length: n }, (_, j) => j);
  const picked = new Set<number>();
  const arrises: number[] = [];
  for (let j = 0; j < n; j++) if (columns.arris[j]) arrises.push(j);
  // Arrises and the middles between them bend most; then evenly.
  for (let k = 0; k < arrises.length && picked.size < WATCHED; k++) {
    picked.add(arrises[k]!);
    picked.add((arrises[k]! + (arrises[k + 1] ?? n)) >> 1);
  }
  for (let k = 0; k < WATCHED / 2; k++) picked.add(Math.floor((k * n) / (WATCHED / 2)));
  return [...picked].sort((a, b) => a - b);
}

function look(
  surface: Surface,
  columns: Columns,
  which: readonly number[],
  round: boolean,
  x: number,
  side: Side,
): Watch {
  const all = columns.at(x);
  const turn = surface.turning(x);
  const n = which.length;
  const theta = new Float64Array(round ? n : 2 * n);
  for (let k = 0; k < n; k++) theta[k] = all[which[k]!]! + turn;
  if (!round)
    for (let k = 0; k < n; k++) {
      const next = which[k]! + 1;
      theta[n + k] = turn + (next < all.length ? all[next]! : all[0]! + TURN);
    }
  const r = new Float64Array(theta.length);
  surface.ring(x, theta, r, side);
  return { x, theta, r };
}

/** Distance from the axis and angle of the point at share t of the straight line between two points of rings a and b. */
function onLine(a: Watch, i: number, b: Watch, k: number, t: number): { rho: number; theta: number } {
  const turned = b.theta[k]! - a.theta[i]!;
  // The straight line between two points that are turned against one another comes nearer to the axis.
  const across = t * b.r[k]! * Math.sin(turned);
  const along = (1 - t) * a.r[i]! + t * b.r[k]! * Math.cos(turned);
  return { rho: Math.hypot(across, along), theta: a.theta[i]! + Math.atan2(across, along) };
}

/** Largest distance between surface and the shorter diagonals beside the watched columns, mm, square to the surface. */
function diagonalDeviation(surface: Surface, a: Watch, b: Watch): number {
  const n = a.r.length / 2;
  const x = (a.x + b.x) / 2;
  let worst = 0;
  for (let k = 0; k < n; k++) {
    const square = (i: number, j: number) =>
      a.r[i]! ** 2 + b.r[j]! ** 2 - 2 * a.r[i]! * b.r[j]! * Math.cos(b.theta[j]! - a.theta[i]!);
    const [i, j] = square(k, n + k) < square(n + k, k) ? [k, n + k] : [n + k, k];
    const { rho, theta } = onLine(a, i, b, j, 0.5);
    const rise = (b.r[k]! - a.r[k]!) / (b.x - a.x);
    const around = (a.r[n + k]! - a.r[k]!) / (a.r[k]! * (a.theta[n + k]! - a.theta[k]!));
    worst = Math.max(worst, Math.abs(surface.radius(x, theta) - rho) / Math.sqrt(1 + rise * rise + around * around));
  }
  return worst;
}

/**
 * Largest distance between surface and straight columns from ring a to ring b, mm, square to the column; and how far an
 * arris runs beside its column.
 */
function deviation(
  surface: Surface,
  columns: Columns,
  which: readonly number[],
  a: Watch,
  b: Watch,
  shares: readonly number[],
): number {
  const n = which.length;
  const theta = new Float64Array(n);
  const rho = new Float64Array(n);
  const r = new Float64Array(n);
  let worst = 0;
  // A quarter turn in one step is no chord: every angle between would do as well.
  for (let k = 0; k < n; k++) if (Math.abs(b.theta[k]! - a.theta[k]!) >= TURN / 4) return Infinity;
  for (const t of shares) {
    const x = a.x + t * (b.x - a.x);
    const turn = surface.turning(x);
    const phi = columns.at(x);
    for (let k = 0; k < n; k++) {
      const at = onLine(a, k, b, k, t);
      rho[k] = at.rho;
      theta[k] = at.theta;
    }
    surface.ring(x, theta, r);
    for (let k = 0; k < n; k++) {
      const rise = (b.r[k]! - a.r[k]!) / (b.x - a.x);
      let off = Math.abs(r[k]! - rho[k]!) / Math.sqrt(1 + rise * rise);
      if (columns.arris[which[k]!]) off = Math.max(off, r[k]! * Math.abs(theta[k]! - turn - phi[which[k]!]!));
      worst = Math.max(worst, off);
    }
  }
  return worst;
}

/**
 * Positions of a span's rings, ends included.
 * @param chord largest distance between surface and columns, mm, square to the column
 */
export function stationsByChord(surface: Surface, span: Span, columns: Columns, chord: number): number[] {
  const which = watched(surface, span, columns);
  const length = span.to - span.from;
  const round = span.round;
  const at = (x: number) => look(surface, columns, which, round, x, x <= span.from ? 1 : x >= span.to ? -1 : 0);
  const end = at(span.to);
  let here = at(span.from);
  const many = Array.from({ length: 15 }, (_, k) => (k + 1) / 16);
  const off = (a: Watch, b: Watch, shares: readonly number[]) => {
    const columnsOff = deviation(surface, columns, which, a, b, shares);
    // A diagonal spans a chord each way, so it may be off by more than either before more rings are asked for.
    return round || columnsOff > chord ? columnsOff : Math.max(columnsOff, diagonalDeviation(surface, a, b) / DIAGONAL);
  };
  if (off(here, end, many) <= chord) return [span.from, span.to];
  const out = [span.from];
  const longest = Math.max(length / FEWEST_STEPS, SHORTEST_WALK);
  let step = longest / 4;
  while (here.x < span.to) {
    step = Math.min(step, longest, span.to - here.x);
    // Two steps of equal length rather than a long one and a sliver.
    if (span.to - here.x < 1.5 * step && span.to - here.x > step) step = (span.to - here.x) / 2;
    const last = here.x + step >= span.to - 1e-9;
    const next = last ? end : at(here.x + step);
    const far = off(here, next, [0.25, 0.5, 0.75]);
    if (far <= chord || step <= SHORTEST_STEP) {
      out.push(next.x);
      here = next;
      step *= Math.min(2.5, 0.9 * Math.sqrt(chord / Math.max(far, chord / 100)));
    } else {
      step = Math.max(SHORTEST_STEP, step * Math.max(0.25, 0.9 * Math.sqrt(chord / far)));
    }
  }
  return out;
}

/** How much a span bends, radians: what a fixed number of rings is shared out by. */
export function bending(surface: Surface, span: Span): { x: Float64Array; sum: Float64Array } {
  const n = 24;
  const x = Float64Array.from({ length: n + 1 }, (_, k) => span.from + ((span.to - span.from) * k) / n);
  const sum = new Float64Array(n + 1);
  const angles = span.round ? [0] : [0, 0.23, 0.51, 0.77].map((f) => (f * TURN) / Math.min(16, surface.symmetry));
  const bend = new Float64Array(n + 1);
  for (const phi of angles) {
    let before = Number.NaN;
    for (let k = 0; k < n; k++) {
      const side0 = k === 0 ? 1 : 0;
      const side1 = k === n - 1 ? -1 : 0;
      const rise =
        surface.radius(x[k + 1]!, phi + surface.turning(x[k + 1]!), side1) -
        surface.radius(x[k]!, phi + surface.turning(x[k]!), side0);
      const slope = Math.atan2(rise, x[k + 1]! - x[k]!);
      if (k > 0) bend[k] = Math.max(bend[k]!, Math.abs(slope - before));
      before = slope;
    }
  }
  for (let k = 0; k < n; k++) {
    const turned = Math.abs(surface.turning(x[k + 1]!) - surface.turning(x[k]!));
    sum[k + 1] = sum[k]! + (bend[k]! + bend[k + 1]!) / 2 + turned;
  }
  return { x, sum };
}

/** Positions of `steps` + 1 rings of a span, ends included, closer where it bends. */
export function stationsByNumber(bent: { x: Float64Array; sum: Float64Array }, steps: number): number[] {
  const { x, sum } = bent;
  const n = x.length - 1;
  const whole = sum[n]!;
  // A tenth of the rings goes by length alone, so that straight stretches are not left bare.
  const at = (k: number) => 0.9 * (whole > 1e-9 ? sum[k]! / whole : k / n) + (0.1 * k) / n;
  const out = [x[0]!];
  let k = 0;
  for (let i = 1; i < steps; i++) {
    const want = i / steps;
    while (at(k + 1) < want) k++;
    out.push(x[k]! + ((want - at(k)) / (at(k + 1) - at(k))) * (x[k + 1]! - x[k]!));
  }
  out.push(x[n]!);
  return out;
}
