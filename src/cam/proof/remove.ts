/** One place of the bit against the wood: which rays it takes, how deep, and what stood in its way. */
import { TURN } from '../../../shared/units.ts';
import { type Grid, rowFrom } from './grid.ts';
import { enter, inside, leave, rise, type Shape } from './shape.ts';
import { IN_HOLE, RUN, SEVERAL, type Wood } from './wood.ts';

/** Wood above the bit by less than this is left, mm: far below any tolerance, and it saves visiting rays just cut. */
const TOUCH = 0.0008;
/** The same less what rounding may do to the height at which a ray comes in, mm. */
const SURELY = TOUCH - 1e-6;
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

  /** Turns the bit to an angle. @returns the column nearest to it */
  private aim(theta: number): number {
    const m = this.grid.columns;
    this.have = -1;
    this.sinT = Math.sin(theta);
    this.cosT = Math.cos(theta);
    const turns = theta / TURN;
    this.centre = Math.round((turns - Math.floor(turns)) * m) % m;
    return this.centre;
  }

  /** How many columns aside the cosine is down to the given one, a quarter turn at the most; looked for from a guess. */
  private columnsTo(cosine: number, guess: number): number {
    const { cosTable } = this;
    const most = this.grid.columns >> 2;
    let k = guess;
    while (k < most && cosTable[k]! > cosine) k++;
    while (k > 0 && cosTable[k - 1]! <= cosine) k--;
    return k;
  }

  /** Distance at which the ray at an index of `sinD` comes in, mm; Infinity for a miss. */
  private entry(tip: number, u: number, c2: number, index: number): number {
    const { shape } = this;
    const cos = this.cosD[index]!;
    const sin = this.sinD[index]!;
    if (cos <= 1e-6) return Infinity;
    if (shape.kind === 'ball') {
      const C = tip + shape.R;
      const D = c2 - C * C * sin * sin;
      return D <= 0 ? Infinity : C * cos - Math.sqrt(D);
    }
    if (shape.kind === 'flat') {
      const t = tip / cos;
      const y = t * sin;
      return y * y > c2 ? Infinity : t;
    }
    return enter(shape, tip, u, sin, cos);
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
    const R2 = R * R;
    const deep = -this.slack;
    const core2 = (CORE * R) ** 2;
    const ball = kind === 'ball';
    const flat = kind === 'flat';
    const cone = kind === 'vee' || kind === 'tapered-ball';
    const C = tip + R;
    let begun = false;
    let centre = 0;
    // Columns aside that matter on a row; from one row to the next they hardly change.
    let aside = 0;
    let met = 0;

    for (let i = rowFrom(grid, x - R); i < xs.length; i++) {
      const u = xs[i]! - x;
      if (u > R) break;
      const c2 = R2 - u * u;
      if (c2 < 0) continue;
      const c = Math.sqrt(c2);
      const low = tip + (ball ? R - c : flat ? 0 : rise(shape, Math.abs(u)));
      const lift = low + TOUCH;
      if (rowTop[i]! <= lift) continue;
      if (!begun) {
        begun = true;
        centre = this.aim(theta);
      }
      // No ray further aside comes in: it passes the ball, or meets the height of the tip outside the rim.
      const away = ball ? C : flat ? Math.sqrt(tip * tip + c2) : low;
      const grazing = away > c ? Math.sqrt(away * away - c2) / away : 0;
      aside = this.columnsTo(grazing, aside);
      // Highest wood in the window, by runs.
      let top = 0;
      const firstRun = Math.floor((centre - aside - 1) / RUN);
      const lastRun = Math.min(Math.floor((centre + aside + 1) / RUN), firstRun + runs - 1);
      for (let b = firstRun; b <= lastRun; b++) {
        const r = runTop[i * runs + (b < 0 ? b + runs : b >= runs ? b - runs : b)]!;
        if (r > top) top = r;
      }
      if (top <= lift) continue;
      // No ray further aside can be met below that wood.
      let least = Math.max(grazing, low / top);
      if (ball) {
        const tangent2 = C * C - c2;
        if (top * top < tangent2) least = Math.max(least, (top * top + tangent2) / (2 * top * C));
      } else if (cone) {
        const d = (top - tip - shape.apex) / shape.k;
        const y2 = d * d - u * u;
        least = y2 <= 0 ? 1 : Math.max(least, Math.sqrt(Math.max(0, 1 - y2 / (low * low))));
      }
      met = this.columnsTo(least, met);
      const k = Math.min(met + 1, mid - 1);
      this.look(k);
      const base = i * m;
      let moment = 0;
      for (let begin = -k, end = 0; begin <= k; begin = end + 1) {
        let j = centre + begin;
        if (j < 0) j += m;
        else if (j >= m) j -= m;
        const run = (j / RUN) | 0;
        end = Math.min(k, begin + RUN * (run + 1) - 1 - j);
        // The further aside a ray, the higher it comes in: what the nearest of a run passes over, all do.
        const bound = runTop[i * runs + run]!;
        if (bound <= lift) continue;
        const nearest = begin > 0 ? begin : Math.min(end, 0);
        if (nearest !== 0 && bound <= this.entry(tip, u, c2, mid + nearest) + SURELY) continue;
        const shift = base + j - begin;
        let lowered = false;
        for (let o = begin; o <= end; o++) {
          const ray = shift + o;
          const s = outer[ray]!;
          if (s <= lift) continue;
          const cos = cosD[mid + o]!;
          if (cos <= 1e-6) continue;
          const sin = sinD[mid + o]!;
          let t: number;
          let out = 0;
          if (ball) {
            const D = c2 - C * C * sin * sin;
            if (D <= 0) continue;
            out = Math.sqrt(D);
            t = C * cos - out;
            out += C * cos;
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
            !(flags[ray]! & SEVERAL) &&
            y * y <= c2 &&
            (s * cos >= rim || (ball ? s <= out : inside(shape, tip, u, sin, cos, s)));
          let to = s;
          if (!simple) {
            const wall = c / Math.abs(sin);
            to = Math.min(s, wall * cos >= rim ? wall : leave(shape, tip, u, sin, cos, t));
            if (to <= t || (flags[ray]! & SEVERAL && !meets(wood.intervals(ray), t, to))) continue;
          }
          if (thick > thickest) {
            thickest = thick;
            thickRay = ray;
          }
          const gap = t - part[ray]!;
          if (gap < clear && !(flags[ray]! & IN_HOLE)) clear = gap;
          if (dry) continue;
          const up = to * cos;
          const above = up - tip;
          if (above > highest) highest = above;
          if (above > front || above > tall) {
            const yTo = to * sin;
            const along = u * wayX + yTo * wayY;
            if (along > 0 && along * along >= FRONT * (u * u + yTo * yTo)) {
              if (above > front) front = above;
              if (above > tall) tallArea += grid.width[i]! * step * to;
            }
          }
          if (up > coreTop) {
            const yTo = to * sin;
            if (u * u + yTo * yTo <= core2) coreTop = up;
          }
          if (gap < deep) this.onGouge(ray, i, t, to);
          if (simple) {
            outer[ray] = t;
            moment += (s * s - t * t) / 2;
          } else moment += wood.take(ray, t, to);
          if (s >= bound - 1e-4) lowered = true;
        }
        if (lowered) wood.refreshRun(i, run);
      }
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
