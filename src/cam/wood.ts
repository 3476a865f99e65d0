/**
 * The planner's removal map: the outermost wood along rays from the axis, on a grid over (x, θ). Planning asks it where
 * there is wood, how deep a bit would bite and how high a link must lift. It only ever leaves out a cut that did not come
 * in through the outside (a tunnel under standing wood), so it shows too much wood rather than too little.
 */
import type { Bit } from '../../shared/catalog.ts';
import { TURN, wrapHalfTurn, wrapTurn } from '../../shared/units.ts';
import { profileHeight, profileOf } from './bit.ts';
import type { Blank } from './blank.ts';
import { blankRadius, outerRadius } from './blank.ts';
import { cornersOf } from './work.ts';

/** Rows along x no further apart than this, mm: a tenth of the diameters that rough. */
const ROW_SPACING = 0.5;
/** Columns round the axis at the least; raised so that every corner of the section is a column. */
const COLUMNS = 360;
/** A sweep bites at places this far apart, mm: a flat end leaves ridges beside its way only, a curved one also under it. */
const SHORTEST_STEP = 0.3;
const LONGEST_FLAT = 1;
const LONGEST_CURVED = 0.5;
/** The rim of the bit that engagement leaves out, mm: it only rubs along a wall that the layer above has cut. */
const RIM = 0.06;

/** No ray further from the bit than this, radians: just under a quarter turn, beyond which none faces it. */
const WIDEST = 1.55;

/** Bites after which a row's bound is looked up again. */
const STALEST = 24;
/** Columns that rounding may throw a ray aside, and more. */
const ROUNDING = 1e-6;

/** A bit as the map sees it. */
interface Shape {
  readonly radius: number;
  /** Undefined for a flat end. */
  readonly height: ((d: number) => number) | undefined;
  /** A ball, whose entry has a closed form. */
  readonly ball: boolean;
}

export class Wood {
  readonly blank: Blank;
  readonly from: number;
  readonly to: number;
  /** Distance between rows, mm, and between columns, radians. */
  readonly dx: number;
  readonly dTheta: number;
  readonly rows: number;
  readonly columns: number;
  /** Outermost wood, mm; index = row·columns + column, x = from + row·dx, θ = column·dTheta. */
  readonly radii: Float32Array;
  private readonly cos: Float64Array;
  private readonly sin: Float64Array;
  private readonly highest: Float32Array;
  private readonly stale: Uint8Array;
  private readonly outermost: number;
  /** Where the last bite was, so that a sweep that goes on from there does not bite twice. */
  private readonly last = { bit: undefined as Bit | undefined, x: 0, r: 0, theta: 0 };
  private readonly shapes = new Map<Bit, Shape>();

  /** @param blank the stock before cutting @param options spacing along x, mm, and least number of columns */
  constructor(blank: Blank, options: { spacing?: number; columns?: number } = {}) {
    this.blank = blank;
    this.outermost = outerRadius(blank);
    this.from = blank.from;
    this.to = blank.to;
    const n = Math.max(1, Math.ceil((blank.to - blank.from) / (options.spacing ?? ROW_SPACING)));
    this.rows = n + 1;
    this.dx = (blank.to - blank.from) / n;
    const multiple = leastCommonMultiple(8, Math.max(1, 2 * blank.sides));
    this.columns = Math.ceil((options.columns ?? COLUMNS) / multiple) * multiple;
    this.dTheta = TURN / this.columns;
    this.cos = Float64Array.from({ length: this.columns }, (_, j) => Math.cos(j * this.dTheta));
    this.sin = Float64Array.from({ length: this.columns }, (_, j) => Math.sin(j * this.dTheta));
    const section = Float32Array.from({ length: this.columns }, (_, j) => blankRadius(blank, j * this.dTheta));
    // The column nearest to a corner carries the corner, wherever a rectangle has it.
    for (const t of cornersOf(blank)) {
      const j = Math.round(t / this.dTheta) % this.columns;
      section[j] = Math.max(section[j]!, blankRadius(blank, t));
    }
    this.radii = new Float32Array(this.rows * this.columns);
    for (let i = 0; i < this.rows; i++) this.radii.set(section, i * this.columns);
    // Upper bounds until they are asked for: wood only goes away.
    this.highest = new Float32Array(this.rows).fill(this.outermost + 1e-3);
    this.stale = new Uint8Array(this.rows).fill(1);
  }

