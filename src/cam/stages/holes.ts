/**
 * Radial holes: pecked straight down in plain moves with a drill of the hole's own diameter, lifted out of the hole after
 * each peck so that the chips come out.
 */
import type { Bit } from '../../../shared/catalog.ts';
import type { Problem } from '../../../shared/problems.ts';
import { SAME_DIAMETER } from '../../../shared/tolerances.ts';
import { degrees, TURN } from '../../../shared/units.ts';
import type { Hole } from '../../profiles/field.ts';
import type { Tool } from '../job.ts';
import { liftClear, linkTo, nextTurn } from '../link.ts';
import { MoveBuilder, type Pass } from '../path.ts';
import type { StageContext } from './context.ts';

/** A peck is no deeper than this many diameters (common practice, no source). */
const PECK = 1;
/** The way back down a hole is a rapid up to here above its bottom; the rest is fed, mm. */
const MARGIN = 0.5;

/** Whether a drill makes a hole. */
export const drills = (bit: Bit, hole: Hole): boolean => Math.abs(bit.diameter - hole.diameter) <= SAME_DIAMETER;

/** The drilling stage. @param tool one drill: it makes the holes of its own diameter @returns one pass a hole, in order of θ at each x */
export function holes(ctx: StageContext, tool: Tool): Pass[] {
  const mine = ctx.job.field.holes.filter((h) => drills(tool.bit, h));
  const order = [...mine].sort((a, b) => b.x - a.x || a.theta - b.theta);
  const passes: Pass[] = [];
  order.forEach((hole, k) => {
    ctx.progress(k / order.length, 'holes');
    passes.push(drill(ctx, tool, hole, `hole ${k + 1} of ${order.length}`));
  });
  return passes;
}

/** Holes that no drill of the job makes. @returns one problem for each diameter that lacks one */
export function undrilled(ctx: Pick<StageContext, 'job'>): Problem[] {
  const { field, tools } = ctx.job;
  const left = field.holes.filter((h) => !tools.drills.some((t) => drills(t.bit, h)));
  return [...new Set(left.map((h) => h.diameter))].map((d) => ({
    code: 'bit-wrong-kind',
    severity: 'refuse',
    path: 'bits.drills',
    message: `no drill of ${d} mm is there for ${left.filter((h) => h.diameter === d).length} holes`,
    allowed: `a bit of ${d} mm among the drills, or holes of another diameter`,
  }));
}

function drill(ctx: StageContext, tool: Tool, hole: Hole, label: string): Pass {
  const { job, wood } = ctx;
  const { bit, limits } = tool;
  const moves = new MoveBuilder();
  const theta = nextTurn(hole.theta, ctx.at?.theta ?? 0);
  const surface = job.field.radius(hole.x, hole.theta);
  let bottom = surface - hole.depth;
  if (bottom < 0) {
    ctx.problems.push({
      code: 'out-of-limits',
      severity: 'warn',
      path: 'carvings',
      message: `the hole at x ${hole.x.toFixed(1)}, ${degrees(hole.theta % TURN).toFixed(0)}° is ${hole.depth} mm deep, beyond the rotary centre; it is drilled to the centre`,
      allowed: `a depth of ${surface.toFixed(2)} mm from this side and another hole from the opposite side`,
    });
    bottom = 0;
  }
  const top = Math.max(surface, wood.clearance(bit, hole.x, hole.x, theta, theta)) + MARGIN;
  const peck = Math.min(PECK * bit.diameter, limits.plunge > 0 ? limits.plunge : Infinity);
  const count = Math.max(1, Math.ceil((top - MARGIN - bottom) / peck - 1e-9));
  linkTo(moves, job, wood, bit, ctx.at, { x: hole.x, r: top, theta }, limits.plungeFeed);
  let at = top;
  for (let k = 1; k <= count; k++) {
    const r = top - MARGIN - ((top - MARGIN - bottom) * k) / count;
    if (k > 1 && at + MARGIN < top) {
      moves.rapid(hole.x, top, theta);
      moves.rapid(hole.x, at + MARGIN, theta);
    }
    moves.cut(hole.x, r, theta, limits.plungeFeed);
    wood.take(bit, hole.x, at, theta, hole.x, r, theta);
    at = r;
  }
  moves.rapid(hole.x, top, theta);
  ctx.at = liftClear(moves, job, wood, bit);
  return { stage: 'holes', label, moves: moves.moves() };
}
