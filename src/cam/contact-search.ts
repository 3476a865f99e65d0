/**
 * The search for the contact of one bit at one place: tiles of samples, those that cannot win left out by the bound
 * r_max·cos δ_min − h(d_min); what is left is sampled; then the few best candidates are settled by exact values.
 */
import { CONTACT_GUARD } from '../../shared/tolerances.ts';
import type { Profile } from './bit.ts';
import { profileHeight } from './bit.ts';
import type { Grid, Piece, Strip } from './contact-grid.ts';
import { TILE_COLS, TILE_ROWS } from './contact-grid.ts';
import type { Probe } from './contact-probe.ts';

const SMOOTH = 0;
const SHARP = 1;
const RIM = 2;
const ROUND = 3;
const CORNER = 4;
const ACROSS = TILE_COLS + 1;
const MOST = 512;
/** More than single precision rounds the samples by, mm. */
const ROUNDING = 1e-5;

export class Search {
  /** Where the last answer touches: offset along x from the bit (mm) and angle from the bit (radians). */
  touchX = 0;
  touchDelta = 0;
  /** Whether the last answer met round stretches only. */
  allRound = false;
  /** Samples looked at so far. */
  seen = 0;
  private readonly grid: Grid;
  private readonly probe: Probe;
  private readonly p: Profile;
  private readonly R: number;
  private readonly rims: number[];
  /** What sampling may miss beside a contact at distance d = R·i/64, mm. */
  private readonly miss = new Float64Array(66);
  // Candidates of the question in hand.
  private count = 0;
  private readonly cValue = new Float64Array(MOST);
  private readonly cX = new Float64Array(MOST);
  private readonly cDelta = new Float64Array(MOST);
  private readonly cKind = new Uint8Array(MOST);
  // Tiles of the question in hand.
  private tStrip: Strip[] = [];
  private readonly tBlock = new Int32Array(MOST * 8);
  private readonly tTurn = new Int32Array(MOST * 8);
  private readonly tBound = new Float64Array(MOST * 8);
  private readonly tTop = new Float64Array(MOST * 8);
  private readonly tAside2 = new Float64Array(MOST * 8);
  private readonly tWidest = new Float64Array(MOST * 8);
  // Vertices of the tile in hand as they stand under the bit, and by how much beyond the circle, squared.
  private readonly eY = new Float64Array((TILE_ROWS + 1) * ACROSS);
  private readonly eZ = new Float64Array((TILE_ROWS + 1) * ACROSS);
  private readonly eOut = new Float64Array((TILE_ROWS + 1) * ACROSS);
  // The highest crossing so far.
  private eBest = 0;
  private eBestU = 0;
  private eBestY = 0;
  private x = 0;
  private theta = 0;
  private y0 = 0;
  private best = 0;
  private margin = 0;
  private rotation = Number.NaN;
  private cosine = 1;
  private sine = 0;

  /** @param grid samples of the surface @param probe exact values of it @param profile the bit */
  constructor(grid: Grid, probe: Probe, profile: Profile) {
    this.grid = grid;
    this.probe = probe;
    this.p = profile;
    this.R = profile.radius;
    this.rims = [profile.radius];
    // A flank that starts at a corner touches there, as on a rim.
    if (profile.arc === 0 && profile.flat > 0 && profile.flat < profile.radius) this.rims.push(profile.flat);
    // What is missed goes with the bend of the profile across and along the circle d, the worst within one spacing.
    const step = this.R / 64;
    const h = (d: number) => profileHeight(profile, Math.min(this.R, Math.abs(d)));
    const bend = new Float64Array(64);
    for (let i = 0; i < 64; i++) {
      const d = i * step;
      const second = (4 * (h(d + step / 2) + h(d - step / 2) - 2 * h(d))) / (step * step);
      bend[i] = Math.max(0, second) + (i > 0 ? (h(d + step / 2) - h(d - step / 2)) / step / d : Math.max(0, second));
    }
    const wide = Math.ceil(grid.spacing / step);
    for (let i = 0; i <= 65; i++) {
      const most = Math.max(...bend.subarray(Math.max(0, Math.min(63, i) - wide), i + wide + 1));
      this.miss[i] = Math.min(0.05, 0.001 + (grid.spacing ** 2 / 8) * most);
    }
  }

