/**
 * The programs of a job played to the eye: read and followed as the proof does, wood taken by the same rules, on rays
 * coarse enough to be quick. Judges nothing. Going back in time starts from the nearest kept picture of the wood.
 */
import { type Grid, layGrid, rowFrom } from './grid.ts';
import { follow, type Motions } from './motion.ts';
import { momentAt, type Reel } from './reel.ts';
import { Cutter } from './remove.ts';
import { shapeOf } from './shape.ts';
import type { ProofJob } from './verdict.ts';
import { type Place, Walker } from './walk.ts';
import { SEVERAL, Wood } from './wood.ts';

/** Rays at the most, and their distance at the least, mm. */
const MOST_RAYS = 400 * 180;
const FINEST_CELL = 0.25;
/** How much wider the bit's steps are than the proof's. */
const COARSE = 2;
/** Pictures of the wood that are kept over the whole job. */
const PICTURES = 72;
const NO_STAGE = 'unnamed';

/** What is asked: a proof's question, of which tolerances and limits are not looked at. */
export type ReplayJob = ProofJob;

/** @param job whose programs are read @returns their motions as one row */
export function reelOf(job: ReplayJob): Reel {
  const followed = job.programs.map((p) => follow(p.text, job.control, job.bench, job.offsets, () => undefined));
  const count = followed.reduce((n, m) => n + m.count, 0);
  const start = new Float64Array(count + 1);
  const columns = {
    x: new Float64Array(count),
    r: new Float64Array(count),
    theta: new Float64Array(count),
    rapid: new Uint8Array(count),
    rpm: new Float64Array(count),
    bit: new Uint8Array(count),
    stretch: new Uint16Array(count),
    line: new Int32Array(count),
  };
  const stretches: { file: string; stage: string; from_s: number; to_s: number }[] = [];
  const files: { file: string; from: number }[] = [];
  let k = 0;
  let bits = 0;
  followed.forEach((m: Motions, n) => {
    const { file, changes } = job.programs[n]!;
    const first = k;
    files.push({ file, from: first });
    let marker = 0;
    let stage = NO_STAGE;
    for (let i = 0; i < m.count; i++, k++) {
      while (marker < m.markers.length && m.markers[marker]!.from <= i) stage = m.markers[marker++]!.stage;
      const last = stretches.at(-1);
      if (!last || last.file !== file || last.stage !== stage)
        stretches.push({ file, stage, from_s: start[k]!, to_s: start[k]! });
      start[k + 1] = start[k]! + (Number.isFinite(m.time[i]!) ? m.time[i]! : 0);
      stretches.at(-1)!.to_s = start[k + 1]!;
      columns.x[k] = m.x[i]!;
      columns.r[k] = m.r[i]!;
      columns.theta[k] = m.theta[i]!;
      columns.rapid[k] = m.rapid[i]!;
      columns.rpm[k] = m.spindle[i] ? m.rpm[i]! : 0;
      columns.bit[k] = bits + Math.min(m.tool[i]!, changes?.length ?? 0);
      columns.stretch[k] = stretches.length - 1;
      columns.line[k] = m.line[i]!;
    }
    bits += 1 + (changes?.length ?? 0);
  });
  return { count, start, ...columns, stretches, files };
}

/** The wood as it was at one time. */
interface Picture {
  readonly motion: number;
  readonly outer: Float32Array;
  readonly flags: Uint8Array;
  readonly pieces: readonly (readonly [number, readonly number[]])[];
}

/** Rows that may have changed, [from, to). */
export interface Rows {
  readonly from: number;
  readonly to: number;
}

export class Replay {
  readonly reel: Reel;
  readonly grid: Grid;
  readonly wood: Wood;
  private readonly walkers: readonly Walker[];
  private readonly reach: readonly number[];
  private readonly pictures: Picture[] = [];
  private readonly every: number;
  /** The motion under way, and how much of it is done. */
  private motion = 0;
  private share = 0;
  private changed = { from: 0, to: 0 };

