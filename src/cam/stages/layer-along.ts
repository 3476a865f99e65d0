/**
 * One layer by strokes along x with the rotary at rest: tracks side by side over the arcs where there is wood, to and fro
 * without a lift, coming in from the air beside the arc where there is any.
 */
import { TURN } from '../../../shared/units.ts';
import { profileHeight, profileOf } from '../bit.ts';
import { nearestTurn } from '../link.ts';
import type { Pass, StageName } from '../path.ts';
import { entry } from '../wood.ts';
import { PassBuilder } from './pass-builder.ts';
import { BEYOND, drawnIn, insetOf, type Layer, STRAIGHT, upright, Walker, wanted } from './walker.ts';

/** Distance of places at which a layer looks for wood along x, mm. */
const LOOK = 1.6;
/** Stretches without wood shorter than this do not part a stroke in two, mm; longer ones are passed by a link. */
const WORTH_A_LIFT = 40;
/** A slot is cut at this share of the feed: the bit cuts over half its round. */
const SLOT_EASE = 0.6;

/** An arc of angles, radians, from < to; from in [0, 2π). */
export interface Arc {
  readonly from: number;
  readonly to: number;
}

/** A piece of a layer: an arc and a stretch of x in which there is wood. */
export interface Patch extends Arc {
  readonly x0: number;
  readonly x1: number;
}

/** Half the angle over which a track at radius r leaves no crest higher than `crest`, radians. */
export function halfTrack(layer: Layer, crest: number): number {
  const { bit, limits } = layer.tool;
  const r = Math.max(1, layer.level);
  const most = Math.min(limits.stepOver / r, 1) / 2;
  const profile = profileOf(bit);
  const height = (d: number) => profileHeight(profile, d);
  const R = bit.diameter / 2;
  const leaves = (half: number) =>
    R < r * Math.sin(half) ? Infinity : entry(height, R, 0, Math.cos(half), Math.sin(half), r, r + R) - r;
  if (leaves(most) <= crest) return most;
  let lo = 0;
  let hi = most;
  for (let k = 0; k < 30; k++) {
    const mid = (lo + hi) / 2;
    if (leaves(mid) <= crest) lo = mid;
    else hi = mid;
  }
  return lo;
}

/** Columns of the map at which something of the layer stands between x0 and x1. @returns one flag a column */
export function standing(layer: Layer, x0: number, x1: number): Uint8Array {
  const { wood } = layer.ctx;
  const flags = new Uint8Array(wood.columns);
  const n = Math.max(1, Math.ceil((x1 - x0) / LOOK));
  for (let k = 0; k <= n; k++) {
    const x = x0 + ((x1 - x0) * k) / n;
    for (let j = 0; j < wood.columns; j++) if (!flags[j] && stands(layer, x, j)) flags[j] = 1;
  }
  return flags;
}

/** Whether wood stands on the map's column at x, higher than the layer bothers about. */
export function stands(layer: Layer, x: number, column: number): boolean {
  const { wood } = layer.ctx;
  const i = Math.round((x - wood.from) / wood.dx);
  const S = wood.radii[i * wood.columns + column]!;
  return S > layer.level + layer.skip && S > wanted(layer, x, column * wood.dTheta) + layer.skip;
}

/** Groups of neighbouring flags round the circle; a full circle becomes one arc that starts at a multiple of 90°. */
export function arcsOf(flags: Uint8Array, dTheta: number): Arc[] {
  const n = flags.length;
  const gap = flags.indexOf(0);
  if (gap < 0) return [{ from: 0, to: TURN }];
  const arcs: Arc[] = [];
  for (let k = 1; k <= n; k++) {
    if (!flags[(gap + k) % n]) continue;
    const first = k;
    while (flags[(gap + k + 1) % n]) k++;
    const from = ((gap + first - 0.5) % n) * dTheta;
    arcs.push({ from, to: from + (k - first + 1) * dTheta });
  }
  return arcs.sort((a, b) => a.from - b.from);
}