  /**
   * @param x mm @param theta radians @param y0 mm @param seedX @param seedDelta a likely contact (offsets), NaN for none
   * @param thorough settle more candidates, more closely
   * @returns value of the highest surface point found, mm; −Infinity where no surface is under the bit
   */
  run(x: number, theta: number, y0: number, seedX: number, seedDelta: number, thorough: boolean): number {
    const { grid, probe, R } = this;
    this.x = x;
    this.theta = theta;
    this.y0 = y0;
    this.best = -Infinity;
    this.count = 0;
    this.margin = thorough ? 0.05 : 0.04;
    this.allRound = true;
    probe.aim(x, theta, y0);
    const { pieces } = grid;
    let first = grid.first(x - R);
    let last = first;
    while (last < pieces.length && pieces[last]!.x0 <= x + R) last++;
    if (first === last) return -Infinity;
    while (first > 0 && pieces[first - 1]!.x1 >= x - R) first--;
    this.seed(x, theta);
    if (!Number.isNaN(seedX)) this.seed(x + seedX, theta + seedDelta);
    this.tStrip.length = 0;
    for (let i = first; i < last; i++) {
      const piece = grid.piece(i);
      if (piece.round) this.roundPiece(piece);
      else {
        this.allRound = false;
        for (const strip of piece.strips)
          if (strip.x0 <= x + R && strip.x1 >= x - R && strip.rMax > this.best) this.tiles(strip);
      }
    }
    const tiles = this.tStrip.length;
    if (tiles > 0) {
      let top = 0;
      for (let i = 1; i < tiles; i++) if (this.tBound[i]! > this.tBound[top]!) top = i;
      this.tile(top);
      for (let i = 0; i < tiles; i++) if (i !== top && this.tBound[i]! > this.best) this.tile(i);
    }
    this.settle(thorough);
    return this.best;
  }

  private take(v: number, x: number, delta: number): void {
    if (v > this.best) {
      this.best = v;
      this.touchX = x - this.x;
      this.touchDelta = delta;
    }
  }

  private seed(px: number, ptheta: number): void {
    this.take(this.probe.at(px, ptheta), px, ptheta - this.theta);
  }

  private candidate(kind: number, v: number, x: number, delta: number): void {
    if (this.count === MOST) return;
    const c = this.count++;
    this.cKind[c] = kind;
    this.cValue[c] = v;
    this.cX[c] = x;
    this.cDelta[c] = delta;
  }

  /** A round row's best point for a bit that stands y0 beside the centre: √(r² − y²) − h is concave in y. */
  private roundRow(r: number, u: number): number {
    const { y0, R, p } = this;
    if (y0 === 0) return r - profileHeight(p, Math.abs(u));
    const c = Math.sqrt(Math.max(0, R * R - u * u));
    let a = Math.max(-r, y0 - c);
    let b = Math.min(r, y0 + c);
    if (a > b) return -Infinity;
    const f = (y: number) =>
      Math.sqrt(Math.max(0, r * r - y * y)) - profileHeight(p, Math.min(R, Math.sqrt(u * u + (y - y0) * (y - y0))));
    let best = Math.max(f(a), f(b));
    for (let k = 0; k < 40; k++) {
      const m1 = a + (b - a) * 0.382;
      const m2 = a + (b - a) * 0.618;
      const f1 = f(m1);
      const f2 = f(m2);
      if (f1 > best) best = f1;
      if (f2 > best) best = f2;
      if (f1 > f2) b = m2;
      else a = m1;
    }
    return best;
  }