  /** Reads the programs and sets up the blank. @param job see there */
  constructor(job: ReplayJob) {
    this.reel = reelOf(job);
    this.grid = layGrid(job, { cell: FINEST_CELL, most: MOST_RAYS, tolerance: 0 });
    // Nothing is held against the part here: without it the bit takes even steps.
    this.grid.part.fill(0);
    this.wood = new Wood(this.grid);
    const shapes = job.programs.flatMap((p) => [p.bit, ...(p.changes ?? []).map((c) => c.bit)]).map(shapeOf);
    this.walkers = shapes.map((s) => new Walker(new Cutter(this.wood, s, Infinity, () => undefined), s, COARSE));
    this.reach = shapes.map((s) => s.R);
    this.every = Math.max(1, Math.ceil(this.reel.count / PICTURES));
    this.keep();
  }

  /**
   * Brings the wood to time t, forward or back.
   * @param t s, held within the job @returns rows of `wood.outer` that may differ from before
   */
  to(t: number): Rows {
    const { reel } = this;
    this.changed = { from: this.grid.xs.length, to: 0 };
    if (reel.count === 0) return { from: 0, to: 0 };
    const { motion } = momentAt(reel, t);
    const span = reel.start[motion + 1]! - reel.start[motion]!;
    const share = span > 0 ? Math.min(1, Math.max(0, (t - reel.start[motion]!) / span)) : 1;
    const nearest = this.pictures.findLast((p) => p.motion <= motion)!;
    if (motion < this.motion || (motion === this.motion && share < this.share) || nearest.motion > this.motion)
      this.restore(nearest);
    while (this.motion < motion) {
      this.cut(1);
      this.motion++;
      this.share = 0;
      if (this.motion % this.every === 0) this.keep();
    }
    this.cut(share);
    this.share = share;
    const { from, to } = this.changed;
    return from < to ? { from, to } : { from: 0, to: 0 };
  }

  /** Carries the motion under way on to the given share of it. */
  private cut(share: number): void {
    const { reel, motion: k } = this;
    if (share <= this.share || reel.rapid[k] === 1 || k === 0 || reel.files.some((f) => f.from === k)) return;
    const at = (f: number): Place => ({
      x: reel.x[k - 1]! + (reel.x[k]! - reel.x[k - 1]!) * f,
      r: reel.r[k - 1]! + (reel.r[k]! - reel.r[k - 1]!) * f,
      theta: reel.theta[k - 1]! + (reel.theta[k]! - reel.theta[k - 1]!) * f,
    });
    const from = at(this.share);
    const to = at(share);
    if (!Number.isFinite(from.x + from.r + from.theta + to.x + to.r + to.theta)) return;
    const bit = reel.bit[k]!;
    const low = Math.min(from.x, to.x) - this.reach[bit]!;
    const high = Math.max(from.x, to.x) + this.reach[bit]!;
    let removed = 0;
    this.walkers[bit]!.along(from, to, (_place, bite) => {
      removed += bite.volume;
    });
    if (removed === 0) return;
    this.wood.tightenAlong(low, high);
    this.changed.from = Math.min(this.changed.from, Math.max(0, rowFrom(this.grid, low) - 1));
    this.changed.to = Math.max(this.changed.to, Math.min(this.grid.xs.length, rowFrom(this.grid, high) + 1));
  }

  private keep(): void {
    if (this.pictures.some((p) => p.motion === this.motion)) return;
    const { outer, flags, pieces } = this.wood;
    this.pictures.push({ motion: this.motion, outer: outer.slice(), flags: flags.slice(), pieces: [...pieces] });
    this.pictures.sort((a, b) => a.motion - b.motion);
  }

  private restore(picture: Picture): void {
    const { wood, grid } = this;
    wood.outer.set(picture.outer);
    wood.flags.set(picture.flags);
    wood.pieces.clear();
    for (const [ray, list] of picture.pieces) if (wood.flags[ray]! & SEVERAL) wood.pieces.set(ray, [...list]);
    for (let i = 0; i < grid.xs.length; i++) wood.refreshRow(i);
    this.motion = picture.motion;
    this.share = 0;
    this.changed = { from: 0, to: grid.xs.length };
  }
}