/** Opposite arcs first, so that the blank stays balanced: each next one lies as far as can be from those before. */
export function balanced<T extends Arc>(arcs: readonly T[]): T[] {
  const left = [...arcs];
  const out: T[] = [];
  const middle = (a: Arc) => (a.from + a.to) / 2;
  const apart = (a: Arc, b: Arc) => {
    const d = Math.abs(middle(a) - middle(b)) % TURN;
    return Math.min(d, TURN - d);
  };
  while (left.length > 0) {
    let pick = 0;
    let best = -1;
    left.forEach((a, k) => {
      const d = out.length > 0 ? Math.min(...out.map((b) => apart(a, b))) : 0;
      if (d > best + 1e-6) {
        best = d;
        pick = k;
      }
    });
    out.push(left.splice(pick, 1)[0]!);
  }
  return out;
}

/** Stretches of x in which the arc has wood, longer gaps parting them. */
export function patches(layer: Layer, arc: Arc, x0: number, x1: number): Patch[] {
  const { wood } = layer.ctx;
  const j0 = Math.ceil(arc.from / wood.dTheta);
  const j1 = Math.floor(arc.to / wood.dTheta);
  const n = Math.max(1, Math.ceil((x1 - x0) / layer.target.dx));
  const out: { x0: number; x1: number }[] = [];
  for (let k = 0; k <= n; k++) {
    const x = x0 + ((x1 - x0) * k) / n;
    let any = false;
    for (let j = j0; j <= j1 && !any; j++) any = stands(layer, x, ((j % wood.columns) + wood.columns) % wood.columns);
    if (!any) continue;
    const last = out.at(-1);
    if (last && x - last.x1 <= WORTH_A_LIFT) last.x1 = x;
    else out.push({ x0: x, x1: x });
  }
  return out.map((p) => {
    const flags = standing(layer, p.x0, p.x1);
    let from = arc.from;
    let to = arc.to;
    const set = (t: number) => flags[((Math.round(t / wood.dTheta) % wood.columns) + wood.columns) % wood.columns];
    while (from < to && !set(from + wood.dTheta / 2)) from += wood.dTheta;
    while (to > from && !set(to - wood.dTheta / 2)) to -= wood.dTheta;
    return { ...p, from, to };
  });
}

/** Where a track has something to cut: stretches of x between the first and last place that the bit touches, ascending. */
function runsOn(layer: Layer, theta: number, x0: number, x1: number): { x0: number; x1: number }[] {
  const { ctx, tool } = layer;
  const n = Math.max(1, Math.ceil((x1 - x0) / LOOK));
  const each = (x1 - x0) / n;
  const out: { x0: number; x1: number }[] = [];
  for (let k = 0; k <= n; k++) {
    const x = x0 + k * each;
    if (ctx.wood.lowest(tool.bit, x, theta) <= wanted(layer, x, theta) + layer.skip) continue;
    const last = out.at(-1);
    // What lies between two looks belongs to the one that found wood.
    if (last && x - last.x1 <= WORTH_A_LIFT) last.x1 = Math.min(x1, x + each);
    else out.push({ x0: Math.max(x0, x - each), x1: Math.min(x1, x + each) });
  }
  // Near the patch's end a stroke goes all the way, so that the wall there is smoothed at every angle.
  const near = tool.bit.diameter;
  return out.map((r) => ({ x0: r.x0 - x0 < near ? x0 : r.x0, x1: x1 - r.x1 < near ? x1 : r.x1 }));
}

/**
 * Cuts one patch of a layer: as many rounds of tracks as the ramps need (one, where the bit comes in from the air).
 * @param backward whether the tracks run from the arc's far edge to its near one
 * @returns one pass, or nothing where the bit finds nothing to cut
 */
