/** One place of the bit against the wood: which rays it takes, how deep, and what stood in its way. */
import { TURN } from '../../../shared/units.ts';
import { type Grid, rowFrom } from './grid.ts';
import { enter, inside, leave, rise, type Shape } from './shape.ts';
import { IN_HOLE, RUN, SEVERAL, type Wood } from './wood.ts';

/** Wood above the bit by less than this is left, mm: far below any tolerance, and it saves visiting rays just cut. */
const TOUCH = 0.0008;
/** cos² of the half angle of the bit's front: wood met within 45° of its way is met head-on. */
const FRONT = 0.5;
/** Part of the radius that counts as the core of the end, where a bit going straight down must cut. */
const CORE = 0.5;
/** A tip at or below the rotary centre is followed as if it stood this high, mm. */
const LOWEST_TIP = 0.001;

/** What one place of the bit did. */
export interface Bite {
  /** Wood taken, mm³. */
  volume: number;
  /** Thickest wood above the bit's surface along a ray, mm. */
  thickest: number;
  /** Least distance between the bit and the part on rays that it took wood from, mm; negative is a gouge along the ray. */
  clear: number;
  /** Height above the tip of the highest wood taken, mm. */
  height: number;
  /** The same for wood met by the front of the bit. */
  front: number;
  /** Section of the wood met by the front that stands higher than the cutter's `tall`, mm² on the wood's own skin. */
  tallArea: number;
  /** Height above the rotary centre of the highest wood taken by the core of the end, mm. */
  coreTop: number;
  /** Ray with the thickest wood, −1 for none. */
  ray: number;
}

/** Told of every ray that is taken more than `slack` below the part's radius: [from, to] is the taken interval. */
export type OnGouge = (ray: number, row: number, from: number, to: number) => void;

export class Cutter {
  /** Height above the tip from which wood met head-on is summed up, mm. */
  tall = Infinity;
  private readonly wood: Wood;
  private readonly grid: Grid;
  private readonly shape: Shape;
  private readonly slack: number;
  private readonly onGouge: OnGouge;
  private readonly sinTable: Float64Array;
  private readonly cosTable: Float64Array;
  private readonly sinD: Float64Array;
  private readonly cosD: Float64Array;
  private have = -1;
  private centre = 0;
  private sinT = 0;
  private cosT = 1;
  readonly bite: Bite = {
    volume: 0,
    thickest: 0,
    clear: Infinity,
    height: 0,
    front: 0,
    tallArea: 0,
    coreTop: 0,
    ray: -1,
  };

  /**
   * @param slack mm below the part's radius from which `onGouge` is told
   */
  constructor(wood: Wood, shape: Shape, slack: number, onGouge: OnGouge) {
    this.wood = wood;
    this.grid = wood.grid;
    this.shape = shape;
    this.slack = slack;
    this.onGouge = onGouge;
    const m = this.grid.columns;
    this.sinTable = Float64Array.from({ length: m }, (_, j) => Math.sin((TURN * j) / m));
    this.cosTable = Float64Array.from({ length: m }, (_, j) => Math.cos((TURN * j) / m));
    this.sinD = new Float64Array(m + 2);
    this.cosD = new Float64Array(m + 2);
  }

  /** Sines and cosines of columns within k of the centre column, seen from the bit. Column centre + o lies at index o + m/2. */
  private look(k: number): void {
    const m = this.grid.columns;
    const mid = m >> 1;
    for (let o = this.have + 1; o <= k; o++) {
      for (let s = o === 0 ? 1 : -1; s <= 1; s += 2) {
        let j = this.centre + s * o;
        if (j < 0) j += m;
        else if (j >= m) j -= m;
        this.sinD[mid + s * o] = this.sinTable[j]! * this.cosT - this.cosTable[j]! * this.sinT;
        this.cosD[mid + s * o] = this.cosTable[j]! * this.cosT + this.sinTable[j]! * this.sinT;
      }
    }
    if (k > this.have) this.have = k;
  }