  private roundPiece(piece: Piece): void {
    const { x, R, p, y0, margin } = this;
    const { xs, rs } = piece;
    let lo = 0;
    let hi = xs.length;
    while (lo < hi) {
      const mid = (lo + hi) >> 1;
      if (xs[mid]! < x - R) lo = mid + 1;
      else hi = mid;
    }
    // The rim, and the axis, between rows.
    for (const px of [x - R, x, x + R])
      if (px > piece.x0 && px < piece.x1) {
        const v = this.roundRow(this.grid.exact(px, 0), px - x);
        this.take(v, px, 0);
        if (px !== x && v > this.best - margin) this.candidate(ROUND, v, px, 0);
      }
    let v0 = -Infinity;
    let v1 = -Infinity;
    for (let i = lo; i <= xs.length; i++) {
      let v2 = -Infinity;
      if (i < xs.length) {
        const u = xs[i]! - x;
        if (u <= R) {
          const r = rs[i]!;
          if (r > this.best - margin) v2 = y0 === 0 ? r - profileHeight(p, u < 0 ? -u : u) : this.roundRow(r, u);
        } else i = xs.length;
      }
      if (v1 > v0 && v1 >= v2 && v1 > this.best - margin) {
        const at = xs[Math.min(i, xs.length) - 1]!;
        this.take(v1, at, 0);
        this.candidate(ROUND, v1, at, 0);
      } else if (v1 > this.best) this.take(v1, xs[Math.min(i, xs.length) - 1]!, 0);
      v0 = v1;
      v1 = v2;
    }
  }

  private tiles(strip: Strip): void {
    const { x, theta, R, y0, p } = this;
    const off = Math.abs(y0);
    const s = (R + off) / strip.rMin;
    const window = s >= 1 ? Math.PI / 2 : Math.asin(s);
    const width = strip.sector / strip.blocks;
    let g0 = Math.floor((theta - window - strip.turnMax) / width);
    let g1 = Math.floor((theta + window - strip.turnMin) / width);
    const near = strip.x0 > x ? strip.x0 - x : strip.x1 < x ? x - strip.x1 : 0;
    const { blocks, sector, angle0, angle1, high, low } = strip;
    if (strip.rMax - profileHeight(p, near) <= this.best) return;
    if (g1 - g0 >= MOST) {
      g0 = Math.floor((theta - strip.turnMax) / width) - MOST / 2;
      g1 = g0 + MOST;
    }
    for (let g = g0; g <= g1; g++) {
      const turn = Math.floor(g / blocks);
      const b = g - turn * blocks;
      const a0 = angle0[b]! + turn * sector - theta;
      const a1 = angle1[b]! + turn * sector - theta;
      const dMin = a0 > 0 ? a0 : a1 < 0 ? -a1 : 0;
      if (dMin >= Math.PI / 2) continue;
      const q = dMin * dMin;
      // cos and sin by their series, cut on the safe side.
      const top = high[b]! * (1 - q / 2 + (q * q) / 24);
      if (top <= this.best) continue;
      const y = low[b]! * dMin * (1 - q / 6) - off;
      const d2 = near * near + (y > 0 ? y * y : 0);
      if (d2 > R * R) continue;
      const bound = top - profileHeight(p, Math.sqrt(d2));
      if (bound <= this.best) continue;
      const i = this.tStrip.length;
      if (i === this.tBlock.length) return;
      this.tStrip.push(strip);
      this.tBlock[i] = b;
      this.tTurn[i] = turn;
      this.tBound[i] = bound;
      // Its top, how near it comes to the bit's own plane, and its farthest angle: what its rows and a rim's crossing need to know.
      this.tTop[i] = top + ROUNDING;
      this.tAside2[i] = y > ROUNDING ? (y - ROUNDING) ** 2 : 0;
      this.tWidest[i] = Math.max(Math.abs(a0), Math.abs(a1));
    }
  }

