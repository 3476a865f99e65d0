/**
 * One layer by turning: the rotary never reverses while x creeps from the tail toward the chuck, the pitch measured along
 * the profile so that slopes are taken in steps as fine as cylinders. Full rings at both ends and wherever the bit had to
 * wait for its ramp.
 */
import { radians, TURN } from '../../../shared/units.ts';
import { nextTurn } from '../link.ts';
import type { Pass, StageName } from '../path.ts';
import { stands } from './layer-along.ts';
import { PassBuilder } from './pass-builder.ts';
import { BEYOND, drawnIn, type Layer, STRAIGHT, upright, Walker, wanted } from './walker.ts';

/** Distance of places along the turn, mm: where the work is round, and where its radius changes as it turns. */
const ARC_ROUND = 2;
const ARC_CARVED = 0.8;
/** The largest turn between two places, radians. */
const LARGEST_STEP = TURN / 24;
/** Stretches without wood shorter than this are turned over in air, mm; longer ones are passed by a link. */
const WORTH_A_LIFT = 4;
/** A first ring is a slot: the bit cuts over half its round. */
const SLOT_EASE = 0.6;
/** A first bite below this share of the step-down on a slope needs no ring of its own. */
const LIGHT = 0.15;
/** Turns that the bit may wait at one place for its ramp before it goes on; what is left comes off in the next round. */
const PATIENCE = 4;

/** Angles at which walls beside a run are looked for: corners of any section come near one of them. */
const ANGLES = Array.from({ length: 48 }, (_, k) => (k * TURN) / 48);

interface Run {
  readonly x0: number;
  readonly x1: number;
}

/** Stretches of x at which the layer has wood at any angle, from the tail to the chuck. */
export function runsOf(layer: Layer, x0: number, x1: number): Run[] {
  const { target, ctx } = layer;
  const out: { x0: number; x1: number }[] = [];
  const i0 = Math.max(0, Math.ceil((x0 - target.from) / target.dx - 1e-9));
  const i1 = Math.min(target.count - 1, Math.floor((x1 - target.from) / target.dx + 1e-9));
  for (let i = i0; i <= i1; i++) {
    const x = target.x(i);
    if (target.lowest(i) + layer.skip >= ctx.wood.highestOver(x, x)) continue;
    let any = false;
    for (let j = 0; j < ctx.wood.columns && !any; j++) any = stands(layer, x, j);
    if (!any) continue;
    const last = out.at(-1);
    if (last && x - last.x1 <= WORTH_A_LIFT) last.x1 = x;
    else out.push({ x0: x, x1: x });
  }
  return out.reverse();
}

/** Turns needed from the run's tail end down to each row of the target; ascending with falling x. */
function turnsAlong(layer: Layer, x1: number, x0: number, crest: number): { xs: number[]; turns: number[] } {
  const { target, tool } = layer;
  const { stepOver, rampAngle_deg } = tool.limits;
  const ramp = Math.tan(radians(rampAngle_deg)) * 0.9;
  const highest = (x: number) => {
    const k = Math.min(target.count - 1, Math.max(0, (x - target.from) / target.dx));
    const i = Math.min(target.count - 2, Math.floor(k));
    const a = Math.max(layer.level, target.highest(i));
    return a + (Math.max(layer.level, target.highest(i + 1)) - a) * (k - i);
  };
  const xs = [x1];
  for (let i = Math.ceil((x1 - target.from) / target.dx - 1e-9) - 1; target.x(i) > x0 + 1e-9; i--) xs.push(target.x(i));
  if (x0 < x1) xs.push(x0);
  const turns = [0];
  for (let k = 1; k < xs.length; k++) {
    const dx = xs[k - 1]! - xs[k]!;
    const r0 = highest(xs[k - 1]!);
    const r1 = highest(xs[k]!);
    const along = Math.hypot(dx, r1 - r0);
    // The rim's corner leaves steps as high as a turn rises; where the layer itself is level there are none.
    const pitch = Math.min(stepOver, (crest * along) / Math.max(1e-6, Math.abs(r1 - r0)));
    const falls = Math.max(0, r0 - r1) / (TURN * Math.max(1, r1) * ramp);
    turns.push(turns[k - 1]! + Math.max(along / pitch, falls));
  }
  return { xs, turns };
}