  /** Outermost wood at (x, θ): the largest of the grid points around it. @returns mm; 0 beyond the blank's ends */
  outer(x: number, theta: number): number {
    if (x < this.from || x > this.to) return 0;
    const at = (x - this.from) / this.dx;
    const around = wrapTurn(theta) / this.dTheta;
    let most = 0;
    for (const i of [Math.floor(at), Math.min(this.rows - 1, Math.ceil(at))])
      for (const j of [Math.floor(around), Math.ceil(around)])
        most = Math.max(most, this.radii[i * this.columns + (j % this.columns)]!);
    return most;
  }

  /** Largest radius of wood over [x0, x1], all angles. @returns mm */
  highestOver(x0: number, x1: number): number {
    const i0 = Math.max(0, Math.floor((Math.min(x0, x1) - this.from) / this.dx));
    const i1 = Math.min(this.rows - 1, Math.ceil((Math.max(x0, x1) - this.from) / this.dx));
    let most = 0;
    for (let i = i0; i <= i1; i++) {
      if (this.stale[i]) this.refresh(i);
      most = Math.max(most, this.highest[i]!);
    }
    return most;
  }

  private refresh(row: number): void {
    let most = 0;
    for (let k = row * this.columns; k < (row + 1) * this.columns; k++)
      if (this.radii[k]! > most) most = this.radii[k]!;
    this.highest[row] = most;
    this.stale[row] = 0;
  }

  /** Columns to either side that may hold wood of a row above a tip at this height, under the bit's profile. */
  private within(row: number, height: number): number {
    const top = this.highest[row]!;
    return height <= 0 ? Infinity : height >= top ? 0 : Math.acos(height / top) / this.dTheta + ROUNDING;
  }

  /** Takes one ray down to a radius, mm, if it stands higher. @param row and @param column of the grid */
  lower(row: number, column: number, radius: number): void {
    const k = row * this.columns + column;
    if (this.radii[k]! <= radius) return;
    this.radii[k] = radius;
    this.stale[row] = 1;
  }

  /**
   * Takes away what the bit's cutting end sweeps while x, r and θ run linearly together.
   * @returns wood taken, mm³, and how deep the tip went below the wood it met at the most, mm
   */
  take(
    bit: Bit,
    x0: number,
    r0: number,
    theta0: number,
    x1: number,
    r1: number,
    theta1: number,
  ): { volume: number; depth: number } {
    const shape = this.shapeOf(bit);
    const arc = Math.abs(theta1 - theta0) * Math.max(1, (r0 + r1) / 2);
    const longest = shape.height ? LONGEST_CURVED : LONGEST_FLAT;
    const step = Math.max(SHORTEST_STEP, Math.min(longest, shape.radius / 5));
    const n = Math.max(1, Math.ceil(Math.hypot(x1 - x0, arc) / step));
    const sum = { volume: 0, depth: 0 };
    const { last } = this;
    const goesOn = last.bit === bit && last.x === x0 && last.r === r0 && last.theta === theta0;
    for (let k = goesOn ? 1 : 0; k <= n; k++) {
      const s = k / n;
      this.bite(shape, x0 + (x1 - x0) * s, r0 + (r1 - r0) * s, theta0 + (theta1 - theta0) * s, sum);
    }
    last.bit = bit;
    last.x = x1;
    last.r = r1;
    last.theta = theta1;
    return sum;
  }

  private bite(shape: Shape, x: number, r: number, theta: number, sum: { volume: number; depth: number }): void {
    const { columns, radii, cos, sin } = this;
    const R = shape.radius;
    const ct = Math.cos(theta);
    const st = Math.sin(theta);
    const around = theta / this.dTheta;
    const i0 = Math.max(0, Math.ceil((x - R - this.from) / this.dx));
    const i1 = Math.min(this.rows - 1, Math.floor((x + R - this.from) / this.dx));
    for (let i = i0; i <= i1; i++) {
      if (this.highest[i]! <= r) continue;
      const u = this.from + i * this.dx - x;
      const c = Math.sqrt(Math.max(0, R * R - u * u));
      if (this.stale[i]! > STALEST) this.refresh(i);
      const least = r + (shape.height ? shape.height(Math.min(R, Math.abs(u))) : 0);
      if (this.highest[i]! <= least) continue;
      const w = Math.min(Math.min(Math.atan2(c, Math.max(r, 0)), WIDEST) / this.dTheta, this.within(i, least));
      const j1 = Math.floor(around + w);
      let touched = false;
      let col = wrapIndex(Math.ceil(around - w), columns);
      for (let j = Math.ceil(around - w); j <= j1; j++, col = col + 1 === columns ? 0 : col + 1) {
        const k = i * columns + col;
        const wood = radii[k]!;
        const cd = cos[col]! * ct + sin[col]! * st;
        if (wood * cd <= r) continue;
        const sd = Math.abs(sin[col]! * ct - cos[col]! * st);
        if (wood * sd > c) continue;
        let left: number;
        let depth: number;
        if (shape.height) {
          const y = wood * sd;
          depth = wood * cd - shape.height(Math.min(R, Math.sqrt(u * u + y * y))) - r;
          if (depth <= 0) continue;
          left = shape.ball
            ? Math.min(wood, ballEntry(R, u, cd, sd, r) + ENTRY_ROUND)
            : entry(shape.height, R, u, cd, sd, r, wood);
        } else {
          depth = wood * cd - r;
          left = r / cd;
        }
        left = Math.max(0, left);
        if (left >= wood) continue;
        radii[k] = left;
        touched = true;
        sum.volume += 0.5 * (wood * wood - left * left) * this.dTheta * this.dx;
        if (depth > sum.depth) sum.depth = depth;
      }
      if (touched) this.stale[i]!++;
    }
  }