  /**
   * Puts the bit at one place.
   * @param x mm @param height of the tip above the rotary centre, mm @param theta radians
   * @param wayX @param wayY unit direction of travel along x and across it (growing θ), (0, 0) for straight down
   * @param dry look only, take nothing
   * @returns the same object every time
   */
  place(x: number, height: number, theta: number, wayX: number, wayY: number, dry: boolean): Bite {
    const { wood, grid, shape, bite } = this;
    const { outer, flags, runTop, rowTop, runs } = wood;
    const { xs, columns: m, part } = grid;
    const { kind, R } = shape;
    const tip = Math.max(height, LOWEST_TIP);
    // Plain locals in the loops; the bite is filled once at the end.
    let volume = 0;
    let thickest = 0;
    let clear = Infinity;
    let highest = 0;
    let front = 0;
    let tallArea = 0;
    let coreTop = 0;
    let thickRay = -1;
    const { sinD, cosD } = this;
    const rim = tip + shape.rim;
    const { tall } = this;
    const step = TURN / m;
    const mid = m >> 1;
    let begun = false;
    const core2 = (CORE * R) ** 2;
    const ball = kind === 'ball';
    const flat = kind === 'flat';
    const cone = kind === 'vee' || kind === 'tapered-ball';
    const C = tip + R;

    for (let i = rowFrom(grid, x - R); i < xs.length; i++) {
      const u = xs[i]! - x;
      if (u > R) break;
      const low = tip + rise(shape, Math.abs(u));
      if (rowTop[i]! <= low + TOUCH) continue;
      const c2 = R * R - u * u;
      const c = Math.sqrt(c2);
      if (!begun) {
        begun = true;
        this.have = -1;
        this.sinT = Math.sin(theta);
        this.cosT = Math.cos(theta);
        const turns = theta / TURN;
        this.centre = Math.round((turns - Math.floor(turns)) * m) % m;
      }
      const wide = c < low ? Math.asin(c / low) : TURN / 4;
      let k = Math.min(Math.ceil(wide / step) + 1, mid - 1);
      // Highest wood in the window, by runs.
      let top = 0;
      const firstRun = Math.floor((this.centre - k) / RUN);
      const lastRun = Math.min(Math.floor((this.centre + k) / RUN), firstRun + runs - 1);
      for (let b = firstRun; b <= lastRun; b++) {
        const r = runTop[i * runs + (b < 0 ? b + runs : b >= runs ? b - runs : b)]!;
        if (r > top) top = r;
      }
      if (top <= low + TOUCH) continue;
      // No ray further aside can be met below that wood.
      let half = Math.min(wide, Math.acos(Math.min(1, low / top)));
      if (ball) {
        const tangent2 = C * C - c2;
        const cosine =
          top * top > tangent2 ? Math.sqrt(Math.max(0, tangent2)) / C : (top * top + tangent2) / (2 * top * C);
        half = Math.min(half, Math.acos(Math.min(1, cosine)));
      } else if (cone) {
        const d = (top - tip - shape.apex) / shape.k;
        const y2 = d * d - u * u;
        half = y2 <= 0 ? 0 : Math.min(half, Math.asin(Math.min(1, Math.sqrt(y2) / low)));
      }
      k = Math.min(k, Math.ceil(half / step) + 1);
      this.look(k);
      const base = i * m;
      const lift = low + TOUCH;
      let dirty = -1;
      let moment = 0;
      for (let o = -k; o <= k; o++) {
        let j = this.centre + o;
        if (j < 0) j += m;
        else if (j >= m) j -= m;
        const ray = base + j;
        const s = outer[ray]!;
        if (s <= lift) continue;
        const cos = cosD[mid + o]!;
        if (cos <= 1e-6) continue;
        const sin = sinD[mid + o]!;
        let t: number;
        if (ball) {
          const D = c2 - C * C * sin * sin;
          if (D <= 0) continue;
          t = C * cos - Math.sqrt(D);
        } else if (flat) {
          t = tip / cos;
          const y = t * sin;
          if (y * y > c2) continue;
        } else t = enter(shape, tip, u, sin, cos);
        const thick = s - t;
        if (thick <= TOUCH) continue;
        if (t < 0) t = 0;
        const y = s * sin;
        // Within the side wall and not out through the lower surface again: the whole outside of the ray goes.
        const simple =
          !(flags[ray]! & SEVERAL) && y * y <= c2 && (s * cos >= rim || inside(shape, tip, u, sin, cos, s));
        let to = s;
        if (!simple) {
          to = Math.min(s, leave(shape, tip, u, sin, cos, t));
          if (to <= t || (flags[ray]! & SEVERAL && !meets(wood.intervals(ray), t, to))) continue;
        }
        if (thick > thickest) {
          thickest = thick;
          thickRay = ray;
        }
        const gap = t - part[ray]!;
        if (gap < clear && !(flags[ray]! & IN_HOLE)) clear = gap;
        if (dry) continue;
        const above = to * cos - tip;
        if (above > highest) highest = above;
        const yTo = to * sin;
        const d2 = u * u + yTo * yTo;
        if (above > front || above > tall) {
          const along = u * wayX + yTo * wayY;
          if (along > 0 && along * along >= FRONT * d2) {
            if (above > front) front = above;
            if (above > tall) tallArea += grid.width[i]! * step * to;
          }
        }
        if (d2 <= core2 && to * cos > coreTop) coreTop = to * cos;
        if (gap < -this.slack) this.onGouge(ray, i, t, to);
        if (simple) {
          outer[ray] = t;
          moment += (s * s - t * t) / 2;
        } else moment += wood.take(ray, t, to);
        const run = (j / RUN) | 0;
        if (run !== dirty && s >= runTop[i * runs + run]! - 1e-4) {
          if (dirty >= 0) wood.refreshRun(i, dirty);
          dirty = run;
        }
      }
      if (dirty >= 0) wood.refreshRun(i, dirty);
      volume += moment * grid.width[i]! * step;
    }
    bite.volume = volume;
    bite.thickest = thickest;
    bite.clear = clear;
    bite.height = highest;
    bite.front = front;
    bite.tallArea = tallArea;
    bite.coreTop = coreTop;
    bite.ray = thickRay;
    return bite;
  }

