/**
 * Samples of a surface for the contact search, made only where they are asked for. The part is cut along x at its
 * breaks, so a shoulder's two sides are the last row of one piece and the first row of the next. Rows crowd where the
 * outline is steep. A round piece keeps one radius for each row; another keeps tiles of points whose columns turn with
 * the carving. Where neighbouring samples show that something sticks out between them (an arris, a groove's lip, a
 * small bead) its highest point on that grid edge is found from the field itself and kept as a *knot*.
 */
import { CONTACT_BEND, CONTACT_KNOT, CONTACT_SHARP, SAME_X } from '../../shared/tolerances.ts';
import { TURN } from '../../shared/units.ts';
import type { Surface } from '../profiles/field.ts';
import { corner, standing } from './contact-knots.ts';

/** Cells of a tile along x and across. */
export const TILE_ROWS = 6;
export const TILE_COLS = 8;
const VERTS_ACROSS = TILE_COLS + 1;
/** Longest piece, mm: how much is sampled at once. */
const PIECE = 4;

/** A band of tiles round the part (one sector of its symmetry). */
export interface Strip {
  x0: number;
  x1: number;
  rows: number;
  blocks: number;
  sector: number;
  turnMin: number;
  turnMax: number;
  rMin: number;
  rMax: number;
  /** Of each tile: angles it spans, radii it spans. */
  angle0: Float64Array;
  angle1: Float64Array;
  low: Float64Array;
  high: Float64Array;
  /** Vertices, tile after tile, row after row, TILE_COLS + 1 in a row: x − x0, r·sin, r·cos, and whether on an arris. */
  X: Float32Array;
  Y: Float32Array;
  Z: Float32Array;
  sharp: Uint8Array;
  /** Knots, tile after tile, and the two vertices (within the tile) of the edge each stands on. */
  knotStart: Int32Array;
  KX: Float32Array;
  KY: Float32Array;
  KZ: Float32Array;
  KA: Int16Array;
  KB: Int16Array;
}

/** A stretch of the part between two cuts. */
export interface Piece {
  x0: number;
  x1: number;
  /** Whether its ends are breaks of the outline or ends of the material. */
  break0: boolean;
  break1: boolean;
  round: boolean;
  /** Rows of a round piece: x, radius; empty until asked. */
  xs: Float64Array;
  rs: Float64Array;
  strips: Strip[];
  ready: boolean;
}

const NONE = new Float64Array(0);
export class Grid {
  readonly pieces: Piece[] = [];
  /** Exact radii asked for so far. */
  asked = 0;
  readonly spacing: number;
  private readonly surface: Surface;

  /** @param surface the part @param from @param to ends of the material, mm @param spacing of the samples, mm */
  constructor(surface: Surface, from: number, to: number, spacing: number) {
    this.surface = surface;
    this.spacing = spacing;
    const cuts = [from];
    for (const b of surface.breaks) if (b.x > cuts.at(-1)! + SAME_X && b.x < to - SAME_X) cuts.push(b.x);
    cuts.push(to);
    for (let i = 0; i + 1 < cuts.length; i++) {
      const n = Math.max(1, Math.ceil((cuts[i + 1]! - cuts[i]!) / PIECE));
      for (let k = 0; k < n; k++) {
        const at = (q: number) => (q === n ? cuts[i + 1]! : cuts[i]! + ((cuts[i + 1]! - cuts[i]!) * q) / n);
        const inner = Math.min(SAME_X, (at(k + 1) - at(k)) / 4);
        this.pieces.push({
          x0: at(k),
          x1: at(k + 1),
          break0: k === 0,
          break1: k === n - 1,
          round: surface.isRound(at(k) + inner, at(k + 1) - inner),
          xs: NONE,
          rs: NONE,
          strips: [],
          ready: false,
        });
      }
    }
  }