  /**
   * Lowest tip radius at (x, θ) that touches no wood now; the outermost hair of the bit's rim left out, which only rubs.
   * @param wider the bit's radius is taken this much larger, mm: to be sure of air between grid points
   * @returns mm; 0 where there is no wood under the bit
   */
  lowest(bit: Bit, x: number, theta: number, wider = -RIM): number {
    const shape = this.shapeOf(bit);
    return this.rest(Math.max(0.1, shape.radius + wider), shape.radius, shape.height, x, theta);
  }

  /** Largest of z − h(d) over the grid points within R of the bit's axis. */
  private rest(R: number, edge: number, height: Shape['height'], x: number, theta: number): number {
    const { columns, radii, cos, sin } = this;
    const ct = Math.cos(theta);
    const st = Math.sin(theta);
    const around = theta / this.dTheta;
    const mid = Math.round((x - this.from) / this.dx);
    let best = 0;
    if (mid >= 0 && mid < this.rows && Math.abs(this.from + mid * this.dx - x) < R) {
      const col = wrapIndex(Math.round(around), columns);
      const z = radii[mid * columns + col]! * (cos[col]! * ct + sin[col]! * st);
      // The ray straight below is under the bit, whatever stands beside it: a first best that narrows every window.
      const y = Math.abs(radii[mid * columns + col]! * (sin[col]! * ct - cos[col]! * st));
      const d = Math.hypot(this.from + mid * this.dx - x, y);
      if (d < R) best = Math.max(0, height ? z - height(Math.min(edge, d)) : z);
    }
    const reach = Math.ceil(R / this.dx) + 1;
    for (let q = 0; q <= 2 * reach; q++) {
      // Rows from the middle outward, so that the best so far closes the window early.
      const i = mid + (q & 1 ? (q + 1) >> 1 : -(q >> 1));
      if (i < 0 || i >= this.rows || this.highest[i]! <= best) continue;
      const u = this.from + i * this.dx - x;
      const c2 = R * R - u * u;
      if (c2 < 0) continue;
      const c = Math.sqrt(c2);
      const row = i * columns;
      // What lies under the bit and higher than the best so far stands within this angle.
      const least = best + (height ? height(Math.min(edge, Math.abs(u))) : 0);
      if (this.highest[i]! <= least) continue;
      const w = Math.min(
        (best > 0 ? Math.min(Math.atan2(c, best), WIDEST) : WIDEST) / this.dTheta,
        this.within(i, least),
      );
      const j1 = Math.floor(around + w);
      let col = wrapIndex(Math.ceil(around - w), columns);
      for (let j = Math.ceil(around - w); j <= j1; j++, col = col + 1 === columns ? 0 : col + 1) {
        const wood = radii[row + col]!;
        if (wood <= best) continue;
        const z = wood * (cos[col]! * ct + sin[col]! * st);
        if (z <= best) continue;
        const y = Math.abs(wood * (sin[col]! * ct - cos[col]! * st));
        if (y > c) continue;
        const v = height ? z - height(Math.min(edge, Math.sqrt(u * u + y * y))) : z;
        if (v > best) best = v;
      }
    }
    return best;
  }

  /**
   * Tip radius at which bit, shank and holder clear all wood while x and θ are anywhere in the box, in any order.
   * Grid points one step beyond the reach count as inside, so wood between them is covered.
   * @param x0 mm @param x1 mm, either order @param theta0 radians @param theta1 radians, either order
   * @returns mm ≥ 0
   */
  clearance(bit: Bit, x0: number, x1: number, theta0: number, theta1: number): number {
    const t0 = Math.min(theta0, theta1);
    const t1 = Math.max(theta0, theta1);
    const a = Math.min(x0, x1);
    const b = Math.max(x0, x1);
    let tip = this.highestIn(a, b, t0, t1, bit.diameter / 2);
    if (bit.shank > bit.diameter) tip = Math.max(tip, this.highestIn(a, b, t0, t1, bit.shank / 2) - bit.reach);
    tip = Math.max(tip, this.highestIn(a, b, t0, t1, bit.holder / 2) - bit.stickOut);
    return Math.max(0, tip);
  }

