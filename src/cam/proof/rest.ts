/** What is left standing over the part at the end, and how much of it the job's bits could have reached. */
import { TURN, wrapHalfTurn } from '../../../shared/units.ts';
import { surfaceDistance } from './depth.ts';
import { FORM, type Grid, rowFrom, SAME_ROW, STUB } from './grid.ts';
import { enter, rise, type Shape } from './shape.ts';
import type { LeftOver, ProofJob } from './verdict.ts';
import type { Wood } from './wood.ts';

/** Cells of the map that is handed on at the most. */
const MAP_CELLS = 400_000;
/** Rays whose reach is worked out at the most; beyond that every n-th is taken for its neighbours. */
const REACH_RAYS = 3000;

/** One place of unfinished wood. */
export interface Spot {
  readonly depth: number;
  readonly x: number;
  readonly theta: number;
}

export interface Rest {
  readonly leftOver: LeftOver;
  /** Thickness of wood left over the form that 99 % of the surface stay below, mm. */
  readonly p99: number;
  /** Deepest place below the part's surface, mm ≥ 0, measured the shortest way. */
  readonly deepest: number;
  /** Surface of the form, mm², and of that what is unfinished though a bit reaches it. */
  readonly area: number;
  readonly reachableArea: number;
  readonly reachable: Spot;
  readonly unreachable: Spot;
}

/**
 * The lowest height of the bit's tip at (x, θ) at which none of the part's rays is entered: the highest of r·cos δ − rise.
 * Rays, edges of walls and arrises, no looking between them otherwise: a hair low.
 * @param sines @param cosines of the columns' distances, by number of columns
 */
function restingTip(
  grid: Grid,
  s: Shape,
  row: number,
  column: number,
  sines: Float64Array,
  cosines: Float64Array,
): number {
  const { xs, columns: m, part, partTop, arrises, edges } = grid;
  const x = xs[row]!;
  const theta = (TURN * column) / m;
  // Straight below the bit is a good first guess; rows outward from there soon cannot beat it.
  let best = part[row * m + column]!;
  const look = (i: number): boolean => {
    const u = xs[i]! - x;
    if (Math.abs(u) > s.R) return false;
    const low = rise(s, Math.abs(u));
    // A row on a wall counts to its lower side everywhere else; what holds the bit up is the edge.
    const edge = edges[i];
    const top = edge ? Math.max(partTop[i]!, edge.top) : partTop[i]!;
    if (top - low <= best) return true;
    const c2 = s.R * s.R - u * u;
    for (let o = 0; o < cosines.length; o++) {
      const cos = cosines[o]!;
      if (top * cos - low <= best) break;
      const sin = sines[o]!;
      for (let way = o === 0 ? 1 : -1; way <= 1; way += 2) {
        let j = column + way * o;
        if (j < 0) j += m;
        else if (j >= m) j -= m;
        const ray = part[i * m + j]!;
        const r = edge ? Math.max(ray, edge.radii[j]!) : ray;
        const y = r * sin;
        if (y * y > c2 || r * cos - low <= best) continue;
        const z = r * cos - rise(s, Math.sqrt(u * u + y * y));
        if (z > best) best = z;
      }
    }
    // Arrises stand between the rays: left out, a bit would seem to sink between the lips of a flute that hold it up.
    const list = arrises[i];
    if (list)
      for (let k = 0; k < list.length; k += 2) {
        const delta = wrapHalfTurn(list[k]! - theta);
        const r = list[k + 1]!;
        if (Math.abs(delta) > TURN / 4 || r - low <= best) continue;
        const y = r * Math.sin(delta);
        if (y * y > c2) continue;
        const z = r * Math.cos(delta) - rise(s, Math.sqrt(u * u + y * y));
        if (z > best) best = z;
      }
    return true;
  };
  for (let i = row; i < xs.length && look(i); i++);
  for (let i = row - 1; i >= 0 && look(i); i--);
  return best;
}

/** Least radius to which any of the bits can cut a ray, by trying every place around it. */
class Reach {
  private readonly grid: Grid;
  private readonly shapes: readonly Shape[];
  /** By bit and row, as far as asked for; NaN where not. */
  private readonly tips: (Float64Array | undefined)[][];
  private readonly sines: Float64Array;
  private readonly cosines: Float64Array;

