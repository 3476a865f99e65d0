/**
 * Grooves, flutes and corners with a smaller bit, only where the bits before it have left more than the tolerance: round the
 * corners of round work, along each guide of the form, and along tracks beside it across the feature's width, in layers no deeper than the
 * bit may bite. θ only grows.
 */
import type { Bit } from '../../../shared/catalog.ts';
import { SCALLOP } from '../../../shared/tolerances.ts';
import { radians, wrapTurn } from '../../../shared/units.ts';
import type { Guide } from '../../profiles/field.ts';
import { cuspRadius } from '../bit.ts';
import { easeOver } from '../ease.ts';
import type { Tool } from '../job.ts';
import { nextTurn } from '../link.ts';
import type { Pass } from '../path.ts';
import { scallopSpacing } from '../scallop.ts';
import { type Samples, thin } from '../thin.ts';
import { ASIDE } from '../walls.ts';
import type { Wood } from '../wood.ts';
import { bandOf } from './bands.ts';
import type { StageContext } from './context.ts';
import { cornerRings } from './corner-rings.ts';
import { samplingOf, thinningOf } from './follow.ts';
import { PassBuilder } from './pass-builder.ts';
import { type Corner, sampleTrack, straighten } from './track.ts';

/** Stations along a guide at which the flanks' slope is looked at, and the steepest slope that draws tracks together. */
const STATIONS = 5;
const STEEPEST = 3;
/** Share of a vee's flat tip by which its tracks lie apart: on a flank the flats no longer meet edge to edge. */
const VEE_OVERLAP = 0.6;
/** Least distance of tracks, mm. */
const LEAST_STEP = 0.1;
/** Shorter stretches without rest are cut through, mm: a lift costs more. */
const GAP = 4;
/** A stretch starts and ends this far before and after its rest, mm. */
const LEAD = 0.6;
/** Distance of the coarse looks along a track, mm. */
const COARSE = 1;
/** Wood beyond this many layers is not this stage's to take away. */
const MOST_LAYERS = 60;

/**
 * Highest tip at which a bit still touches wood. A point is finer than the map's rays and would slip between them, so the
 * wood right under it is read off between the four rays around.
 */
function touching(wood: Wood, bit: Bit, x: number, theta: number): number {
  const row = Math.min(wood.rows - 2, Math.max(0, Math.floor((x - wood.from) / wood.dx)));
  const u = Math.min(1, Math.max(0, (x - wood.from) / wood.dx - row));
  const around = wrapTurn(theta) / wood.dTheta;
  const column = Math.floor(around) % wood.columns;
  const v = around - Math.floor(around);
  const next = (column + 1) % wood.columns;
  const at = (i: number) => {
    const k = (row + i) * wood.columns;
    return wood.radii[k + column] * (1 - v) + wood.radii[k + next] * v;
  };
  return Math.max(wood.lowest(bit, x, theta), at(0) * (1 - u) + at(1) * u);
}

/** What counts as rest: what the finish may leave anyway is not worth a track. */
const leastRest = (ctx: StageContext): number => ctx.job.tolerance + Math.min(SCALLOP, ctx.job.plan.scallop);

/** Distance of neighbouring tracks for a bit, mm. */
export function trackStep(bit: Bit, scallop: number): number {
  const tip = cuspRadius(bit);
  if (tip > 0) return Math.max(LEAST_STEP, Math.min(bit.diameter / 2, scallopSpacing(tip, scallop)));
  const flat = bit.kind === 'flat' ? 0.8 * bit.diameter : VEE_OVERLAP * bit.tipDiameter;
  const flank = bit.kind === 'vee' ? 2 * scallop * Math.tan(radians(bit.includedAngle_deg / 2)) : 0;
  return Math.max(LEAST_STEP, flat + flank);
}

/** A guide's line shifted sideways over the work. @param by mm, to the left of its run @param radius of the work there, mm */
function shifted(guide: Guide, by: number, radiusAt: (c: Corner) => number): Corner[] {
  const n = guide.line.length / 2;
  const corner = (k: number): Corner => ({ x: guide.line[2 * k], theta: guide.line[2 * k + 1] });
  return Array.from({ length: n }, (_, k) => {
    const c = corner(k);
    const a = corner(Math.max(0, k - 1));
    const b = corner(Math.min(n - 1, k + 1));
    const r = radiusAt(c);
    const dx = b.x - a.x;
    const arc = (b.theta - a.theta) * r;
    const length = Math.hypot(dx, arc) || 1;
    return { x: c.x - (by * arc) / length, theta: c.theta + (by * dx) / length / r };
  });
}

