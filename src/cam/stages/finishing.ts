/**
 * Finishing: the bit follows the work as low as the contact kernel allows, in one spiral for each stretch between kept
 * ranges, from the tailstock toward the chuck so that the wood that carries the torque stays thick. θ only grows.
 * Where the wood still stands higher than the bit may bite, it is taken down in layers first.
 */
import type { Bit } from '../../../shared/catalog.ts';
import type { Problem } from '../../../shared/problems.ts';
import { sampleCourse } from '../course.ts';
import type { Job, Tool } from '../job.ts';
import { nextTurn } from '../link.ts';
import type { Pass } from '../path.ts';
import { pitchAlong } from '../pitch.ts';
import { ASIDE, stopsBetween, tipRange, type Wall } from '../walls.ts';
import { type Span, untouched } from '../work.ts';
import type { StageContext } from './context.ts';
import { follow, samplingOf } from './follow.ts';
import { layers } from './prelayers.ts';
import { spiralNodes } from './spiral.ts';
import { strokes } from './strokes.ts';

/** Stretches of the form that are turned: what lies between the untouched ranges. @returns ascending, mm */
export function formSpans(job: Pick<Job, 'field' | 'blank'>): Span[] {
  const spans: Span[] = [];
  let from = 0;
  for (const k of untouched(job)) {
    if (k.from > from) spans.push({ from, to: k.from });
    from = Math.max(from, k.to);
  }
  if (job.field.length > from) spans.push({ from, to: job.field.length });
  return spans;
}

/** How far along x the tip may go for a stretch: the bit stays over the blank and beside chuck and tailstock. @returns mm */
export function tipLimits(job: Job, bit: Bit, span: Span): Span {
  const R = bit.diameter / 2;
  let from = job.blank.from + R;
  let to = job.blank.to - R;
  for (const k of job.keepOut) {
    if (k.to <= span.from) from = Math.max(from, k.to + R + ASIDE);
    if (k.from >= span.to) to = Math.min(to, k.from - R - ASIDE);
  }
  return { from, to };
}

/** The finishing stage. @param tool the finishing bit @returns its passes; the wood and `ctx.at` follow */
export function finishing(ctx: StageContext, tool: Tool): Pass[] {
  const { job, work } = ctx;
  const { bit } = tool;
  const contact = ctx.contact(bit);
  const spans = formSpans(job).reverse();
  const passes: Pass[] = [];
  for (const [k, span] of spans.entries()) {
    ctx.progress(k / spans.length, 'finishing');
    const most = tipLimits(job, bit, span);
    const range = tipRange(work, contact, bit, span.from, span.to, most.from, most.to);
    if (!range) {
      ctx.problems.push(tooNarrow(span, bit));
      continue;
    }
    const name = spans.length > 1 ? `, stretch ${k + 1} of ${spans.length}` : '';
    const walls = stopsBetween(work, contact, bit, range.from, range.to);
    passes.push(...layers(ctx, tool, range, walls, name));
    if (job.plan.finishing === 'along') passes.push(...strokes(ctx, tool, range, walls, name));
    else passes.push(...spiral(ctx, tool, range, walls, name));
  }
  ctx.progress(1, 'finishing');
  return passes;
}

const tooNarrow = (span: Span, bit: Bit): Problem => ({
  code: 'bit-too-thick',
  severity: 'warn',
  path: 'bits',
  message: `${bit.label} does not come down between ${span.from.toFixed(1)} and ${span.to.toFixed(1)} mm, so that stretch is not finished`,
  allowed: 'a thinner finishing bit',
});

function spiral(ctx: StageContext, tool: Tool, range: Span, walls: readonly Wall[], name: string): Pass[] {
  const { job, work } = ctx;
  const { bit, limits } = tool;
  const contact = ctx.contact(bit);
  const pitch = pitchAlong(work, contact, bit, job.plan.scallop, range.from, range.to, {
    walls: walls.map((w) => w.x),
    skipNarrow: job.tools.detail.length > 0,
  });
  if (pitch.capped)
    ctx.problems.push({ code: 'bit-wrong-kind', severity: 'note', path: 'plan.scallop', message: pitch.capped });
  const nodes = spiralNodes(ctx, tool, contact, {
    range,
    walls,
    pitch: pitch.at,
    floor: () => 0,
    start: nextTurn(0, ctx.at?.theta ?? 0),
  });
  const samples = sampleCourse(work, contact, bit, nodes, samplingOf(job));
  const pass = follow(ctx, tool, samples, limits.finishFeed, `spiral${name}`, job.tools.detail.length > 0);
  return pass ? [pass] : [];
}