  /**
   * The part's arrises lie between the rays; this looks at them themselves.
   * @returns least distance between bit and arris along the arris' own ray, mm, and where; Infinity for none in reach
   */
  arrisGap(x: number, height: number, theta: number): { gap: number; theta: number; x: number } {
    const { grid, shape } = this;
    const tip = Math.max(height, LOWEST_TIP);
    const best = { gap: Infinity, theta: 0, x: 0 };
    const { R } = shape;
    const at = theta - Math.floor(theta / TURN) * TURN;
    for (let i = rowFrom(grid, x - R); i < grid.xs.length; i++) {
      const u = grid.xs[i]! - x;
      if (u > R) break;
      const list = grid.arrises[i];
      if (!list || grid.partTop[i]! <= tip + rise(shape, Math.abs(u)) - 0.05) continue;
      for (let k = 0; k < list.length; k += 2) {
        const delta = list[k]! - at;
        const cos = Math.cos(delta);
        const r = list[k + 1]!;
        if (cos <= 0.05 || r * cos <= tip) continue;
        const sin = Math.sin(delta);
        const t = enter(shape, tip, u, sin, cos);
        if (t - r < best.gap && leave(shape, tip, u, sin, cos, t) > t) {
          best.gap = t - r;
          best.theta = list[k]!;
          best.x = grid.xs[i]!;
        }
      }
    }
    return best;
  }
}

function meets(intervals: readonly number[], a: number, b: number): boolean {
  for (let k = 0; k < intervals.length; k += 2)
    if (intervals[k]! < b - TOUCH && intervals[k + 1]! > a + TOUCH) return true;
  return false;
}
