/**
 * Leads a bit along places of one layer and decides at each how deep it may go: never below the target, never deeper into
 * the wood than the step-down, downward into wood only by the ramp or by what the bit may plunge, shank and holder clear.
 * Stretches without wood are passed at the speed of the axes.
 */
import { perMinute, perSecond, radians, TURN } from '../../../shared/units.ts';
import { outerRadius } from '../blank.ts';
import { easeOver } from '../ease.ts';
import type { Tool } from '../job.ts';
import type { StageContext } from './context.ts';
import type { PassBuilder } from './pass-builder.ts';
import type { Target } from './target.ts';

/** Share of step-down and ramp that is used: the map knows the wood to its grid only. */
const SHARE = 0.97;
/** …and of what may be plunged, since a plunge meets the wood between the points of the map first. */
const PLUNGE_SHARE = 0.75;
/** Air that is passed at feed all the same, mm: shorter than the axes need to speed up and slow down. */
const SHORT_AIR = 4;
/** The bit counts as in air where one this much wider touches nothing, mm: more than a cell of the map. */
const AIR_WIDER = 0.7;
/** A link down stops this far above the wood that the map shows, mm: crests between its points may stand higher. */
const ABOVE = 0.1;
/** Steps shorter than this may fall between two rows of the map, mm. */
const SLIVER = 0.6;
/** Shank and holder keep this far from standing wood, mm. */
const BESIDE = 0.5;

/** Blocks of roughing may pass their points this far aside, mm: a small part of any allowance. */
export const STRAIGHT = 0.02;

/** One layer of one bit: how low it goes and what is not worth a cut. */
export interface Layer {
  readonly ctx: StageContext;
  readonly tool: Tool;
  readonly target: Target;
  /** No tip goes below this radius, mm. */
  readonly level: number;
  /** Wood no higher than this above the layer is left to the next one, mm. */
  readonly skip: number;
}

/** For each mm of depth, the rim keeps this much further off the walls: it stays off what the layers above have cut. */
const DRAFT = 0.025;

/** How far the ends of a layer's strokes draw back from upright walls. @returns mm */
export const insetOf = (layer: Layer): number => DRAFT * Math.max(0, outerRadius(layer.ctx.job.blank) - layer.level);

/** So far beyond an end a wall is looked for, mm. */
export const BEYOND = 1.6;
/** Share of the rise over BEYOND that an upright wall has at once; a slope of 45° has half. */
const UPRIGHT = 0.7;

/** A rounded end that climbs this much for each mm meets a wall, or a slope so steep that it may be taken for one. */
const CLIMBS = 1.3;

/** Whether the target rises as a wall just beyond x, and not as a slope. @param dir −1 toward the chuck, 1 toward the tail */
export function upright(layer: Layer, x: number, theta: number, dir: number): boolean {
  const here = wanted(layer, x, theta);
  const { kind, diameter } = layer.tool.bit;
  if (kind !== 'flat') {
    // A rounded end climbs a wall along its own curve.
    const reach = diameter / 2 + layer.target.dx;
    return wanted(layer, x + dir * reach, theta) - here > CLIMBS * reach;
  }
  const first = wanted(layer, x + dir * 2 * layer.target.dx, theta) - here;
  const whole = wanted(layer, x + dir * BEYOND, theta) - here;
  return whole > 2 * layer.skip && first > UPRIGHT * whole;
}

/**
 * A run of a layer with its ends drawn back from walls; a run between two walls never turns inside out.
 * @param thetas angles at which a wall is looked for @returns [from, to]
 */
export function drawnIn(layer: Layer, x0: number, x1: number, thetas: readonly number[]): [number, number] {
  const inset = insetOf(layer);
  const a = thetas.some((t) => upright(layer, x0, t, -1)) ? x0 + inset : x0;
  const b = thetas.some((t) => upright(layer, x1, t, 1)) ? x1 - inset : x1;
  if (a <= b) return [a, b];
  const middle = Math.min(x1, Math.max(x0, (a + b) / 2));
  return [middle, middle];
}

/** How low the tip shall go at (x, θ) in this layer. @returns mm */
export const wanted = (layer: Layer, x: number, theta: number): number =>
  Math.max(layer.level, layer.target.at(x, theta));

/** Speed over the work at which every axis runs as fast as the bench lets it, mm/min. */
export function airSpeed(layer: Layer): number {
  const { bench, blank } = layer.ctx.job;
  const round = bench.rotary.maxSpeed * TURN * Math.max(blank.width, blank.height);
  return Math.max(bench.axialMax, bench.radialMax, round);
}