  private tile(t: number): void {
    const strip = this.tStrip[t]!;
    const b = this.tBlock[t]!;
    const rotation = this.theta - this.tTurn[t]! * strip.sector;
    // Neighbours mostly stand in one sector and share it.
    if (rotation !== this.rotation) {
      this.rotation = rotation;
      this.cosine = Math.cos(rotation);
      this.sine = Math.sin(rotation);
    }
    const c = this.cosine;
    const s = this.sine;
    const { y0, margin } = this;
    const { flat, arc, tangent, start, rise, radius } = this.p;
    const R2 = radius * radius;
    const arc2 = arc * arc;
    const ball = arc === radius;
    const du = strip.x0 - this.x;
    const { X, Y, Z, sharp, KX, KY, KZ } = strip;
    const n = strip.rows * ACROSS;
    const first = b * n;
    let smoothAt = -1;
    let smoothV = this.best - margin;
    let sharpAt = -1;
    let sharpV = smoothV;
    let floor = smoothV;
    this.seen += n;
    const top = this.tTop[t]!;
    const aside2 = this.tAside2[t]!;
    for (let row = first; row < first + n; row += ACROSS) {
      const u = X[row]! + du;
      const u2 = u * u;
      const near2 = u2 + aside2;
      if (near2 > R2) continue;
      // No point of the row is nearer to the axis than that, so each must stand higher by the bit's rise there.
      const least = profileHeight(this.p, Math.sqrt(near2));
      if (top - least <= floor) continue;
      for (let k = row; k < row + ACROSS; k++) {
        const z = Z[k]! * c + Y[k]! * s;
        if (z - least <= floor) continue;
        const y = Y[k]! * c - Z[k]! * s - y0;
        const d2 = u2 + y * y;
        // Outside the ball that stands at the floor a sample lies below it; told so, most need no root.
        const under = floor + radius - z;
        if (ball && under > 0 ? d2 + under * under >= R2 : d2 > R2) continue;
        const d = Math.sqrt(d2);
        const e = d - flat;
        const v = e <= 0 ? z : d <= tangent ? z - arc + Math.sqrt(arc2 - e * e) : z - start - (d - tangent) * rise;
        if (v <= floor) continue;
        if (sharp[k] === 1) {
          if (v > sharpV) {
            sharpV = v;
            sharpAt = k;
          }
        } else if (v > smoothV) {
          smoothV = v;
          smoothAt = k;
        }
        if (v - margin > floor) floor = v - margin;
      }
    }
    let knotAt = -1;
    for (let k = strip.knotStart[b]!; k < strip.knotStart[b + 1]!; k++) {
      const z = KZ[k]! * c + KY[k]! * s;
      if (z <= floor) continue;
      const y = KY[k]! * c - KZ[k]! * s - y0;
      const u = KX[k]! + du;
      const d2 = u * u + y * y;
      if (d2 > R2) continue;
      const d = Math.sqrt(d2);
      const e = d - flat;
      const v = e <= 0 ? z : d <= tangent ? z - arc + Math.sqrt(arc2 - e * e) : z - start - (d - tangent) * rise;
      if (v > sharpV) {
        sharpV = v;
        sharpAt = -1;
        knotAt = k;
      }
    }
    if (smoothAt >= 0) this.found(SMOOTH, smoothV, X[smoothAt]!, Y[smoothAt]!, Z[smoothAt]!, du, c, s);
    if (sharpAt >= 0) this.found(SHARP, sharpV, X[sharpAt]!, Y[sharpAt]!, Z[sharpAt]!, du, c, s);
    else if (knotAt >= 0) this.found(SHARP, sharpV, KX[knotAt]!, KY[knotAt]!, KZ[knotAt]!, du, c, s);
    for (const rim of this.rims)
      if (strip.high[b]! - profileHeight(this.p, rim) > this.best - margin && this.farther(t, rim))
        this.crossings(strip, b, c, s, du, rim, top);
  }