export function cutPatch(layer: Layer, patch: Patch, stage: StageName, label: string, backward = false): Pass[] {
  const { ctx, tool } = layer;
  const half = halfTrack(layer, layer.skip);
  const tracks = Math.max(1, Math.ceil((patch.to - patch.from) / (2 * half) - 1e-9));
  const step = (patch.to - patch.from) / tracks;
  const turn = ctx.at ? nearestTurn(patch.from, ctx.at.theta) - patch.from : 0;
  const pass = new PassBuilder(ctx, tool, STRAIGHT);
  const walker = new Walker(layer, pass);
  const [x0, x1] = drawnIn(layer, patch.x0, patch.x1, [(patch.from + patch.to) / 2]);
  for (let round = 0; round < 5; round++) {
    let short = 0;
    let last: number | undefined;
    for (let k = 0; k < tracks; k++) {
      const theta = patch.from + turn + (backward ? tracks - k - 0.5 : k + 0.5) * step;
      const runs = runsOn(layer, theta, x0, x1);
      const here = pass.at;
      if (here && Math.abs(here.x - x0) > Math.abs(here.x - x1)) runs.reverse();
      const onward = backward ? -step : step;
      const ending = k === tracks - 1;
      for (const run of runs) {
        const at = pass.at;
        const fromLow = at ? Math.abs(at.x - run.x0) <= Math.abs(at.x - run.x1) : false;
        const xs = fromLow ? run.x0 : run.x1;
        const xe = fromLow ? run.x1 : run.x0;
        const joined =
          last !== undefined &&
          Math.abs(theta - last) < 1.5 * step &&
          Math.abs(at!.x - xs) <= WORTH_A_LIFT &&
          theta !== last;
        if (joined) {
          const x = at!.x;
          rotate(layer, walker, x, last!, ending ? theta + onward : theta);
          if (ending) rotate(layer, walker, x, theta + onward, theta);
          if (Math.abs(x - xs) > 1e-9) stroke(layer, walker, theta, x, xs);
        } else {
          walker.flush();
          const side = backward ? 1 : -1;
          const beside = airBeside(layer, xs, theta, side, (step / 2) * side);
          if (beside === undefined) {
            walker.ease = SLOT_EASE;
            walker.ramping = true;
          }
          walker.enter(xs, beside ?? theta);
          if (beside !== undefined) rotate(layer, walker, xs, beside, theta);
        }
        short = Math.max(short, stroke(layer, walker, theta, xs, xe));
        if (xs !== xe && walled(layer, xe, theta, Math.sign(xe - xs))) {
          rotate(layer, walker, xe, theta, theta - onward);
          rotate(layer, walker, xe, theta - onward, ending ? theta + onward : theta);
        }
        walker.flush();
        walker.ease = 1;
        walker.ramping = false;
        last = theta;
      }
    }
    walker.flush();
    if (short <= layer.skip) break;
  }
  const made = pass.finish(stage, label);
  return made ? [made] : [];
}

/** An angle beside a track at which the bit hangs in air at the layer's depth; undefined if there is none near. */
function airBeside(layer: Layer, x: number, theta: number, side: number, first: number): number | undefined {
  const { ctx, tool } = layer;
  const step = ctx.wood.dTheta * 2;
  for (let off = Math.abs(first); off < TURN / 6; off += step) {
    const t = theta + side * off;
    if (ctx.wood.lowest(tool.bit, x, t, 0.7) <= wanted(layer, x, t) + 1e-6) return t;
  }
  return undefined;
}

/**
 * Whether an upright wall stands at the end of a stroke: then the rim's round must be smoothed along it, or the next layer
 * meets what stands between the tracks. A slope that the target itself follows is no wall.
 */
function walled(layer: Layer, x: number, theta: number, dir: number): boolean {
  const { ctx, tool } = layer;
  const here = wanted(layer, x, theta);
  const off = dir * insetOf(layer);
  const beyond = ctx.wood.lowest(tool.bit, x + off + dir * BEYOND, theta);
  if (beyond <= here + 2 * layer.skip) return false;
  return upright(layer, x + off, theta, dir) || beyond > wanted(layer, x + off + dir * BEYOND, theta) + 2 * layer.skip;
}

function rotate(layer: Layer, walker: Walker, x: number, from: number, to: number): void {
  const n = Math.max(1, Math.ceil((Math.abs(to - from) * Math.max(1, layer.level)) / 0.8));
  // Beside the track the form may stand higher: the walker lifts over it.
  for (let k = 1; k <= n; k++) walker.to(x, from + ((to - from) * k) / n);
}

/** Along x at one angle, stopping at every row of the target. @returns the largest shortfall, mm */
function stroke(layer: Layer, walker: Walker, theta: number, from: number, to: number): number {
  const { target } = layer;
  const dir = Math.sign(to - from);
  let short = 0;
  if (dir === 0) return walker.to(to, theta);
  let row =
    dir > 0
      ? Math.floor((from - target.from) / target.dx + 1e-9) + 1
      : Math.ceil((from - target.from) / target.dx - 1e-9) - 1;
  for (; dir > 0 ? target.x(row) < to - 1e-9 : target.x(row) > to + 1e-9; row += dir)
    short = Math.max(short, walker.to(target.x(row), theta));
  return Math.max(short, walker.to(to, theta));
}