  /**
   * Tip radius that keeps shank and holder clear of the wood as it stands now at (x, θ).
   * @param tip where the tip shall go, mm: nothing is looked at where even the uncut blank would be clear
   * @returns mm; −Infinity where neither comes near
   */
  shankClearance(bit: Bit, x: number, theta: number, tip: number): number {
    let least = -Infinity;
    if (this.outermost - bit.stickOut > tip)
      least = this.rest(bit.holder / 2 + this.dx, 0, undefined, x, theta) - bit.stickOut;
    if (bit.shank > bit.diameter && this.outermost - bit.reach > tip)
      least = Math.max(least, this.rest(bit.shank / 2 + this.dx, 0, undefined, x, theta) - bit.reach);
    return least;
  }

  /** Largest z of wood that a cylinder of radius Q on the bit's axis can meet while its place is anywhere in the box. */
  private highestIn(x0: number, x1: number, t0: number, t1: number, Q: number): number {
    const pad = this.dx;
    const i0 = Math.max(0, Math.ceil((x0 - Q - pad - this.from) / this.dx));
    const i1 = Math.min(this.rows - 1, Math.floor((x1 + Q + pad - this.from) / this.dx));
    if (i0 > i1) return 0;
    const top = this.highestOver(x0 - Q - pad, x1 + Q + pad);
    if (t1 - t0 >= Math.PI) return top;
    const middle = (t0 + t1) / 2;
    const half = (t1 - t0) / 2 + this.dTheta;
    let best = 0;
    for (let i = i0; i <= i1; i++) {
      const u = Math.max(0, x0 - (this.from + i * this.dx), this.from + i * this.dx - x1);
      const c = Math.sqrt(Math.max(0, (Q + pad) ** 2 - u * u));
      const row = i * this.columns;
      if (this.highestOver(this.from + i * this.dx, this.from + i * this.dx) <= best) continue;
      const w = Math.min(Math.PI, half + Math.min(best > 0 ? Math.atan2(c, best) : Math.PI / 2, Math.PI / 2));
      const j1 = Math.floor((middle + w) / this.dTheta);
      for (let j = Math.ceil((middle - w) / this.dTheta); j <= j1; j++) {
        const wood = this.radii[row + (((j % this.columns) + this.columns) % this.columns)]!;
        if (wood <= best) continue;
        const off = Math.max(0, Math.abs(wrapHalfTurn(j * this.dTheta - middle)) - half);
        if (off >= Math.PI / 2 || wood * Math.sin(off) > c + wood * this.dTheta) continue;
        best = Math.max(best, wood * Math.cos(off));
      }
    }
    return Math.min(best, top);
  }

  private shapeOf(bit: Bit): Shape {
    let shape = this.shapes.get(bit);
    if (!shape) {
      const profile = profileOf(bit);
      const height = bit.kind === 'flat' ? undefined : (d: number) => profileHeight(profile, d);
      shape = { radius: bit.diameter / 2, height, ball: bit.kind === 'ball' };
      this.shapes.set(bit, shape);
    }
    return shape;
  }
}

/**
 * Where the ray enters the bit: the t between the plane of the tip and the outermost wood with t·cos δ − h(d) = r.
 * Kept at the outer end of a bracket, so that never too much is taken.
 */
export function entry(
  height: (d: number) => number,
  R: number,
  u: number,
  cd: number,
  sd: number,
  r: number,
  wood: number,
): number {
  let lo = Math.max(0, r / cd);
  let hi = wood;
  for (let k = 0; k < 14 && hi - lo > 1e-4; k++) {
    const t = (lo + hi) / 2;
    const y = t * sd;
    if (t * cd - height(Math.min(R, Math.sqrt(u * u + y * y))) < r) lo = t;
    else hi = t;
  }
  return hi;
}

/** Kept on top of a closed form, mm: more than the map's single precision rounds off. */
const ENTRY_ROUND = 5e-6;

/** Where the ray enters a ball whose tip stands at r: the nearer crossing of a line and a circle (plane geometry). */
function ballEntry(R: number, u: number, cd: number, sd: number, r: number): number {
  const centre = r + R;
  const across = centre * sd;
  return centre * cd - Math.sqrt(Math.max(0, R * R - u * u - across * across));
}

const wrapIndex = (j: number, n: number): number => ((j % n) + n) % n;

function leastCommonMultiple(a: number, b: number): number {
  let m = a;
  while (m % b) m += a;
  return m;
}
