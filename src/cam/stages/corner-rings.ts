/**
 * What the finishing bit's own radius leaves in the corners beside shoulders and at the bottom of narrow coves: a smaller
 * bit clears it with spirals of its own, only along the stretches where it stands. On carved work (facets beside a bead, a
 * groove across a shoulder) no guide runs along such a corner, so it is looked for wherever the guides' tracks do not pass.
 */
import { sampleCourse } from '../course.ts';
import type { Tool } from '../job.ts';
import { nextTurn } from '../link.ts';
import type { Pass } from '../path.ts';
import { pitchAlong } from '../pitch.ts';
import { stopsBetween, tipRange } from '../walls.ts';
import type { Span } from '../work.ts';
import { bandsOf } from './bands.ts';
import type { StageContext } from './context.ts';
import { formSpans, tipLimits } from './finishing.ts';
import { follow, samplingOf } from './follow.ts';
import { layers, standing } from './prelayers.ts';
import { spiralNodes } from './spiral.ts';

/** Distance of the places that are looked at along x, mm. */
const SPACING = 0.25;
/** A stretch starts and ends this far beside its rest, mm. */
const LEAD = 0.5;

/** Stretches of tip positions with more wood than `least`, those close together joined. */
function stretches(xs: Float64Array, bite: Float64Array, least: number, range: Span): Span[] {
  const found: { from: number; to: number }[] = [];
  for (let i = 0; i < xs.length; i++) {
    if (bite[i] <= least) continue;
    const from = Math.max(range.from, xs[i] - LEAD);
    const to = Math.min(range.to, xs[i] + LEAD);
    const last = found.at(-1);
    if (last && from <= last.to) last.to = to;
    else found.push({ from, to });
  }
  return found.reverse();
}

/**
 * Spirals of a small bit over what is left in corners.
 * @param least wood worth a pass, mm @param where the work is round under the bit, or where it is not: that once the guides
 *   are cut, since only what stands beside their tracks counts
 * @returns passes; the wood and `ctx.at` follow
 */
export function cornerRings(ctx: StageContext, tool: Tool, least: number, where: 'round' | 'carved'): Pass[] {
  const { job, work } = ctx;
  const { bit, limits } = tool;
  const contact = ctx.contact(bit);
  const cleared = bandsOf(work, job.field.guides, bit.diameter / 2);
  const passes: Pass[] = [];
  for (const span of formSpans(job).reverse()) {
    const most = tipLimits(job, bit, span);
    const range = tipRange(work, contact, bit, span.from, span.to, most.from, most.to);
    if (!range) continue;
    const { xs, bite } = standing(
      ctx,
      tool,
      range,
      SPACING,
      where,
      where === 'carved' ? { least, cleared } : undefined,
    );
    const walls = stopsBetween(work, contact, bit, range.from, range.to);
    for (const stretch of stretches(xs, bite, least, range)) {
      passes.push(...layers(ctx, tool, stretch, walls, ', corner', 'grooves'));
      const pitch = pitchAlong(work, contact, bit, job.plan.scallop, stretch.from, stretch.to, {
        walls: walls.map((w) => w.x),
      });
      const nodes = spiralNodes(ctx, tool, contact, {
        range: stretch,
        walls,
        pitch: pitch.at,
        floor: () => 0,
        start: nextTurn(0, ctx.at?.theta ?? 0),
      });
      const samples = sampleCourse(work, contact, bit, nodes, samplingOf(job));
      const label = `corner, x ${stretch.from.toFixed(1)} to ${stretch.to.toFixed(1)}`;
      const pass = follow(ctx, tool, samples, limits.finishFeed, label, true, 'grooves');
      if (pass) passes.push(pass);
    }
  }
  return passes;
}