export class Walker {
  private readonly layer: Layer;
  private readonly pass: PassBuilder;
  private readonly slope: number;
  private readonly drop: number;
  /** Places in air, not yet known to be many enough to hurry. */
  private waiting: { x: number; r: number; theta: number }[] = [];
  private waitingLength = 0;
  /** Wood under the bit at the last place, mm. */
  private met = 0;
  /** Multiplies the feed, for slots. */
  ease = 1;
  /** Down into wood by the ramp alone, whatever the bit may plunge: for the first cut of a run. */
  ramping = false;

  constructor(layer: Layer, pass: PassBuilder) {
    this.layer = layer;
    this.pass = pass;
    this.slope = Math.tan(radians(layer.tool.limits.rampAngle_deg)) * SHARE;
    const { bit, limits } = layer.tool;
    if (!bit.centreCutting) this.drop = 0;
    else this.drop = limits.plunge < limits.stepDown ? limits.plunge * PLUNGE_SHARE : limits.stepDown;
  }

  /** Through air to a place of the layer, as low as the wood lets it come down. @returns the radius reached, mm */
  enter(x: number, theta: number): number {
    this.flush();
    const { layer } = this;
    const r = Math.max(wanted(layer, x, theta), this.floor(x, theta));
    this.pass.approach(x, r, theta);
    return r;
  }

  private floor(x: number, theta: number): number {
    const { ctx, tool } = this.layer;
    const r = ctx.wood.lowest(tool.bit, x, theta, 0) + ABOVE;
    return Math.max(r, ctx.wood.shankClearance(tool.bit, x, theta, r - BESIDE) + BESIDE);
  }

  /** On to the next place. @returns how far above the wanted radius the tip had to stay, mm ≥ 0 */
  to(x: number, theta: number): number {
    const { layer, pass } = this;
    const { ctx, tool } = layer;
    const { limits, bit } = tool;
    const from = this.waiting.at(-1) ?? pass.at!;
    const want = wanted(layer, x, theta);
    const met = ctx.wood.lowest(bit, x, theta);
    const run = Math.hypot(x - from.x, Math.max(1, (from.r + want) / 2) * (theta - from.theta));
    // On short steps the new sliver before the bit may fall between the map's points: what was met last still counts.
    const wood = run < SLIVER ? Math.max(met, this.met) : met;
    this.met = met;
    let r = want;
    if (wood > want) {
      r = Math.max(
        r,
        Math.min(from.r - this.slope * run, wood - (this.ramping ? 0 : this.drop)),
        wood - limits.stepDown * SHARE,
      );
    }
    r = Math.max(r, ctx.wood.shankClearance(bit, x, theta, r - BESIDE) + BESIDE);
    const air =
      wood <= r &&
      ctx.wood.lowest(bit, x, theta, AIR_WIDER) <= Math.min(r, from.r) &&
      (this.waiting.length > 0 || this.inAir(from, r));
    if (air) {
      this.waiting.push({ x, r, theta });
      this.waitingLength += run;
    } else {
      this.flush();
      this.cut(x, r, theta);
    }
    return r - want;
  }

  /** Writes what waits; call it before the pass does anything else. */
  flush(): void {
    const { waiting, pass } = this;
    if (waiting.length === 0) return;
    const quick = this.waitingLength > SHORT_AIR;
    this.waiting = [];
    this.waitingLength = 0;
    for (const w of waiting)
      if (quick) pass.linkTo(w.x, w.r, w.theta, airSpeed(this.layer));
      else this.cut(w.x, w.r, w.theta);
  }

  private inAir(from: { x: number; r: number; theta: number }, r: number): boolean {
    const { ctx, tool } = this.layer;
    return ctx.wood.lowest(tool.bit, from.x, from.theta, AIR_WIDER) <= Math.min(r, from.r);
  }

  private cut(x: number, r: number, theta: number): void {
    const { pass } = this;
    const { limits } = this.layer.tool;
    const from = pass.at!;
    let feed = limits.feed * this.ease * easeOver(this.layer.ctx.job.ease, 'roughing', from.x, x);
    const down = from.r - r;
    if (down > 1e-6) {
      const length = Math.hypot(x - from.x, down, Math.max(1, from.r) * (theta - from.theta));
      const fall = (perSecond(feed) * down) / length;
      if (fall > perSecond(limits.plungeFeed)) feed = perMinute((perSecond(limits.plungeFeed) * length) / down);
    }
    pass.cutTo(x, r, theta, feed);
  }
}
