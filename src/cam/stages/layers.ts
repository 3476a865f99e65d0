/** Layers from the wood as it stands down to a target: what corners, roughing and the pre-cuts of a smaller bit share. */
import type { Tool } from '../job.ts';
import type { Pass, StageName } from '../path.ts';
import type { Span } from '../work.ts';
import type { StageContext } from './context.ts';
import { arcsOf, balanced, cutPatch, patches, standing } from './layer-along.ts';
import { layerAround } from './layer-around.ts';
import { type Target, targetOf } from './target.ts';
import type { Layer } from './walker.ts';

/** Share of the step-down that a layer plans for; the steps that the layer above left on slopes may take CREST_SHARE more. */
const STEP_SHARE = 0.77;
export const CREST_SHARE = 0.2;
/**
 * Radii from just under `top` down to `bottom` in equal steps no deeper than the tool's layers.
 * @param share of the step-down that a layer plans for @returns mm, falling
 */
export function levelsBetween(top: number, bottom: number, tool: Tool, share = STEP_SHARE): number[] {
  const depth = top - bottom;
  if (depth <= 0) return [];
  const n = Math.ceil(depth / (tool.limits.stepDown * share) - 1e-9);
  return Array.from({ length: n }, (_, k) => top - (depth * (k + 1)) / n);
}

/** How a set of layers is cut. */
export interface LayersOptions {
  readonly stage: StageName;
  /** `around`: turning; `along`: strokes lengthwise. */
  readonly way: 'along' | 'around';
  /** Stretch of x to work on, mm. */
  readonly span: Span;
  /** Radii of the layers, falling, mm. */
  readonly levels: readonly number[];
  /** Wood no higher than this above a layer is not worth a cut, mm. */
  readonly skip: number;
  /** Largest step left on slopes by turning, mm. */
  readonly crest: number;
  /** Name of a layer for the program's comment. */
  readonly label: (layer: number, of: number) => string;
  /** Number of the first layer, for the label; default 0. */
  readonly first?: number;
  /** Total number of layers for the label; default the number of levels. */
  readonly of?: number;
}

/** Cuts layer after layer over a span, never deeper than the target. @returns passes in the order of cutting */
export function cutLayers(ctx: StageContext, tool: Tool, target: Target, options: LayersOptions): Pass[] {
  const { span, skip, stage, levels } = options;
  const out: Pass[] = [];
  levels.forEach((level, k) => {
    const number = (options.first ?? 0) + k;
    const layer: Layer = { ctx, tool, target, level, skip };
    const label = options.label(number + 1, options.of ?? levels.length);
    if (options.way === 'around') {
      out.push(...layerAround(layer, span.from, span.to, options.crest, stage, () => label));
      return;
    }
    for (const arc of balanced(arcsOf(standing(layer, span.from, span.to), ctx.wood.dTheta)))
      for (const patch of patches(layer, arc, span.from, span.to)) out.push(...cutPatch(layer, patch, stage, label));
  });
  return out;
}

/**
 * Brings the wood down, layer by layer, to what the tool may leave for its own last cut: for a finishing bit that finds more
 * wood than its step-down in places where a larger bit could not go.
 * @param leave wood left above the contact, mm @param worth only where more than this stands above the target, mm
 * @returns passes, none where nothing stands that high
 */
export function layersDown(
  ctx: StageContext,
  tool: Tool,
  options: { stage: StageName; span: Span; leave: number; worth: number; label: string },
): Pass[] {
  const target = targetOf(ctx, tool.bit, options.leave);
  let top = 0;
  let bottom = Infinity;
  for (let i = 0; i < target.count; i++) {
    const x = target.x(i);
    if (x < options.span.from || x > options.span.to) continue;
    const low = target.lowest(i);
    const high = ctx.wood.highestOver(x, x);
    if (high <= low + options.worth) continue;
    top = Math.max(top, high);
    bottom = Math.min(bottom, low);
  }
  return cutLayers(ctx, tool, target, {
    stage: options.stage,
    way: 'around',
    span: options.span,
    levels: levelsBetween(top, bottom, tool),
    skip: options.worth,
    crest: tool.limits.stepDown * CREST_SHARE,
    label: (k, of) => `${options.label}, layer ${k} of ${of}`,
  });
}