  /** Index of the first piece that reaches x or beyond. @param x mm */
  first(x: number): number {
    let lo = 0;
    let hi = this.pieces.length;
    while (lo < hi) {
      const mid = (lo + hi) >> 1;
      if (this.pieces[mid]!.x1 < x) lo = mid + 1;
      else hi = mid;
    }
    return lo;
  }

  /** A piece with its samples. @param i index */
  piece(i: number): Piece {
    const piece = this.pieces[i]!;
    if (!piece.ready) this.sample(piece);
    return piece;
  }

  /** The exact radius. @param x mm @param theta radians @returns mm */
  exact(x: number, theta: number): number {
    this.asked++;
    return this.surface.radius(x, theta);
  }

  private radius(x: number, theta: number, piece: Piece): number {
    this.asked++;
    return this.surface.radius(x, theta, x <= piece.x0 ? 1 : x >= piece.x1 ? -1 : 0);
  }

  private sample(piece: Piece): void {
    piece.ready = true;
    const { surface, spacing } = this;
    const n = Math.max(1, Math.ceil((piece.x1 - piece.x0) / spacing));
    const probes = piece.round ? 1 : 24;
    const sector = Number.isFinite(surface.symmetry) ? TURN / surface.symmetry : TURN;
    let most = 0;
    const ring = (x: number) => {
      const turn = piece.round ? 0 : surface.turning(x);
      const out = Float64Array.from({ length: probes }, (_, j) => this.radius(x, turn + (sector * j) / probes, piece));
      for (const r of out) if (r > most) most = r;
      return out;
    };
    const xs = [piece.x0];
    // Steep walls get rows by their height, down to a sixty-fourth of the spacing.
    const between = (a: number, ra: Float64Array, b: number, rb: Float64Array, depth: number): void => {
      let rise = 0;
      for (let j = 0; j < probes; j++) rise = Math.max(rise, Math.abs(rb[j]! - ra[j]!));
      if (rise > 1.5 * spacing && depth < 6) {
        const mid = (a + b) / 2;
        const rm = ring(mid);
        between(a, ra, mid, rm, depth + 1);
        between(mid, rm, b, rb, depth + 1);
      } else xs.push(b);
    };
    let a = piece.x0;
    let ra = ring(a);
    for (let i = 1; i <= n; i++) {
      const b = i === n ? piece.x1 : piece.x0 + ((piece.x1 - piece.x0) * i) / n;
      const rb = ring(b);
      between(a, ra, b, rb, 0);
      a = b;
      ra = rb;
    }
    if (piece.round) {
      piece.xs = Float64Array.from(xs);
      piece.rs = piece.xs.map((x) => this.radius(x, 0, piece));
    } else
      for (let i = 0; i + 1 < xs.length; i += TILE_ROWS)
        piece.strips.push(this.strip(piece, xs.slice(i, i + TILE_ROWS + 1), sector, most));
  }