  /** Whether a tile reaches beyond the circle d = rim. */
  private farther(t: number, rim: number): boolean {
    const strip = this.tStrip[t]!;
    const far = Math.max(this.x - strip.x0, strip.x1 - this.x);
    const widest = strip.high[this.tBlock[t]!]! * Math.sin(Math.min(this.tWidest[t]!, Math.PI / 2)) + Math.abs(this.y0);
    return far * far + widest * widest > rim * rim;
  }

  private found(kind: number, v: number, X: number, Y: number, Z: number, du: number, c: number, s: number): void {
    const delta = Math.atan2(Y * c - Z * s, Z * c + Y * s);
    this.take(v, X + du + this.x, delta);
    this.candidate(kind, v, X + du + this.x, delta);
  }

  /** Where edges of the tile pass under the circle d = rim; the highest of them becomes a candidate. @param top no vertex is higher */
  private crossings(strip: Strip, b: number, c: number, s: number, du: number, rim: number, top: number): void {
    const { X, Y, Z, KX, KY, KZ, KA, KB } = strip;
    const n = strip.rows * ACROSS;
    const first = b * n;
    const { y0, eY, eZ, eOut } = this;
    const lift = profileHeight(this.p, rim);
    const rim2 = rim * rim;
    // Between samples the surface may stand a little higher than the straight edge.
    const least = this.best + lift - this.margin - 0.01;
    const k0 = strip.knotStart[b]!;
    const k1 = strip.knotStart[b + 1]!;
    if (top <= least && k0 === k1) return;
    this.eBest = least;
    this.eBestU = Number.NaN;
    for (let k = 0; k < n; k++) {
      const x = X[first + k]! + du;
      const y = Y[first + k]! * c - Z[first + k]! * s - y0;
      eY[k] = y;
      eZ[k] = Z[first + k]! * c + Y[first + k]! * s;
      eOut[k] = x * x + y * y - rim2;
    }
    const crosses = (k: number, other: number): boolean =>
      eOut[k]! > 0 !== eOut[other]! > 0 && (eZ[k]! > this.eBest || eZ[other]! > this.eBest);
    const vertices = (k: number, other: number): void =>
      this.edge(X[first + k]! + du, eY[k]!, eZ[k]!, eOut[k]!, X[first + other]! + du, eY[other]!, eZ[other]!);
    for (let row = 0; row < n; row += ACROSS)
      for (let k = row; k < row + ACROSS; k++) {
        if (k + 1 < row + ACROSS && crosses(k, k + 1)) vertices(k, k + 1);
        if (k + ACROSS < n && crosses(k, k + ACROSS)) vertices(k, k + ACROSS);
      }
    for (let q = k0; q < k1; q++) {
      if (KA[q]! < 0) continue;
      const u = KX[q]! + du;
      const y = KY[q]! * c - KZ[q]! * s - y0;
      const z = KZ[q]! * c + KY[q]! * s;
      const out = u * u + y * y - rim2;
      for (const end of [KA[q]!, KB[q]!])
        if (out > 0 !== eOut[end]! > 0 && (z > this.eBest || eZ[end]! > this.eBest))
          this.edge(u, y, z, out, X[first + end]! + du, eY[end]!, eZ[end]!);
    }
    if (!Number.isNaN(this.eBestU))
      this.candidate(
        rim === this.R ? RIM : CORNER,
        this.eBest - lift,
        this.eBestU + this.x,
        Math.atan2(this.eBestY + y0, this.eBest),
      );
  }

  /** An edge that crosses the circle: kept if it does so higher than all before. @param a2 how far out its first end lies, squared */
  private edge(xa: number, ya: number, za: number, a2: number, xb: number, yb: number, zb: number): void {
    const dx = xb - xa;
    const dy = yb - ya;
    const A = dx * dx + dy * dy;
    const B = xa * dx + ya * dy;
    const root = Math.sqrt(Math.max(0, B * B - A * a2));
    const t = (a2 > 0 ? -B - root : -B + root) / A;
    const z = za + (zb - za) * t;
    if (z > this.eBest) {
      this.eBest = z;
      this.eBestU = xa + dx * t;
      this.eBestY = ya + dy * t;
    }
  }