/** Cuts the layer over [x0, x1]; one pass a run. @param crest largest step left on slopes, mm */
export function layerAround(
  layer: Layer,
  x0: number,
  x1: number,
  crest: number,
  stage: StageName,
  label: (run: Run) => string,
): Pass[] {
  const out: Pass[] = [];
  for (let round = 0; round < 3; round++) {
    const runs = runsOf(layer, x0, x1);
    if (runs.length === 0) break;
    for (const run of runs) {
      const made = turnRun(layer, run, crest, stage, label(run));
      if (made) out.push(made);
    }
  }
  return out;
}

function turnRun(layer: Layer, run: Run, crest: number, stage: StageName, label: string): Pass | undefined {
  const { ctx, tool, target } = layer;
  const [x0, x1] = drawnIn(layer, run.x0, run.x1, ANGLES);
  const { xs, turns } = turnsAlong(layer, x1, x0, crest);
  const total = turns.at(-1)!;
  const pass = new PassBuilder(ctx, tool, STRAIGHT);
  const walker = new Walker(layer, pass);
  const start = xs[0]!;
  const light = ANGLES.some((t) => upright(layer, run.x1, t, 1)) ? layer.skip : LIGHT * tool.limits.stepDown;
  const first = firstAngle(layer, start, ctx.at?.theta ?? 0, light);
  let theta = first.theta;
  walker.enter(start, theta);
  let k = 0;
  let n = 0;
  let clean = first.open ? TURN : 0;
  let hold = !first.open;
  let held = 0;
  walker.ease = hold ? SLOT_EASE : 1;
  walker.ramping = hold;
  // Where the run ends on a slope, the bit has risen out of the wood by itself; at a wall it turns once more.
  let end = total < 1 || closed(layer, run.x0) ? 0 : TURN;
  while (n < total || end < TURN) {
    const x = placeAt(xs, turns, n, k);
    while (k < xs.length - 2 && turns[k + 1]! <= n) k++;
    const row = Math.round((x - target.from) / target.dx);
    const round = target.isRound(Math.min(target.count - 1, Math.max(0, row)));
    const r = Math.max(1, wanted(layer, x, theta));
    const step = Math.min((round ? ARC_ROUND : ARC_CARVED) / r, LARGEST_STEP);
    theta += step;
    if (!hold) n = Math.min(total, n + step / TURN);
    const short = walker.to(placeAt(xs, turns, n, k), theta);
    if (n >= total) end += step;
    if (short > layer.skip) {
      if (!hold) held = 0;
      hold = held < PATIENCE * TURN;
      clean = 0;
      if (held < PATIENCE * TURN && end < TURN) end = 0;
    } else clean += step;
    held += step;
    if (hold && (clean >= TURN || held >= PATIENCE * TURN)) {
      hold = false;
      walker.ease = 1;
      walker.ramping = false;
    }
  }
  walker.flush();
  return pass.finish(stage, label);
}

/** x after n turns, straight between the rows. @param k a row at or before the place */
function placeAt(xs: readonly number[], turns: readonly number[], n: number, k: number): number {
  let i = k;
  while (i < xs.length - 2 && turns[i + 1]! <= n) i++;
  if (xs.length < 2) return xs[0]!;
  const a = turns[i]!;
  const b = turns[i + 1]!;
  const s = b > a ? Math.min(1, Math.max(0, (n - a) / (b - a))) : 1;
  return xs[i]! + (xs[i + 1]! - xs[i]!) * s;
}

/** Whether wood stands beyond the chuck end of a run that the layer does not take: the last ring must be a full one. */
function closed(layer: Layer, x: number): boolean {
  const { ctx, tool } = layer;
  return ANGLES.some(
    (t) =>
      upright(layer, x, t, -1) ||
      ctx.wood.lowest(tool.bit, x - BEYOND, t) > wanted(layer, x - BEYOND, t) + 2 * layer.skip,
  );
}

/** Where the turn starts: an angle in air if there is one, else where the least wood stands; never behind the rotary. @param light bites up to this need no ramp, mm */
function firstAngle(layer: Layer, x: number, after: number, light: number): { theta: number; open: boolean } {
  const { ctx, tool } = layer;
  const looks = 48;
  let best = Infinity;
  let theta = 0;
  let open = true;
  for (let j = 0; j < looks; j++) {
    const t = after + (j * TURN) / looks;
    const bite = ctx.wood.lowest(tool.bit, x, t, 0.7) - wanted(layer, x, t);
    if (bite > light) open = false;
    if (bite < best - 1e-6) {
      best = bite;
      theta = t;
    }
  }
  return { theta: nextTurn(theta, after), open };
}