  constructor(grid: Grid, shapes: readonly Shape[]) {
    this.grid = grid;
    this.shapes = shapes;
    this.tips = shapes.map(() => []);
    const quarter = Math.floor(grid.columns / 4);
    this.sines = Float64Array.from({ length: quarter }, (_, o) => Math.sin((o * TURN) / grid.columns));
    this.cosines = Float64Array.from({ length: quarter }, (_, o) => Math.cos((o * TURN) / grid.columns));
  }

  private tip(n: number, row: number, column: number): number {
    let tips = this.tips[n]![row];
    if (!tips) {
      tips = new Float64Array(this.grid.columns).fill(Number.NaN);
      this.tips[n]![row] = tips;
    }
    let t = tips[column]!;
    if (Number.isNaN(t)) {
      t = restingTip(this.grid, this.shapes[n]!, row, column, this.sines, this.cosines);
      tips[column] = t;
    }
    return t;
  }

  /** @returns mm, from the axis */
  of(row: number, column: number): number {
    const { xs, columns: m, part } = this.grid;
    const step = TURN / m;
    let best = Infinity;
    for (let n = 0; n < this.shapes.length; n++) {
      const s = this.shapes[n]!;
      const stride = Math.max(0.3, s.R / 10);
      let lastX = -Infinity;
      const here = part[row * m + column]!;
      const across = Math.max(1, Math.round(stride / (Math.max(here, 1) * step)));
      const half = Math.min(m / 4 - 1, Math.ceil(Math.asin(Math.min(1, s.R / Math.max(here, 1e-3))) / step));
      for (let i = rowFrom(this.grid, xs[row]! - s.R); i < xs.length && xs[i]! <= xs[row]! + s.R; i++) {
        if (i !== row && xs[i]! - lastX < stride && i + 1 < xs.length && xs[i + 1]! <= xs[row]! + s.R) continue;
        lastX = xs[i]!;
        const u = xs[row]! - xs[i]!;
        // Places on one common lattice, so that neighbours share their resting tips.
        const first = Math.ceil((column - half) / across) * across;
        for (let c = first; c <= column + half; c += across) {
          const j = ((c % m) + m) % m;
          // A bit rests on what lies right below it, or higher.
          if (part[i * m + j]! >= best) continue;
          const tip = this.tip(n, i, j);
          if (tip <= 0 || tip >= best) continue;
          const o = Math.abs(column - c);
          // Its sign counts for nothing: a bit is round.
          const t = enter(s, tip, u, this.sines[o]!, this.cosines[o]!);
          if (t < best) best = t;
        }
      }
    }
    return best;
  }
}

/** Classes into which thicknesses are counted before the few of one class are put in order. */
const CLASSES = 4096;

/** @param values at least one @returns the value that stands at the given share of them in ascending order */
export function shareBelow(values: Float32Array, share: number): number {
  const place = Math.min(values.length - 1, Math.floor(share * values.length));
  let least = Infinity;
  let most = -Infinity;
  for (const v of values) {
    if (v < least) least = v;
    if (v > most) most = v;
  }
  if (!(most > least)) return least;
  const scale = (CLASSES - 1) / (most - least);
  const counts = new Uint32Array(CLASSES);
  for (const v of values) counts[((v - least) * scale) | 0]!++;
  let at = 0;
  let before = 0;
  while (before + counts[at]! <= place) before += counts[at++]!;
  return values.filter((v) => (((v - least) * scale) | 0) === at).sort()[place - before]!;
}

/** The grid as it is while the surface is made: the stubs not yet turned down to necks, which keeps a bit off the form's ends. */
function beforeNecking(grid: Grid, stubs: ProofJob['stubs']): Grid {
  const { xs, columns: m, region } = grid;
  const middle = (stubs.chuck.to + stubs.tail.from) / 2;
  const part = grid.part.slice();
  const partTop = grid.partTop.slice();
  for (let i = 0; i < xs.length; i++) {
    if (region[i] !== STUB) continue;
    const x = xs[i]!;
    const between = stubs.between?.find((s) => x >= s.from - SAME_ROW && x <= s.to + SAME_ROW);
    const stands = (between ?? (x < middle ? stubs.chuck : stubs.tail)).standing ?? 0;
    for (let k = i * m; k < (i + 1) * m; k++) part[k] = Math.max(part[k]!, stands);
    partTop[i] = Math.max(partTop[i]!, stands);
  }
  return { ...grid, part, partTop };
}