  private strip(piece: Piece, xs: number[], sector: number, most: number): Strip {
    const { surface } = this;
    const rows = xs.length;
    const x0 = xs[0]!;
    const x1 = xs[rows - 1]!;
    const blocks = Math.max(1, Math.ceil((sector * most) / this.spacing / TILE_COLS));
    const M = blocks * TILE_COLS;
    const step = sector / M;
    const turns = xs.map((x) => surface.turning(x));
    const r = new Float64Array(rows * M);
    const angles = new Float64Array(M);
    for (let i = 0; i < rows; i++) {
      for (let j = 0; j < M; j++) angles[j] = turns[i]! + j * step;
      const x = xs[i]!;
      surface.ring(x, angles, r.subarray(i * M, (i + 1) * M), x <= piece.x0 ? 1 : x >= piece.x1 ? -1 : 0);
      this.asked += M;
    }
    // Convex bend at each vertex: across the row, and along x in units of the edge before and after it.
    const across = new Float64Array(rows * M);
    const before = new Float64Array(rows * M).fill(Infinity);
    const after = new Float64Array(rows * M).fill(Infinity);
    for (let i = 0; i < rows; i++)
      for (let j = 0; j < M; j++) {
        const k = i * M + j;
        across[k] = 2 * r[k]! - r[i * M + (j === 0 ? M - 1 : j - 1)]! - r[i * M + (j === M - 1 ? 0 : j + 1)]!;
        if (i === 0 || i === rows - 1) continue;
        const la = xs[i]! - xs[i - 1]!;
        const lb = xs[i + 1]! - xs[i]!;
        const bend = (r[k]! - r[k - M]!) / la - (r[k + M]! - r[k]!) / lb;
        before[k] = bend * la;
        after[k] = bend * lb;
      }
    const count = rows * VERTS_ACROSS;
    const strip: Strip = {
      x0,
      x1,
      rows,
      blocks,
      sector,
      turnMin: Math.min(...turns),
      turnMax: Math.max(...turns),
      rMin: Infinity,
      rMax: 0,
      angle0: new Float64Array(blocks),
      angle1: new Float64Array(blocks),
      low: new Float64Array(blocks),
      high: new Float64Array(blocks),
      X: new Float32Array(blocks * count),
      Y: new Float32Array(blocks * count),
      Z: new Float32Array(blocks * count),
      sharp: new Uint8Array(blocks * count),
      knotStart: new Int32Array(blocks + 1),
      KX: new Float32Array(0),
      KY: new Float32Array(0),
      KZ: new Float32Array(0),
      KA: new Int16Array(0),
      KB: new Int16Array(0),
    };
    const kx: number[] = [];
    const ky: number[] = [];
    const kz: number[] = [];
    const ka: number[] = [];
    const kb: number[] = [];
    const at = (i: number, j: number) => r[i * M + (j === M ? 0 : j)]!;
    const onRow = (i: number, j: number): [number, number] | undefined => {
      const a = across[i * M + j]!;
      const b = across[i * M + (j + 1 === M ? 0 : j + 1)]!;
      if (a < CONTACT_BEND && b < CONTACT_BEND) return undefined;
      const ra = at(i, j);
      const rb = at(i, j + 1);
      const value = (t: number) => this.radius(xs[i]!, turns[i]! + (j + t) * step, piece);
      const t = standing(a, b, (q) => value(q) - ra - (rb - ra) * q);
      return t === undefined ? undefined : [t, value(t)];
    };
    const alongX = (i: number, j: number): [number, number] | undefined => {
      const c = j === M ? 0 : j;
      let [a, b] = [after[i * M + c]!, before[(i + 1) * M + c]!];
      if (a < CONTACT_BEND && b < CONTACT_BEND) return undefined;
      // What lies beyond the strip is not known: the end that is known speaks for both.
      if (a === Infinity) a = b;
      else if (b === Infinity) b = a;
      if (a < CONTACT_BEND && b < CONTACT_BEND) return undefined;
      const ra = at(i, j);
      const rb = at(i + 1, j);
      const value = (t: number) => {
        const x = xs[i]! + (xs[i + 1]! - xs[i]!) * t;
        return this.radius(x, surface.turning(x) + j * step, piece);
      };
      const t = standing(a, b, (q) => value(q) - ra - (rb - ra) * q);
      return t === undefined ? undefined : [t, value(t)];
    };
    for (let b = 0; b < blocks; b++) {
      const j0 = b * TILE_COLS;
      let low = Infinity;
      let high = 0;
      const see = (v: number) => {
        if (v < low) low = v;
        if (v > high) high = v;
      };
      const knot = (x: number, theta: number, v: number, va: number, vb: number) => {
        kx.push(x - x0);
        ky.push(v * Math.sin(theta));
        kz.push(v * Math.cos(theta));
        ka.push(va);
        kb.push(vb);
        see(v);
      };
      // Of each cell: how many knots its edges carry, and their sums of place (0…1 along x, 0…1 across) and radius.
      const meets = new Float64Array(4 * rows * VERTS_ACROSS);
      const meet = (cell: number, down: number, along: number, v: number) => {
        meets[4 * cell]! += 1;
        meets[4 * cell + 1]! += down;
        meets[4 * cell + 2]! += along;
        meets[4 * cell + 3]! += v;
      };
      for (let i = 0; i < rows; i++)
        for (let q = 0; q <= TILE_COLS; q++) {
          const v = i * VERTS_ACROSS + q;
          const j = j0 + q;
          const k = i * M + (j === M ? 0 : j);
          const radius = r[k]!;
          const theta = turns[i]! + j * step;
          const p = b * count + v;
          strip.X[p] = xs[i]! - x0;
          strip.Y[p] = radius * Math.sin(theta);
          strip.Z[p] = radius * Math.cos(theta);
          const bend = Math.max(across[k]!, Number.isFinite(before[k]!) ? before[k]! : 0);
          const end =
            (i === 0 && piece.break0 && x0 === piece.x0) || (i === rows - 1 && piece.break1 && x1 === piece.x1);
          strip.sharp[p] = end || bend > CONTACT_SHARP ? 1 : 0;
          see(radius);
          if (q < TILE_COLS) {
            const found = onRow(i, j);
            if (found) {
              meet(v, 0, found[0], found[1]);
              if (i > 0) meet(v - VERTS_ACROSS, 1, found[0], found[1]);
              knot(xs[i]!, turns[i]! + (j + found[0]) * step, found[1], v, v + 1);
            }
          }
          if (i + 1 < rows) {
            const found = alongX(i, j);
            if (found) {
              meet(v, found[0], 0, found[1]);
              if (q > 0) meet(v - 1, found[0], 1, found[1]);
              const x = xs[i]! + (xs[i + 1]! - xs[i]!) * found[0];
              knot(x, surface.turning(x) + j * step, found[1], v, v + VERTS_ACROSS);
            }
          }
        }
      // Arrises that meet or turn inside a cell make a corner that is on none of its edges.
      for (let i = 0; i + 1 < rows; i++)
        for (let q = 0; q < TILE_COLS; q++) {
          const m = 4 * (i * VERTS_ACROSS + q);
          const n = meets[m]!;
          if (n < 2) continue;
          const down = meets[m + 1]! / n;
          const along = meets[m + 2]! / n;
          const j = j0 + q;
          const inside = (sx: number, t: number) => {
            const x = xs[i]! + (xs[i + 1]! - xs[i]!) * sx;
            return this.radius(x, surface.turning(x) + (j + t) * step, piece);
          };
          if (n === 2 && Math.abs(inside(down, along) - meets[m + 3]! / 2) < 2 * CONTACT_KNOT) continue;
          const [r00, r01, r10, r11] = [at(i, j), at(i, j + 1), at(i + 1, j), at(i + 1, j + 1)];
          const flat = (sx: number, t: number) => (r00 * (1 - t) + r01 * t) * (1 - sx) + (r10 * (1 - t) + r11 * t) * sx;
          // A land's corner stands out of the cell's plane, a pyramid's point is simply the highest.
          for (const above of [(u: number, w: number) => inside(u, w) - flat(u, w), inside]) {
            const [sx, t] = corner(above);
            const x = xs[i]! + (xs[i + 1]! - xs[i]!) * sx;
            knot(x, surface.turning(x) + (j + t) * step, inside(sx, t), -1, -1);
          }
        }
      strip.knotStart[b + 1] = kx.length;
      strip.low[b] = low;
      strip.high[b] = high;
      strip.angle0[b] = j0 * step + strip.turnMin;
      strip.angle1[b] = (j0 + TILE_COLS) * step + strip.turnMax;
      strip.rMin = Math.min(strip.rMin, low);
      strip.rMax = Math.max(strip.rMax, high);
    }
    strip.KX = Float32Array.from(kx);
    strip.KY = Float32Array.from(ky);
    strip.KZ = Float32Array.from(kz);
    strip.KA = Int16Array.from(ka);
    strip.KB = Int16Array.from(kb);
    return strip;
  }
}
