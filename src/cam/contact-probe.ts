/** Exact values of one contact question, and searches around a candidate with nothing but exact values. */
import { TURN } from '../../shared/units.ts';
import type { Surface } from '../profiles/field.ts';

/** Directions of the search turn by the golden angle from round to round, so that no ridge escapes them all. */
const GOLDEN = 2.399963229728653;

/**
 * One bit over one surface. `aim` sets the question; `at` answers how high the tip must be to clear one surface point.
 * Points a little outside the bit are drawn in to its rim, so that a search can slide along the rim. Whatever a search
 * returns is the value of a real point of the surface, so it is never above the exact answer.
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
   * Tip height that just clears the surface at (px, ptheta), or at the rim's point beside it.
   * @returns mm; −Infinity where the bit does not stand over that point
   */
  at(px: number, ptheta: number): number {
    if (px < this.from) px = this.from;
    else if (px > this.to) px = this.to;
    const R = this.R;
    let delta = ptheta - this.theta;
    for (let round = 0; round < 6; round++) {
      this.asked++;
      const r = this.surface.radius(px, this.theta + delta);
      const y = r * Math.sin(delta) - this.y0;
      const u = px - this.x;
      const d = Math.sqrt(u * u + y * y);
      if (d <= R) {
        this.hitX = px;
        this.hitTheta = this.theta + delta;
        return r * Math.cos(delta) - this.height(d);
      }
      if (d > 2 * R) return -Infinity;
      // A hair inside, so that rounding does not throw the point out again.
      const f = (R - 1e-7) / d;
      px = this.x + u * f;
      if (px < this.from || px > this.to) return -Infinity;
      const s = (y * f + this.y0) / r;
      if (s > 1 || s < -1) return -Infinity;
      delta = Math.asin(s);
    }
    return -Infinity;
  }

  /**
   * Climbs from a candidate by steps in turning directions: slow, and at home on arrises and rims.
   * @param px mm @param ptheta radians @param reach first step, mm @param ways directions tried
   * in a round @param rounds rounds; one that gains nothing makes the step smaller
   * @returns the highest value met, mm; −Infinity if the bit is nowhere over the surface there
   */
  climb(px: number, ptheta: number, reach: number, ways: number, rounds: number): number {
    let best = this.at(px, ptheta);
    if (best === -Infinity) return best;
    let bx = this.hitX;
    let bt = this.hitTheta;
    const r = Math.max(0.05, best);
    let step = reach;
    let turn = 0;
    for (let k = 0; k < rounds; k++) {
      let gained = false;
      for (let q = 0; q < ways; q++) {
        const a = turn + (q * TURN) / ways;
        const v = this.at(bx + step * Math.cos(a), bt + (step * Math.sin(a)) / r);
        if (v > best) {
          best = v;
          bx = this.hitX;
          bt = this.hitTheta;
          gained = true;
        }
      }
      turn += GOLDEN;
      step *= gained ? 1.3 : 0.55;
    }
    this.foundX = bx;
    this.foundTheta = bt;
    return best;
  }

  /**
   * Climbs a smooth hill by quadratics through six exact values; leaves to `climb` what does not behave like one.
   * @param px mm @param ptheta radians @param reach spacing of the samples that led here, mm
   * @returns the highest value met, mm; −Infinity if the bit is nowhere over the surface there
   */
  crest(px: number, ptheta: number, reach: number): number {
    let best = this.at(px, ptheta);
    if (best === -Infinity) return best;
    let bx = this.hitX;
    let bt = this.hitTheta;
    const r = Math.max(0.05, best);
    let s = reach / 2;
    for (let k = 0; k < 3; k++) {
      const t = s / r;
      const c = best;
      const cx = bx;
      const ct = bt;
      const keep = (v: number) => {
        if (v > best) {
          best = v;
          bx = this.hitX;
          bt = this.hitTheta;
        }
        return v;
      };
      const e = keep(this.at(cx + s, ct));
      const w = keep(this.at(cx - s, ct));
      const n = keep(this.at(cx, ct + t));
      const o = keep(this.at(cx, ct - t));
      const q = keep(this.at(cx + s, ct + t));
      const gx = (e - w) / 2;
      const gt = (n - o) / 2;
      const xx = e + w - 2 * c;
      const tt = n + o - 2 * c;
      const xt = q - e - n + c;
      const det = xx * tt - xt * xt;
      if (!(xx < 0 && tt < 0 && det > 0)) {
        if (best > c) continue;
        return this.kept(Math.max(best, this.climb(bx, bt, s, 4, 8)), bx, bt, best);
      }
      let dx = (xt * gt - tt * gx) / det;
      let dt = (xt * gx - xx * gt) / det;
      const size = Math.max(Math.abs(dx), Math.abs(dt));
      if (size > 2) {
        dx *= 2 / size;
        dt *= 2 / size;
      }
      const hoped = c + gx * dx + gt * dt + (xx * dx * dx) / 2 + (tt * dt * dt) / 2 + xt * dx * dt;
      const got = keep(this.at(cx + dx * s, ct + dt * t));
      if (size <= 2 && Math.abs(got - hoped) < 0.0004) break;
      if (k === 2 || got < c - 0.01) return this.kept(this.climb(bx, bt, s, 4, 10), bx, bt, best);
      s = size > 2 ? s : s * 0.4;
    }
    this.foundX = bx;
    this.foundTheta = bt;
    return best;
  }

  /** Tip height for the surface over one point of the circle d = rim; −Infinity if none is found near `guess`. */
  private over(rim: number, phi: number, guess: number): number {
    const px = this.x + rim * Math.cos(phi);
    if (px < this.from || px > this.to) return -Infinity;
    const want = rim * Math.sin(phi) + this.y0;
    let d0 = guess;
    this.asked++;
    let r = this.surface.radius(px, this.theta + d0);
    let f0 = r * Math.sin(d0) - want;
    let d1 = want / r;
    if (d1 > 1 || d1 < -1) return -Infinity;
    d1 = Math.asin(d1);
    for (let k = 0; k < 10; k++) {
      this.asked++;
      r = this.surface.radius(px, this.theta + d1);
      const f1 = r * Math.sin(d1) - want;
      if (f1 < 1e-8 && f1 > -1e-8) {
        this.hitX = px;
        this.hitTheta = this.theta + d1;
        return r * Math.cos(d1) - this.height(rim);
      }
      // Secant; where it would run away, the next plain guess.
      let next = d1 - (f1 * (d1 - d0)) / (f1 - f0);
      if (!(Math.abs(next - d1) < 0.1)) next = Math.asin(Math.max(-1, Math.min(1, want / r)));
      d0 = d1;
      f0 = f1;
      d1 = next;
    }
    return -Infinity;
  }

  /**
   * Climbs along the circle d = rim from the point of it nearest to a candidate: nine places, then golden sections.
   * @param px mm @param delta radians from the bit's angle @param rim mm @param reach half the stretch to search, mm
   * @param rounds sections
   * @returns the highest value met, mm; −Infinity if there is no surface over the circle there
   */
  round(px: number, delta: number, rim: number, reach: number, rounds: number, z: number): number {
    const centre = Math.atan2(z * Math.sin(delta) - this.y0, px - this.x);
    let best = -Infinity;
    let at = centre;
    let guess = delta;
    const ask = (phi: number): number => {
      const v = this.over(rim, phi, guess);
      if (v > best) {
        best = v;
        at = phi;
        this.foundX = this.hitX;
        this.foundTheta = this.hitTheta;
        guess = this.hitTheta - this.theta;
      }
      return v;
    };
    const step = reach / rim / 4;
    ask(centre);
    for (let k = 1; k <= 4; k++) {
      ask(centre + k * step);
      ask(centre - k * step);
    }
    if (best === -Infinity) return best;
    let a = at - step;
    let b = at + step;
    const g = 0.3819660112501051;
    let p = a + g * (b - a);
    let q = b - g * (b - a);
    let vp = ask(p);
    let vq = ask(q);
    for (let k = 0; k < rounds; k++) {
      if (vp > vq) {
        b = q;
        q = p;
        vq = vp;
        p = a + g * (b - a);
        vp = ask(p);
      } else {
        a = p;
        p = q;
        vp = vq;
        q = b - g * (b - a);
        vq = ask(q);
      }
    }
    return best;
  }

  private kept(climbed: number, bx: number, bt: number, best: number): number {
    if (climbed > best) return climbed;
    this.foundX = bx;
    this.foundTheta = bt;
    return best;
  }
}