/**
 * Looks at the wood after the last program.
 * @param tolerance mm of thickness that may be left anywhere @param shapes of all bits that make the surface
 * @param stubs as they stand beside the form
 */
export function restOf(wood: Wood, tolerance: number, shapes: readonly Shape[], stubs: ProofJob['stubs']): Rest {
  const { grid, outer } = wood;
  const { xs, columns: m, part, region, width } = grid;
  const rows: number[] = [];
  for (let i = 0; i < xs.length; i++) if (region[i] === FORM) rows.push(i);
  const thickness = new Float32Array(rows.length * m);
  const candidates: number[] = [];
  let deepest = 0;
  let area = 0;
  let unfinished = 0;
  const step = TURN / m;
  for (let q = 0; q < rows.length; q++) {
    const i = rows[q]!;
    for (let j = 0; j < m; j++) {
      const ray = i * m + j;
      let gap = outer[ray]! - part[ray]!;
      area += part[ray]! * step * width[i]!;
      if (Math.abs(gap) > 0.002 && (gap > 0 || -gap > deepest)) {
        const d = surfaceDistance(grid, i, j, outer[ray]!);
        gap = gap > 0 ? d : -d;
      }
      if (-gap > deepest && !wood.flags[ray]) deepest = -gap;
      thickness[q * m + j] = gap;
      if (gap > tolerance) unfinished++;
    }
  }
  const every = Math.max(1, Math.ceil(unfinished / REACH_RAYS));
  let seen = 0;
  for (let k = 0; k < thickness.length && unfinished; k++)
    if (thickness[k]! > tolerance && seen++ % every === 0) candidates.push(k);

  const stepRow = Math.max(1, Math.ceil(Math.sqrt((rows.length * m) / MAP_CELLS)));
  let stepColumn = 1;
  while (
    Math.ceil(rows.length / stepRow) * Math.ceil(m / stepColumn) > MAP_CELLS ||
    (stepColumn < stepRow && m % (stepColumn + 1) === 0)
  )
    stepColumn++;
  while (m % stepColumn) stepColumn++;
  const mapRows = Math.ceil(rows.length / stepRow);
  const thetas = m / stepColumn;
  const rest = new Float32Array(mapRows * thetas);
  const unreachableMap = new Float32Array(mapRows * thetas);
  for (let q = 0; q < rows.length; q++)
    for (let j = 0; j < m; j++) {
      const cell = Math.floor(q / stepRow) * thetas + Math.floor(j / stepColumn);
      const along = outer[rows[q]! * m + j]! - part[rows[q]! * m + j]!;
      const t = along < 0 ? Math.max(along, thickness[q * m + j]!) : thickness[q * m + j]!;
      if (Math.abs(t) > Math.abs(rest[cell]!)) rest[cell] = t;
    }

  const reach = new Reach(beforeNecking(grid, stubs), shapes);
  let reachable: Spot = { depth: 0, x: 0, theta: 0 };
  let unreachable: Spot = { depth: 0, x: 0, theta: 0 };
  let reachableArea = 0;
  for (const k of candidates) {
    const q = Math.floor(k / m);
    const i = rows[q]!;
    const j = k % m;
    const ray = i * m + j;
    const along = outer[ray]! - part[ray]!;
    const scale = thickness[k]! / along;
    const best = Math.max(part[ray]!, reach.of(i, j));
    const could = Math.min(along, outer[ray]! - best) * scale;
    const not = Math.max(0, Math.min(along, best - part[ray]!)) * scale;
    const spot = (depth: number): Spot => ({ depth, x: xs[i]!, theta: j * step });
    if (could > tolerance) {
      reachableArea += every * part[ray]! * step * width[i]!;
      if (could > reachable.depth) reachable = spot(could);
    }
    if (not > unreachable.depth) unreachable = spot(not);
    const cell = Math.floor(q / stepRow) * thetas + Math.floor(j / stepColumn);
    unreachableMap[cell] = Math.max(unreachableMap[cell]!, not);
  }
  return {
    leftOver: {
      xs: Float64Array.from({ length: mapRows }, (_, q) => xs[rows[q * stepRow]!]!),
      thetas,
      rest,
      unreachable: unreachableMap,
    },
    p99: thickness.length ? Math.max(0, shareBelow(thickness, 0.99)) : 0,
    deepest,
    area,
    reachableArea,
    reachable,
    unreachable,
  };
}
