/** Roughing: from the round that the corners left, or a round blank, down to the form plus allowance. */
import { TURN } from '../../../shared/units.ts';
import { easeOver } from '../ease.ts';
import type { Tool } from '../job.ts';
import type { Pass } from '../path.ts';
import { type Span, turnedSpans } from '../work.ts';
import type { StageContext } from './context.ts';
import { CREST_SHARE, cutLayers, levelsBetween } from './layers.ts';
import { type Target, targetOf } from './target.ts';

/** Longer than this many of its mean diameters, a piece is cut in bays (common practice, no source). */
const SLENDER = 12;
/** Length of a bay in diameters of the blank (common practice, no source). */
const BAY = 6;
/** The lowest share of the depth range counts as a neck and is cut after all bays. */
const NECK = 1 / 3;
/** Wood no higher than this above the target is left to finishing, mm. */
const SKIP = 0.12;

/** Cuts the stretch of x into bays, tail first, parted where the form is thickest. */
function baysOf(target: Target, span: Span, diameter: number, slender: boolean): Span[] {
  const n = slender ? Math.max(1, Math.round((span.to - span.from) / (BAY * diameter))) : 1;
  const cuts: number[] = [];
  const each = (span.to - span.from) / n;
  for (let k = 1; k < n; k++) {
    let at = span.from + k * each;
    let best = -Infinity;
    const near = at;
    for (let i = 0; i < target.count; i++) {
      const x = target.x(i);
      if (Math.abs(x - near) > each / 4) continue;
      const r = target.highest(i) - Math.abs(x - near) * 1e-3;
      if (r > best) {
        best = r;
        at = x;
      }
    }
    cuts.push(at);
  }
  const ends = [span.from, ...cuts, span.to];
  return ends
    .slice(1)
    .map((to, k) => ({ from: ends[k]!, to }))
    .reverse();
}

/** Rows of the target inside a span: mean and smallest of the lowest radii. */
function thickness(target: Target, span: Span): { mean: number; least: number } {
  let sum = 0;
  let count = 0;
  let least = Infinity;
  for (let i = 0; i < target.count; i++) {
    const x = target.x(i);
    if (x < span.from - 1e-9 || x > span.to + 1e-9) continue;
    const low = target.lowest(i);
    sum += low;
    count++;
    least = Math.min(least, low);
  }
  return { mean: count > 0 ? sum / count : 0, least };
}

/** Turning is quicker unless the rotary is too slow; strokes serve bits that must not go down into carved work. */
function wayOf(ctx: StageContext, tool: Tool, mean: number): 'along' | 'around' {
  const { plan, bench, field } = ctx.job;
  if (plan.roughing !== 'auto') return plan.roughing;
  const carved = !field.isRound(0, field.length);
  if (carved && (!tool.bit.centreCutting || tool.limits.plunge < tool.limits.stepDown * 0.9)) return 'along';
  const turning = TURN * mean * bench.rotary.maxSpeed;
  // Strokes lose about a sixth of their time to reversing and entering.
  return turning * 1.15 >= tool.limits.feed || !carved ? 'around' : 'along';
}

/** Each layer in as many equal parts as bring it down to a share of its depth. @param above radius over the first, mm */
function finer(above: number, levels: readonly number[], share: number): number[] {
  const parts = Math.ceil(1 / share - 1e-9);
  return levels.flatMap((level, k) => {
    const from = k === 0 ? above : levels[k - 1]!;
    return Array.from({ length: parts }, (_, j) => from + ((level - from) * (j + 1)) / parts);
  });
}

/** The stage. @returns passes in the order of cutting; the wood is brought up to date */
export function roughing(ctx: StageContext, tool: Tool): Pass[] {
  const { job } = ctx;
  const { allowance } = job.plan;
  const target = targetOf(ctx, tool.bit, allowance);
  const finish = job.tools.finishing.limits.stepDown - allowance - SKIP;
  const crest = Math.max(0.25, Math.min(tool.limits.stepDown * CREST_SHARE, finish));
  const spans = turnedSpans(job);
  const out: Pass[] = [];
  const diameter = Math.min(job.blank.width, job.blank.height);
  const pieces = spans
    .map((span) => ({ span, ...thickness(target, span), top: ctx.wood.highestOver(span.from, span.to) }))
    .filter((p) => p.least + SKIP < p.top);
  if (pieces.length === 0) return out;
  const mean = pieces.reduce((s, p) => s + p.mean, 0) / pieces.length;
  const slender = job.blank.to - job.blank.from > SLENDER * 2 * mean;
  const least = Math.min(...pieces.map((p) => p.least));
  const top = Math.max(...pieces.map((p) => topOf(ctx, target, p.span)));
  const levels = levelsBetween(top, least, tool);
  const deep = least + NECK * (top - least);
  const neck = slender ? deep : -Infinity;
  const way = wayOf(ctx, tool, mean);
  const common = { stage: 'roughing' as const, way, skip: SKIP, crest, of: levels.length };
  const sturdy = levels.filter((l) => l >= neck);
  const thin = levels.slice(sturdy.length);
  const bays = pieces.flatMap((p) => baysOf(target, p.span, diameter, slender)).sort((a, b) => b.from - a.from);
  let done = 0;
  const tell = () => ctx.progress(Math.min(1, ++done / (levels.length * bays.length)), 'roughing');
  if (slender) {
    for (const bay of bays) {
      out.push(
        ...cutLayers(ctx, tool, target, {
          ...common,
          span: bay,
          levels: sturdy,
          label: (k, of) => `layer ${k} of ${of}`,
        }),
      );
      done += sturdy.length - 1;
      tell();
    }
    const necks = [...bays].sort((a, b) => thickness(target, b).least - thickness(target, a).least);
    for (const bay of necks) {
      const own = finer(sturdy.at(-1) ?? top, thin, easeOver(job.ease, 'stepDown', bay.from, bay.to));
      out.push(
        ...cutLayers(ctx, tool, target, {
          ...common,
          span: bay,
          levels: own,
          first: sturdy.length,
          of: sturdy.length + own.length,
          label: (k, of) => `thin part, layer ${k} of ${of}`,
        }),
      );
    }
  } else {
    // Layer by layer over the whole length; within a layer the spans from the tail, so the deepest layers, which only the
    // thinnest places have, come last.
    levels.forEach((level, k) => {
      for (const bay of bays) {
        const share = level < deep ? easeOver(job.ease, 'stepDown', bay.from, bay.to) : 1;
        out.push(
          ...cutLayers(ctx, tool, target, {
            ...common,
            span: bay,
            levels: finer(levels[k - 1] ?? top, [level], share),
            label: () => `layer ${k + 1} of ${levels.length}`,
          }),
        );
      }
      tell();
    });
  }
  return out;
}

/** Highest wood over a span that stands above the target: a kept section beside the bit does not count. */
function topOf(ctx: StageContext, target: Target, span: Span): number {
  const { wood } = ctx;
  let top = 0;
  for (let i = 0; i < target.count; i++) {
    const x = target.x(i);
    if (x < span.from - 1e-9 || x > span.to + 1e-9) continue;
    if (wood.highestOver(x, x) <= top) continue;
    const row = Math.round((x - wood.from) / wood.dx) * wood.columns;
    for (let j = 0; j < wood.columns; j++) {
      const S = wood.radii[row + j]!;
      if (S > top && S > target.at(x, j * wood.dTheta) + SKIP) top = S;
    }
  }
  return top;
}