/** The grooves stage. @param tool a small bit @returns passes round corners, then one a guide that had rest, then round carved corners; the wood and `ctx.at` follow */
export function grooves(ctx: StageContext, tool: Tool): Pass[] {
  const { field } = ctx.job;
  const passes: Pass[] = [];
  passes.push(...cornerRings(ctx, tool, leastRest(ctx), 'round'));
  field.guides.forEach((guide, k) => {
    ctx.progress(k / field.guides.length, 'grooves');
    const pass = alongGuide(ctx, tool, guide);
    if (pass) passes.push(pass);
  });
  passes.push(...cornerRings(ctx, tool, leastRest(ctx), 'carved'));
  return passes;
}

/**
 * Offsets of the tracks: from the bottom outward, so that the deepest wood goes first and the flanks keep a thin skin. On a
 * flank they lie closer, since a ridge is meant square to it: judged at even stations along the guide, at the steepest.
 * @param height lowest tip at a station and an offset, mm
 */
function trackOffsets(wide: number, step: number, height: (station: number, by: number) => number): number[] {
  const offsets = [0];
  const out = [1, -1].map((side) => {
    const found: number[] = [];
    let at = 0;
    for (;;) {
      let slope = 0;
      for (let k = 0; k < STATIONS; k++) {
        const rise = height(k, side * (at + step / 2)) - height(k, side * at);
        slope = Math.max(slope, Math.abs(rise) / (step / 2));
      }
      at += Math.max(LEAST_STEP / 2, step / Math.hypot(1, Math.min(STEEPEST, slope)));
      if (at > wide) return found;
      found.push(side * at);
    }
  });
  for (let k = 0; k < Math.max(out[0].length, out[1].length); k++)
    for (const side of out) if (k < side.length) offsets.push(side[k]);
  return offsets;
}

function alongGuide(ctx: StageContext, tool: Tool, guide: Guide): Pass | undefined {
  const { job, work } = ctx;
  const { bit } = tool;
  const R = bit.diameter / 2;
  const contact = ctx.contact(bit);
  const sampling = samplingOf(job);
  const radiusAt = (c: Corner) => Math.max(1, work.radius(c.x, c.theta) + guide.depth);
  const step = trackStep(bit, job.plan.scallop);
  const wide = bandOf(guide, R);
  const lines = new Map<number, Corner[]>();
  const height = (station: number, by: number): number => {
    let line = lines.get(by);
    if (!line) {
      line = shifted(guide, by, radiusAt);
      lines.set(by, line);
    }
    const c = line[Math.min(line.length - 1, Math.round(((station + 0.5) / STATIONS) * (line.length - 1)))];
    return contact.lowest(c.x, c.theta);
  };
  const offsets = trackOffsets(wide, step, height);
  const spacing = Math.max(0.15, Math.min(0.5, Math.sqrt(8 * (cuspRadius(bit) || 0.25) * sampling.chord)));
  const places = work.breaks.flatMap((b) => [b.x - R - ASIDE, b.x - R + ASIDE, b.x, b.x + R - ASIDE, b.x + R + ASIDE]);
  // Which tracks are worth while is settled before the first is cut: afterwards ridges finer than the map's rays are out of its sight.
  const tracks = offsets.flatMap((by) => {
    const line = shifted(guide, by, radiusAt);
    if (line.some((c) => c.x < work.from || c.x > work.to)) return [];
    const turned = line[line.length - 1].theta - line[0].theta;
    const straight = Math.abs(turned) <= 1e-6;
    const ordered = straight || turned > 0 ? line : [...line].reverse();
    // Where the radius jumps, a shifted corner may fall behind its neighbour: θ only grows.
    for (let k = 1; k < ordered.length; k++)
      if (ordered[k].theta < ordered[k - 1].theta) ordered[k] = { ...ordered[k], theta: ordered[k - 1].theta };
    const radius = Math.max(...line.map(radiusAt));
    const parts = promising(ctx, tool, straighten(ordered, radius), radius);
    return parts.length > 0 ? [{ parts, radius, straight }] : [];
  });
  const pass = new PassBuilder(ctx, tool);
  tracks.forEach(({ parts, radius, straight }, k) => {
    // To and fro along a straight groove; along a turned one the rotary has but one way.
    const back = straight && k % 2 === 1;
    for (const part of back ? [...parts].reverse().map((p) => [...p].reverse()) : parts)
      cutRest(ctx, tool, pass, sampleTrack(contact, part, radius, spacing, places, sampling));
  });
  return pass.finish('grooves', guide.label);
}

