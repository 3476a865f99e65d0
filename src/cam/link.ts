/**
 * Links between cuts: lift, then travel, then drop. A small control may run the axes of a rapid in any order, so the whole
 * box between two places must be clear at the height of travel, and lift and drop move the spindle alone.
 */
import type { Bit } from '../../shared/catalog.ts';
import { CLEARANCE, SAME_X } from '../../shared/tolerances.ts';
import type { Job } from './job.ts';
import type { MoveBuilder } from './path.ts';
import type { Wood } from './wood.ts';

/** Where the tip stands. */
export interface Spot {
  readonly x: number;
  readonly r: number;
  readonly theta: number;
}

/** The rotary turns less than this in one block, so that no control can take the short way round. */
export const LARGEST_TURN = (Math.PI / 2) * 0.98;
/** A rapid drop stops this far above the wood; the rest goes at feed, mm. */
const ABOVE_WOOD = 0.6;

/** Tip radius at which bit, shank and holder clear wood and keep-outs over the whole box, CLEARANCE included. @returns mm */
export function clearHeight(job: Job, wood: Wood, bit: Bit, a: Spot, b: Spot): number {
  return Math.max(
    wood.clearance(bit, a.x, b.x, a.theta, b.theta) + CLEARANCE,
    keepOutHeight(job, bit, Math.min(a.x, b.x), Math.max(a.x, b.x)) + CLEARANCE,
  );
}

/** Tip radius below which bit, shank or holder would touch a keep-out with x anywhere in [x0, x1]. @returns mm ≥ 0 */
export function keepOutHeight(job: Pick<Job, 'keepOut'>, bit: Bit, x0: number, x1: number): number {
  let tip = 0;
  for (const k of job.keepOut)
    for (const [q, height] of [
      [bit.diameter / 2, 0],
      [bit.shank / 2, Math.min(bit.reach, bit.stickOut)],
      [bit.holder / 2, bit.stickOut],
    ] as const)
      if (x1 + q > k.from && x0 - q < k.to) tip = Math.max(tip, k.radius - height);
  return tip;
}

/** The same angle, turned by whole turns to lie nearest to another. @returns radians */
export const nearestTurn = (theta: number, to: number): number =>
  theta + Math.round((to - theta) / (2 * Math.PI)) * 2 * Math.PI;

/** The same angle, turned by whole turns to be the first not below another (a hair of rounding allowed). @returns radians */
export const nextTurn = (theta: number, from: number): number =>
  theta + Math.ceil((from - theta) / (2 * Math.PI) - 1e-9) * 2 * Math.PI;

/**
 * Moves the bit through air from where it stands to a place where it will cut: lift, travel, drop, then down at feed for the
 * last bit above the wood.
 * @param from where the bit stands; undefined at the start of a program, which begins with a lift to the safe radius
 * @param to where the next cut starts; its θ already unwrapped as wanted
 * @param feed speed of the last bit down, mm/min
 */
export function linkTo(
  moves: MoveBuilder,
  job: Job,
  wood: Wood,
  bit: Bit,
  from: Spot | undefined,
  to: Spot,
  feed: number,
): void {
  let at: number;
  if (from) {
    at = Math.max(clearHeight(job, wood, bit, from, to), to.r, from.r);
    if (at > from.r) moves.rapid(from.x, at, from.theta);
    travel(moves, { ...from, r: at }, to);
  } else {
    at = Math.max(job.safeRadius, clearHeight(job, wood, bit, to, to));
    moves.rapid(to.x, at, to.theta);
  }
  const above = Math.max(to.r, wood.clearance(bit, to.x, to.x, to.theta, to.theta) + ABOVE_WOOD);
  if (above < at - SAME_X) {
    moves.rapid(to.x, above, to.theta);
    at = above;
  }
  if (to.r < at - SAME_X) moves.link(to.x, to.r, to.theta, feed);
}

/** Rapids at one height, the rotary's way cut into blocks short enough. */
function travel(moves: MoveBuilder, from: Spot, to: Spot): void {
  const n = Math.max(1, Math.ceil(Math.abs(to.theta - from.theta) / LARGEST_TURN));
  if (to.x === from.x && to.theta === from.theta) return;
  for (let k = 1; k <= n; k++)
    moves.rapid(from.x + ((to.x - from.x) * k) / n, from.r, from.theta + ((to.theta - from.theta) * k) / n);
}

/** Lifts the bit clear of the wood where it stands. @returns where it then stands */
export function liftClear(moves: MoveBuilder, job: Job, wood: Wood, bit: Bit): Spot {
  const at = moves.last();
  if (!at) throw new Error('nothing to lift: no move yet');
  const height = clearHeight(job, wood, bit, at, at);
  if (height > at.r) moves.rapid(at.x, height, at.theta);
  return moves.last()!;
}
