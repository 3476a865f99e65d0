/** Corners: any blank that is not round is first brought to the round inside its section, cutting only where there is wood. */
import { CORNER_FACET } from '../../../shared/tolerances.ts';
import { perSecond, TURN } from '../../../shared/units.ts';
import { innerRadius, outerRadius } from '../blank.ts';
import type { Tool } from '../job.ts';
import type { Pass } from '../path.ts';
import { type Span, turnedSpans } from '../work.ts';
import type { StageContext } from './context.ts';
import { type Arc, arcsOf, balanced, cutPatch, halfTrack, patches, standing } from './layer-along.ts';
import { cutLayers, levelsBetween } from './layers.ts';
import { type Target, targetOf } from './target.ts';
import type { Layer } from './walker.ts';

/** Crest left between tracks, mm; the last layer lies this much lower, so that nothing stands outside the round. */
const CREST = 0.15;
/**
 * Most that is left on the form where it comes up to the round inside the section, mm: with the crests on top it still
 * counts as a corner taken off.
 */
const LEFT_ON_FORM = CORNER_FACET - 2 * CREST;
/** Largest share of the stage's time that may cut nothing. */
const AIR_SHARE = 0.2;

/** Share of the step-down that a layer plans for: the crests of the layer above come on top. */
const STEP_SHARE = 0.9;

interface Estimate {
  readonly time: number;
  /** Share of the time that cuts nothing. */
  readonly air: number;
}

/** Radii of the layers: from the corner down to the round inside, less the crests. */
function levelsOf(ctx: StageContext, tool: Tool): number[] {
  const inner = innerRadius(ctx.job.blank);
  return levelsBetween(outerRadius(ctx.job.blank), inner - CREST, tool, STEP_SHARE);
}

/** Angles at which the bit touches the uncut section at a layer, as a share of the turn. */
function engaged(ctx: StageContext, tool: Tool, x: number, level: number): number {
  const looks = 96;
  let count = 0;
  for (let j = 0; j < looks; j++) if (ctx.wood.lowest(tool.bit, x, (j * TURN) / looks) > level + CREST) count++;
  return count / looks;
}

function estimateAround(ctx: StageContext, tool: Tool, span: Span, levels: readonly number[]): Estimate {
  const { bench } = ctx.job;
  const { feed, stepOver } = tool.limits;
  const mid = (span.from + span.to) / 2;
  const fastest = perSecond(bench.rotary.maxSpeed) * TURN;
  let cut = 0;
  let air = 0;
  for (const level of levels) {
    const turns = (span.to - span.from) / stepOver + 2;
    const share = engaged(ctx, tool, mid, level);
    cut += turns * share * TURN * Math.max(level / perSecond(feed), 1 / fastest);
    air += (turns * (1 - share) * TURN) / fastest;
  }
  return { time: cut + air, air: air / (cut + air) };
}

/** @param group layers cut one after another before the rotary goes to the next arc */
function estimateAlong(
  ctx: StageContext,
  tool: Tool,
  spans: readonly Span[],
  levels: readonly number[],
  group: number,
): Estimate {
  const { bench, blank } = ctx.job;
  const { feed } = tool.limits;
  const speed = perSecond(bench.rotary.maxSpeed) * TURN;
  const acceleration = (bench.rotary.acceleration_deg / 360) * TURN;
  const sides = Math.max(2, blank.sides);
  const turn = move(Math.PI / 2, speed, acceleration);
  const lift = move(outerRadius(blank) - innerRadius(blank), perSecond(bench.radialMax), bench.radialAcceleration);
  let cut = 0;
  let air = 0;
  for (const span of spans) {
    const flags = (level: number) => {
      const x = (span.from + span.to) / 2;
      const layer: Layer = { ctx, tool, target: flat, level, skip: CREST };
      return { layer, arcs: arcsOf(standing(layer, x, x), ctx.wood.dTheta) };
    };
    levels.forEach((level, k) => {
      const { layer, arcs } = flags(level);
      for (const arc of arcs) {
        const tracks = Math.max(1, Math.ceil((arc.to - arc.from) / (2 * halfTrack(layer, CREST))));
        const length = Math.max(0, span.to - span.from - 2 * tool.bit.diameter);
        cut += (tracks * length + (arc.to - arc.from) * level) / perSecond(feed);
      }
      air += sides * (2 * lift + (k % group === 0 ? turn * (group > 1 ? 1 : 1.5) : 0));
    });
  }
  return { time: cut + air, air: air / (cut + air) };
}

/** Time of one axis alone, s. */
const move = (way: number, speed: number, acceleration: number): number =>
  way >= (speed * speed) / acceleration ? way / speed + speed / acceleration : 2 * Math.sqrt(way / acceleration);

/** Stands in for a target where only the layer counts. */
const flat = { at: () => 0 } as unknown as Target;

/** Names an arc by the angle of its middle. */
const labelOf = (k: number, of: number, arc: Arc): string =>
  `layer ${k} of ${of}, corner ${Math.round(((((arc.from + arc.to) / 2) % TURN) / TURN) * 360)}`;

/** The stage. @returns passes in the order of cutting; the wood is brought up to date */
export function corners(ctx: StageContext, tool: Tool): Pass[] {
  const { job } = ctx;
  if (job.blank.section === 'round') return [];
  const spans = turnedSpans(job).reverse();
  const levels = levelsOf(ctx, tool);
  const target = targetOf(ctx, tool.bit, Math.min(job.plan.allowance, LEFT_ON_FORM));
  let group = 1;
  while (group < levels.length && estimateAlong(ctx, tool, spans, levels, group).air > AIR_SHARE) group++;
  let way = job.plan.corners;
  if (way === 'auto') {
    const along = estimateAlong(ctx, tool, spans, levels, group);
    const around = spans.map((s) => estimateAround(ctx, tool, s, levels));
    const time = around.reduce((s, e) => s + e.time, 0);
    const air = around.reduce((s, e) => s + e.time * e.air, 0) / time;
    way = time < along.time && air < Math.max(AIR_SHARE, along.air) ? 'around' : 'along';
  }
  const out: Pass[] = [];
  if (way === 'around') {
    for (const span of spans)
      out.push(
        ...cutLayers(ctx, tool, target, {
          stage: 'corners',
          way,
          span,
          levels,
          skip: CREST,
          crest: CREST * 4,
          label: (k, of) => `layer ${k} of ${of}, round and round`,
        }),
      );
    return out;
  }
  for (let first = 0; first < levels.length; first += group) {
    const now = levels.slice(first, first + group);
    const layers = now.map((level): Layer => ({ ctx, tool, target, level, skip: CREST }));
    for (const span of spans) {
      const arcs = arcsOf(standing(layers.at(-1)!, span.from, span.to), ctx.wood.dTheta);
      for (const arc of group > 1 ? arcs : balanced(arcs))
        layers.forEach((layer, k) => {
          for (const patch of patches(layer, arc, span.from, span.to))
            out.push(...cutPatch(layer, patch, 'corners', labelOf(first + k + 1, levels.length, arc), k % 2 === 1));
        });
    }
    ctx.progress(Math.min(1, (first + group) / levels.length), 'corners');
  }
  return out;
}