/** The parts of a track where a coarse look finds rest, with a lead on both sides: only those are worth a fine look. */
function promising(ctx: StageContext, tool: Tool, track: readonly Corner[], radius: number): Corner[][] {
  const runs = [0];
  for (let k = 1; k < track.length; k++)
    runs.push(runs[k - 1] + Math.hypot(track[k].x - track[k - 1].x, (track[k].theta - track[k - 1].theta) * radius));
  const whole = runs[runs.length - 1];
  const n = Math.max(2, Math.ceil(whole / COARSE));
  const place = (run: number): Corner => {
    let k = 1;
    while (k < runs.length - 1 && runs[k] < run) k++;
    const s = Math.min(1, Math.max(0, (run - runs[k - 1]) / (runs[k] - runs[k - 1] || 1)));
    const [a, b] = [track[k - 1], track[k]];
    return { x: a.x + (b.x - a.x) * s, theta: a.theta + (b.theta - a.theta) * s };
  };
  const looks = Array.from({ length: n + 1 }, (_, k) => place((whole * k) / n));
  const low = new Float64Array(n + 1);
  const xs = Float64Array.from(looks, (c) => c.x);
  const thetas = Float64Array.from(looks, (c) => c.theta);
  ctx.contact(tool.bit).along(xs, thetas, low);
  const run = Float64Array.from(looks, (_, k) => (whole * k) / n);
  const top = Float64Array.from(looks, (c) => touching(ctx.wood, tool.bit, c.x, c.theta));
  const lead = COARSE;
  return stretches(run, top, low, leastRest(ctx)).map(([a, b]) => {
    const from = Math.max(0, run[a] - lead);
    const to = Math.min(whole, run[b] + lead);
    return [place(from), ...track.filter((_, k) => runs[k] > from && runs[k] < to), place(to)];
  });
}

/** Cuts a part of a track that has rest, layer by layer. */
function cutRest(ctx: StageContext, tool: Tool, pass: PassBuilder, samples: Samples): void {
  const { wood } = ctx;
  const { bit, limits } = tool;
  const { run, x, theta, low } = samples;
  const depth = limits.stepDown;
  for (let layer = 0; layer < MOST_LAYERS; layer++) {
    const top = Float64Array.from(run, (_, i) => touching(wood, bit, x[i], theta[i]));
    let deepest = 0;
    for (let i = 0; i < run.length; i++) deepest = Math.max(deepest, top[i] - low[i]);
    const last = deepest <= depth;
    const target = Float64Array.from(run, (_, i) => Math.max(low[i], top[i] - depth));
    // The last layer takes the whole of it; those before only where they are needed.
    const ranges: [number, number][] = last ? [[0, run.length - 1]] : stretches(run, top, low, depth);
    for (const [a, b] of ranges) follow(ctx, tool, pass, samples, top, target, a, b);
    if (last) break;
  }
}

/** Index ranges with rest, short gaps joined, a lead on both sides. */
function stretches(run: Float64Array, top: Float64Array, low: Float64Array, least: number): [number, number][] {
  const found: [number, number][] = [];
  for (let i = 0; i < run.length; i++) {
    if (top[i] - low[i] <= least) continue;
    const last = found.at(-1);
    if (last && run[i] - run[last[1]] < GAP) last[1] = i;
    else found.push([i, i]);
  }
  return found.map(([a, b]) => {
    let from = a;
    let to = b;
    while (from > 0 && run[a] - run[from] < LEAD) from--;
    while (to < run.length - 1 && run[to] - run[b] < LEAD) to++;
    return [from, to];
  });
}

/** One stretch at one layer: in from the top of the wood, along, and out. */
function follow(
  ctx: StageContext,
  tool: Tool,
  pass: PassBuilder,
  samples: Samples,
  top: Float64Array,
  target: Float64Array,
  a: number,
  b: number,
): void {
  const { limits } = tool;
  const { run, x, theta, knot } = samples;
  if (b <= a) return;
  const ramp = Math.tan(radians(limits.rampAngle_deg));
  const plunge = tool.bit.centreCutting ? limits.plunge : 0;
  const low = new Float64Array(b - a + 1);
  for (let i = a; i <= b; i++) {
    // Free to stand a plunge deep in the wood anywhere; deeper only by the ramp from where the tip comes from.
    const ramped = i > a ? low[i - a - 1] - ramp * (run[i] - run[i - 1]) : Infinity;
    low[i - a] = Math.max(target[i], Math.min(ramped, top[i] - plunge));
  }
  const part: Samples = {
    run: run.slice(a, b + 1),
    x: x.slice(a, b + 1),
    theta: theta.slice(a, b + 1),
    low,
    knot: knot.slice(a, b + 1),
  };
  const kept = thin(part, { ...thinningOf(ctx.job, limits.finishFeed), shortest: 0 });
  const shift = nextTurn(part.theta[0], pass.at?.theta ?? 0) - part.theta[0];
  pass.approach(part.x[0], Math.max(top[a], kept.r[0]), part.theta[0] + shift);
  kept.index.forEach((i, k) => {
    if (k === 0 && kept.r[0] >= top[a]) return;
    const share = easeOver(ctx.job.ease, 'finishing', pass.at?.x ?? part.x[i], part.x[i]);
    pass.cutTo(part.x[i], kept.r[k], part.theta[i] + shift, k === 0 ? limits.plungeFeed : limits.finishFeed * share);
  });
}
