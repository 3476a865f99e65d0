/** What the stages of one plan share: the job, what must stay, what is still there, and where the bit stands. */
import type { Bit } from '../../../shared/catalog.ts';
import type { Problem } from '../../../shared/problems.ts';
import type { Surface } from '../../profiles/field.ts';
import type { Contact } from '../contact.ts';
import { contactFor } from '../contact.ts';
import type { Job, Tool } from '../job.ts';
import type { Spot } from '../link.ts';
import { liftClear, linkTo } from '../link.ts';
import { MoveBuilder, type Pass, type StageName } from '../path.ts';
import { Wood } from '../wood.ts';
import { workSurface } from '../work.ts';

export interface StageContext {
  readonly job: Job;
  /** Form, stubs and untouched ends: nothing of it may be cut. */
  readonly work: Surface;
  /** What is there now; every stage applies its cuts, so that the next one knows. */
  readonly wood: Wood;
  /** Findings in the making; stages add to it. */
  readonly problems: Problem[];
  /** Where the last pass left the bit, lifted clear; undefined at the start of a program. */
  at: Spot | undefined;
  /** Contact kernel of a bit over `work`, one per bit. */
  contact(bit: Bit): Contact;
  /** Called now and then with a share 0…1 of the stage; may throw to stop. */
  progress(share: number, what: string): void;
}

/** One stage of the plan: makes its passes and applies them to `ctx.wood` and `ctx.at`. */
export type Stage = (ctx: StageContext, tool: Tool) => Pass[];

/** A fresh context: the whole blank stands. @param progress called with a share 0…1; may throw to stop */
export function stageContext(
  job: Job,
  progress: (share: number, what: string) => void = () => undefined,
): StageContext {
  const work = workSurface(job);
  const contacts = new Map<Bit, Contact>();
  return {
    job,
    work,
    wood: new Wood(job.blank),
    problems: [],
    at: undefined,
    contact: (bit) => {
      let c = contacts.get(bit);
      if (!c) {
        c = contactFor(work, bit);
        contacts.set(bit, c);
      }
      return c;
    },
    progress,
  };
}

/**
 * One pass in the making: links, cuts and their effect on the wood kept together, so that none is forgotten.
 * Begin with `approach`, cut with `cutTo`, `finish` lifts clear and hands the pass over.
 */
export class PassBuilder {
  readonly moves = new MoveBuilder();
  private readonly ctx: StageContext;
  private readonly tool: Tool;
  /** Wood taken so far, mm³. */
  removed = 0;

  constructor(ctx: StageContext, tool: Tool) {
    this.ctx = ctx;
    this.tool = tool;
  }

  /** Where the bit stands; undefined before the first move of a program. */
  get at(): Spot | undefined {
    return this.moves.last() ?? this.ctx.at;
  }

  /** Through air to where the next cut starts: lift, travel, drop; θ is taken as given, not brought to a nearer turn. */
  approach(x: number, r: number, theta: number): void {
    const { ctx, tool } = this;
    linkTo(this.moves, ctx.job, ctx.wood, tool.bit, this.at, { x, r, theta }, tool.limits.plungeFeed);
  }

  /** Through air at feed, axes together: the caller knows that the way is clear. */
  linkTo(x: number, r: number, theta: number, feed_mm_min: number): void {
    this.moves.link(x, r, theta, feed_mm_min);
  }

  /** One block in wood, applied to the map. @returns wood taken, mm³, and the deepest bite, mm */
  cutTo(x: number, r: number, theta: number, feed_mm_min: number): { volume: number; depth: number } {
    const a = this.moves.last();
    if (!a) throw new Error('a cut needs an approach first');
    this.moves.cut(x, r, theta, feed_mm_min);
    const took = this.ctx.wood.take(this.tool.bit, a.x, a.r, a.theta, x, r, theta);
    this.removed += took.volume;
    return took;
  }

  /** Lifts clear and closes the pass. @returns undefined if nothing was moved */
  finish(stage: StageName, label: string): Pass | undefined {
    if (this.moves.count === 0) return undefined;
    this.ctx.at = liftClear(this.moves, this.ctx.job, this.ctx.wood, this.tool.bit);
    return { stage, label, moves: this.moves.moves() };
  }
}
