/** One pass in the making: links, cuts and their effect on the wood kept together, so that none is forgotten. */
import type { Tool } from '../job.ts';
import { LARGEST_TURN, liftClear, linkTo, type Spot } from '../link.ts';
import { CUT, LINK, MoveBuilder, type MoveKind, type Pass, type StageName } from '../path.ts';
import type { StageContext } from './context.ts';

/** Points nearer to a straight block than this are left out, mm (and radians): far below a control's last decimal. */
const STRAIGHT = 1e-7;

/** Begin with `approach`, cut with `cutTo`, `finish` lifts clear and hands the pass over. */
export class PassBuilder {
  /** Wood taken so far, mm³. */
  removed = 0;
  private readonly moves = new MoveBuilder();
  private readonly ctx: StageContext;
  private readonly tool: Tool;
  /** A block not yet written, because the next one may carry it on in the same straight line. */
  private open: { kind: MoveKind; feed: number; from: Spot; to: Spot } | undefined;

  constructor(ctx: StageContext, tool: Tool) {
    this.ctx = ctx;
    this.tool = tool;
  }

  /** Where the bit stands; undefined before the first move of a program. */
  get at(): Spot | undefined {
    return this.open?.to ?? this.moves.last() ?? this.ctx.at;
  }

  /** Whether anything was moved yet in this pass. */
  get started(): boolean {
    return this.open !== undefined || this.moves.count > 0;
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

  /** One block in wood, applied to the map. @returns wood taken, mm³, and the deepest bite, mm */
  cutTo(x: number, r: number, theta: number, feed_mm_min: number): { volume: number; depth: number } {
    const a = this.at;
    if (!a || !this.started) throw new Error('a cut needs an approach first');
    this.add(CUT, { x, r, theta }, feed_mm_min);
    const took = this.ctx.wood.take(this.tool.bit, a.x, a.r, a.theta, x, r, theta);
    this.removed += took.volume;
    return took;
  }

  /** Lifts clear and closes the pass. @returns undefined if nothing was moved */
  finish(stage: StageName, label: string): Pass | undefined {
    if (!this.started) return undefined;
    this.flush();
    this.ctx.at = liftClear(this.moves, this.ctx.job, this.ctx.wood, this.tool.bit);
    return { stage, label, moves: this.moves.moves() };
  }

  private add(kind: MoveKind, to: Spot, feed: number): void {
    const o = this.open;
    if (o && o.kind === kind && o.feed === feed && straight(o.from, o.to, to)) {
      this.open = { ...o, to };
      return;
    }
    this.flush();
    const from = this.at!;
    const turns = Math.max(1, Math.ceil(Math.abs(to.theta - from.theta) / LARGEST_TURN));
    for (let k = 1; k < turns; k++) {
      const s = k / turns;
      this.moves.add(
        kind,
        from.x + (to.x - from.x) * s,
        from.r + (to.r - from.r) * s,
        from.theta + (to.theta - from.theta) * s,
        feed,
      );
    }
    this.open = { kind, feed, from: this.moves.last() ?? from, to };
  }

  private flush(): void {
    const o = this.open;
    this.open = undefined;
    if (o && (o.from.x !== o.to.x || o.from.r !== o.to.r || o.from.theta !== o.to.theta))
      this.moves.add(o.kind, o.to.x, o.to.r, o.to.theta, o.feed);
  }
}

/** Whether b lies on the way from a to c, and the whole is one block that the rotary may do. */
function straight(a: Spot, b: Spot, c: Spot): boolean {
  if (Math.abs(c.theta - a.theta) > LARGEST_TURN) return false;
  const dx = c.x - a.x;
  const dr = c.r - a.r;
  const dt = c.theta - a.theta;
  const long = dx * dx + dr * dr + dt * dt;
  const s = long > 0 ? ((b.x - a.x) * dx + (b.r - a.r) * dr + (b.theta - a.theta) * dt) / long : 0;
  return (
    s >= 0 &&
    s <= 1 &&
    Math.abs(a.x + dx * s - b.x) < STRAIGHT &&
    Math.abs(a.r + dr * s - b.r) < STRAIGHT &&
    Math.abs(a.theta + dt * s - b.theta) < STRAIGHT
  );
}