  private missAt(x: number, delta: number): number {
    const u = x - this.x;
    const y = this.best * Math.sin(delta) - this.y0;
    return this.miss[Math.min(64, Math.round((Math.sqrt(u * u + y * y) / this.R) * 64))]!;
  }

  private settle(thorough: boolean): void {
    const { probe, grid, cValue, cX, cDelta, cKind, theta } = this;
    // The place straight below may be the highest so far and yet no sample.
    if (thorough && !this.allRound) this.candidate(SHARP, this.best, this.x + this.touchX, this.touchDelta);
    const most = thorough ? 8 : 4;
    const rimLift = profileHeight(this.p, this.R);
    for (let k = 0; k < most; k++) {
      let c = -1;
      for (let i = 0; i < this.count; i++) if (cValue[i]! > (c < 0 ? -Infinity : cValue[c]!)) c = i;
      if (c < 0) return;
      const px = cX[c]!;
      const pd = cDelta[c]!;
      const kind = cKind[c]!;
      const value = cValue[c]!;
      cValue[c] = -Infinity;
      const miss = thorough ? 0.05 : kind === RIM || kind === CORNER ? 0.04 : this.missAt(px, pd);
      if (value + miss <= this.best) return;
      const before = this.best;
      if (kind === ROUND) this.settleRound(px);
      else {
        const reach = grid.spacing;
        let v: number;
        if (kind === SHARP && !thorough && miss < CONTACT_GUARD) {
          v = -Infinity;
          probe.foundX = px;
          probe.foundTheta = theta + pd;
        } else if (kind === SMOOTH && !thorough) v = probe.crest(px, theta + pd, reach);
        else if (kind === RIM || kind === CORNER)
          v = probe.round(
            px,
            pd,
            kind === RIM ? this.R : this.p.flat,
            1.5 * reach,
            thorough ? 16 : 8,
            value + (kind === RIM ? rimLift : 0),
          );
        else v = probe.climb(px, theta + pd, reach / 2, thorough ? 8 : 4, thorough ? 36 : 14);
        this.take(v, probe.foundX, probe.foundTheta - theta);
        for (let i = 0; i < this.count; i++) {
          const away = Math.abs(cX[i]! - probe.foundX) + this.best * Math.abs(cDelta[i]! + theta - probe.foundTheta);
          if (away < 1.5 * reach && cKind[i] === kind) cValue[i] = -Infinity;
        }
      }
      if (!thorough && k > 0 && kind !== RIM && this.best < before + 0.0003) return;
    }
  }

  /** Golden section along x on both sides of a round row, exact radii. */
  private settleRound(px: number): void {
    const { grid, x, R } = this;
    for (const side of [-1, 1]) {
      const i = grid.first(px);
      let piece = grid.pieces[i]!;
      if (side > 0 && px >= piece.x1 && i + 1 < grid.pieces.length) piece = grid.pieces[i + 1]!;
      if (!piece.round) continue;
      let a = px;
      let b = Math.min(piece.x1, x + R, Math.max(piece.x0, x - R, px + side * grid.spacing));
      for (let k = 0; k < 24 && Math.abs(b - a) > 1e-6; k++) {
        const m1 = a + (b - a) * 0.382;
        const m2 = a + (b - a) * 0.618;
        const v1 = this.roundRow(grid.exact(m1, 0), m1 - x);
        const v2 = this.roundRow(grid.exact(m2, 0), m2 - x);
        this.take(v1, m1, 0);
        this.take(v2, m2, 0);
        if (v1 > v2) b = m2;
        else a = m1;
      }
    }
  }
}
