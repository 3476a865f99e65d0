/** Exact values of one contact question, and the search around a candidate with nothing but exact values. */
import type { Side, Surface } from '../profiles/field.ts';

/** Directions of the search turn by the golden angle from round to round, so that no ridge escapes them all. */
const GOLDEN = 2.399963229728653;

/**
 * One bit over one surface. `aim` sets the question; `at` answers how high the tip must be to clear one surface point.
 * Points a little outside the bit are drawn in to its rim, so that a search can slide along the rim.
 */
export class Probe {
  /** Where the best point of the last search was, mm along x and radians. */
  foundX = 0;
  foundTheta = 0;
  /** Exact values of the surface that were asked so far. */
  asked = 0;
  private x = 0;
  private theta = 0;
  private y0 = 0;
  private hitX = 0;
  private hitTheta = 0;
  private readonly surface: Surface;
  private readonly height: (d: number) => number;
  private readonly R: number;
  private readonly from: number;
  private readonly to: number;

  /** @param surface the part @param height the bit's lower profile @param R its radius, mm @param from @param to ends of the material, mm */
  constructor(surface: Surface, height: (d: number) => number, R: number, from: number, to: number) {
    this.surface = surface;
    this.height = height;
    this.R = R;
    this.from = from;
    this.to = to;
  }

  /** Stands the bit at x (mm) over the angle theta (radians), y0 (mm) beside the centre plane. */
  aim(x: number, theta: number, y0: number): void {
    this.x = x;
    this.theta = theta;
    this.y0 = y0;
  }

  /**
   * Tip height that just clears the surface at (px, ptheta).
   * @param side limit of the surface at a shoulder @param pinned keep px when a point is drawn in to the rim
   * @returns mm; −Infinity where the bit does not stand over that point
   */
  at(px: number, ptheta: number, side: Side, pinned: boolean): number {
    if (px < this.from) px = this.from;
    else if (px > this.to) px = this.to;
    const R = this.R;
    let delta = ptheta - this.theta;
    for (let round = 0; round < 6; round++) {
      this.asked++;
      const r = this.surface.radius(px, this.theta + delta, side);
      const y = r * Math.sin(delta) - this.y0;
      const u = px - this.x;
      const d = Math.hypot(u, y);
      if (d <= R) {
        this.hitX = px;
        this.hitTheta = this.theta + delta;
        return r * Math.cos(delta) - this.height(d);
      }
      if (d > 2 * R) return -Infinity;
      // A hair inside, so that rounding does not throw the point out again.
      let f = (R - 1e-7) / d;
      let nextY = y * f;
      if (pinned) {
        const room = (R - 1e-7) ** 2 - u * u;
        if (room < 0) return -Infinity;
        nextY = Math.sign(y) * Math.sqrt(room);
        f = 1;
      }
      if (f < 1) {
        px = this.x + u * f;
        if (px < this.from || px > this.to) return -Infinity;
      }
      const s = (nextY + this.y0) / r;
      if (s > 1 || s < -1) return -Infinity;
      delta = Math.asin(s);
    }
    return -Infinity;
  }

  /**
   * Climbs from a candidate with exact values only, so the answer is never above the exact one.
   * @param px mm @param ptheta radians @param side limit at a shoulder; ≠ 0 keeps px, for points on its wall
   * @param reach first step, mm @param rounds halvings of the step
   * @returns the highest value met, mm; −Infinity if the bit is nowhere over the surface there
   */
  climb(px: number, ptheta: number, side: Side, reach: number, rounds: number): number {
    const pinned = side !== 0;
    let best = this.at(px, ptheta, side, pinned);
    if (best === -Infinity) return best;
    let bx = this.hitX;
    let bt = this.hitTheta;
    const r = Math.max(0.05, this.surface.radius(bx, bt, side));
    let step = reach;
    let turn = 0;
    for (let k = 0; k < rounds; k++) {
      let gained = false;
      for (let q = 0; q < 4; q++) {
        const a = turn + (q * Math.PI) / 2;
        const v = this.at(pinned ? bx : bx + step * Math.cos(a), bt + (step * Math.sin(a)) / r, side, pinned);
        if (v > best) {
          best = v;
          bx = this.hitX;
          bt = this.hitTheta;
          gained = true;
        }
      }
      turn += GOLDEN;
      if (!gained) step /= 2;
    }
    this.foundX = bx;
    this.foundTheta = bt;
    return best;
  }
}
