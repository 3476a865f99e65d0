/** One pass in the making: links, cuts and their effect on the wood kept together, so that none is forgotten. */
import type { Tool } from '../job.ts';
import { LARGEST_TURN, liftClear, linkTo, type Spot } from '../link.ts';
import { CUT, LINK, MoveBuilder, type MoveKind, type Pass, type StageName } from '../path.ts';
import type { StageContext } from './context.ts';

/** Points nearer to a straight block than this are left out, mm: far below a control's last decimal. */
const STRAIGHT = 1e-7;
const EXACT = 1e-9;
/** No block swallows more points than this. */
const MOST_POINTS = 80;
/** The map follows a cut at the latest after this share of the bit's diameter; until then it shows too much wood. */
const LAG = 0.15;

/** Begin with `approach`, cut with `cutTo`, `finish` lifts clear and hands the pass over. */
export class PassBuilder {
  private readonly moves = new MoveBuilder();
  private readonly ctx: StageContext;
  private readonly tool: Tool;
  private readonly straight: number;
  private readonly lag: number;
  /** A block not yet written, because the next one may carry it on in the same straight line. */
  private kind: MoveKind = CUT;
  private mapped = true;
  private feed = 0;
  private from: Spot | undefined;
  private points: Spot[] = [];
  /** Up to where the map has followed the cut. */
  private taken: Spot | undefined;

  /** @param straight how far a point may lie beside the block that swallows it, mm (r and x, at the same share of the way) */
  constructor(ctx: StageContext, tool: Tool, straight: number = STRAIGHT) {
    this.ctx = ctx;
    this.tool = tool;
    this.straight = straight;
    this.lag = tool.bit.diameter * LAG;
  }

  /** Where the bit stands; undefined before the first move of a program. */
  get at(): Spot | undefined {
    return this.points.at(-1) ?? this.moves.last() ?? this.ctx.at;
  }

  /** Whether anything was moved yet in this pass. */
  get started(): boolean {
    return this.points.length > 0 || this.moves.count > 0;
  }

  /** Through air to where the next cut starts: lift, travel, drop; θ is taken as given, not brought to a nearer turn. */
  approach(x: number, r: number, theta: number): void {
    this.flush();
    const { ctx, tool } = this;
    linkTo(this.moves, ctx.job, ctx.wood, tool.bit, this.at, { x, r, theta }, tool.limits.plungeFeed);
  }

  /** Through air at feed, axes together: the caller knows that the way is clear. */
  linkTo(x: number, r: number, theta: number, feed_mm_min: number): void {
    this.add(LINK, { x, r, theta }, feed_mm_min);
  }

  /** One block in wood; the map follows within a fraction of the bit's diameter. */
  cutTo(x: number, r: number, theta: number, feed_mm_min: number): void {
    if (!this.started) throw new Error('a cut needs an approach first');
    this.add(CUT, { x, r, theta }, feed_mm_min);
    const t = this.taken!;
    if (Math.abs(x - t.x) + Math.abs(r - t.r) + Math.max(1, r) * Math.abs(theta - t.theta) >= this.lag) this.take();
  }

  /** One block in wood that leaves the map as it is: the caller brings it up to date by other means. */
  trace(x: number, r: number, theta: number, feed_mm_min: number): void {
    if (!this.started) throw new Error('a cut needs an approach first');
    this.add(CUT, { x, r, theta }, feed_mm_min, false);
  }

  /** Lifts clear and closes the pass. @returns undefined if nothing was moved */
  finish(stage: StageName, label: string): Pass | undefined {
    if (!this.started) return undefined;
    this.flush();
    this.ctx.at = liftClear(this.moves, this.ctx.job, this.ctx.wood, this.tool.bit);
    return { stage, label, moves: this.moves.moves() };
  }

  private add(kind: MoveKind, to: Spot, feed: number, mapped = kind === CUT): void {
    const other = kind !== this.kind || feed !== this.feed || mapped !== this.mapped;
    if (this.points.length > 0 && (other || !this.carriesOn(to))) this.flush();
    if (this.points.length === 0) {
      this.kind = kind;
      this.mapped = mapped;
      this.feed = feed;
      this.from = this.at!;
      this.taken = this.from;
    }
    const n = this.points.length;
    // A point that lies exactly on the way is not kept, so that long straight strokes stay one block.
    if (n > 1 && beside(this.from!, to, this.points[n - 1]!) < EXACT) this.points[n - 1] = to;
    else this.points.push(to);
  }

  /** Whether one block from where the open one began to a new point passes all points between near enough. */
  private carriesOn(to: Spot): boolean {
    const a = this.from!;
    if (this.points.length >= MOST_POINTS || Math.abs(to.theta - a.theta) > LARGEST_TURN) return false;
    for (const p of this.points) if (beside(a, to, p) > this.straight) return false;
    return true;
  }

  private take(): void {
    const b = this.at;
    const a = this.taken;
    if (!a || !b || !this.mapped || this.points.length === 0) return;
    this.ctx.wood.take(this.tool.bit, a.x, a.r, a.theta, b.x, b.r, b.theta);
    this.taken = b;
  }

  private flush(): void {
    const to = this.points.at(-1);
    if (!to) return;
    this.take();
    const from = this.from!;
    this.points = [];
    this.taken = undefined;
    if (from.x === to.x && from.r === to.r && from.theta === to.theta) return;
    const turns = Math.max(1, Math.ceil(Math.abs(to.theta - from.theta) / LARGEST_TURN));
    for (let k = 1; k <= turns; k++) {
      const s = k / turns;
      const place =
        k === turns ? to : { x: mix(from.x, to.x, s), r: mix(from.r, to.r, s), theta: mix(from.theta, to.theta, s) };
      this.moves.add(this.kind, place.x, place.r, place.theta, this.feed);
    }
  }
}

/** How far a point lies beside the block from a to b, mm: the largest of x, r and arc at the same share of the way. */
function beside(a: Spot, b: Spot, p: Spot): number {
  const scale = Math.max(1, a.r);
  const dx = b.x - a.x;
  const dr = b.r - a.r;
  const dt = scale * (b.theta - a.theta);
  const long = dx * dx + dr * dr + dt * dt;
  if (long === 0) return Infinity;
  const pt = scale * (p.theta - a.theta);
  const s = ((p.x - a.x) * dx + (p.r - a.r) * dr + pt * dt) / long;
  if (s < 0 || s > 1) return Infinity;
  return Math.max(Math.abs(a.x + dx * s - p.x), Math.abs(a.r + dr * s - p.r), Math.abs(dt * s - pt));
}

const mix = (a: number, b: number, s: number): number => a + (b - a) * s;
