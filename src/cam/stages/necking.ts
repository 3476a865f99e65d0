/**
 * Necking: beside the ends of the form, and in the parting grooves between pieces on one stick, the wood is turned down to the
 * radius that still carries the torque, so that the parts are easily parted by hand. From the tail end to the chuck end: the
 * torque of each cut runs through grooves that still stand thick. Never below the stub's radius.
 */

import type { Bit } from '../../../shared/catalog.ts';
import { CLEARANCE, FINISH_TOLERANCE, SAME_X } from '../../../shared/tolerances.ts';
import { TURN } from '../../../shared/units.ts';
import type { Stub } from '../blank.ts';
import type { Heights } from '../contact-heights.ts';
import { sampleCourse } from '../course.ts';
import type { Tool } from '../job.ts';
import { keepOutHeight, nextTurn } from '../link.ts';
import type { Pass } from '../path.ts';
import { ASIDE } from '../walls.ts';
import type { StageContext } from './context.ts';
import { follow, quantumOf } from './follow.ts';
import { spiralNodes } from './spiral.ts';

/** A neck is a slot: its layers are half as deep as those of an open cut (common practice, no source). */
const SLOT = 0.5;

/** Shank and holder keep this far from standing wood, mm. */
const BESIDE = 0.5;

/** A stub as a kernel: one height everywhere. */
const level = (radius: number): Heights => ({
  lowest: () => radius,
  along: (_xs, _thetas, out) => {
    out.fill(radius);
  },
});

/** The necking stage. @param tool a flat bit @returns its passes; the wood and `ctx.at` follow */
export function necking(ctx: StageContext, tool: Tool): Pass[] {
  const { field, stubs } = ctx.job;
  const between = [...(stubs.between ?? [])].reverse();
  return [
    ...endNeck(ctx, tool, stubs.tail, field.length, 'tail end'),
    ...between.flatMap((stub, k) => partingNeck(ctx, tool, stub, `parting ${between.length - k}`)),
    ...endNeck(ctx, tool, stubs.chuck, 0, 'chuck end'),
  ];
}

/** Whether the blank's own section goes on beyond the end: it is sawn there, unless a neck is asked for. */
const sawn = (ctx: StageContext, end: number): boolean =>
  !ctx.job.plan.necking && ctx.job.field.kept.some((k) => k.from - SAME_X <= end && end <= k.to + SAME_X);

function endNeck(ctx: StageContext, tool: Tool, stub: Stub, end: number, name: string): Pass[] {
  const R = tool.bit.diameter / 2;
  if (stub.to - stub.from <= SAME_X || sawn(ctx, end)) return [];
  const tail = end > 0;
  // Clear of the form's face; on the other side the waste may be rubbed by as much.
  const inner = tail ? stub.from + R + ASIDE : stub.to - R - ASIDE;
  const outer = tail ? stub.to - R : stub.from + R;
  return neck(ctx, tool, stub, inner, outer, tail ? 1 : -1, name);
}

/** A groove between two pieces: clear of the faces of both. */
function partingNeck(ctx: StageContext, tool: Tool, stub: Stub, name: string): Pass[] {
  const R = tool.bit.diameter / 2;
  return neck(ctx, tool, stub, stub.from + R + ASIDE, stub.to - R - ASIDE, 1, name);
}

/** @param inner where the tip stands clear of the form's face, mm @param outer as far as it may go from there, mm, on the side `way` */
function neck(
  ctx: StageContext,
  tool: Tool,
  stub: Stub,
  inner: number,
  outer: number,
  way: 1 | -1,
  name: string,
): Pass[] {
  const { job, wood, work } = ctx;
  const { bit, limits } = tool;
  const room = (outer - inner) * way;
  if (room < -2 * ASIDE) {
    ctx.problems.push({
      code: 'bit-too-thick',
      severity: 'warn',
      path: 'holding',
      message: `${bit.label} does not fit into the ${(stub.to - stub.from).toFixed(1)} mm beside the ${name}, so no neck is turned there`,
      allowed: `a stub of at least ${bit.diameter} mm, or a thinner roughing bit`,
    });
    return [];
  }
  const from = Math.min(inner, room < 0 ? inner : outer);
  const to = Math.max(inner, room < 0 ? inner : outer);
  const floor = Math.max(stub.radius, beside(ctx, bit, from, to, stub.radius));
  const top = wood.highestOver(stub.from, stub.to);
  if (top <= floor + FINISH_TOLERANCE) return [];
  if (floor > stub.radius + FINISH_TOLERANCE)
    ctx.problems.push({
      code: 'bit-too-short',
      severity: 'warn',
      path: 'holding',
      message: `the neck at the ${name} stays ${(2 * floor).toFixed(1)} mm thick, since the holder would touch beside it`,
      allowed: 'a longer stick-out, or a longer stub',
    });
  const depth = limits.stepDown * SLOT;
  const layers = Math.max(1, Math.ceil((top - floor) / depth));
  const passes: Pass[] = [];
  for (let k = 1; k <= layers; k++) {
    ctx.progress(k / (layers + 1), 'necking');
    const radius = top - ((top - floor) * k) / layers;
    const contact = level(radius);
    const nodes = spiralNodes(ctx, { ...tool, limits: { ...limits, stepDown: depth } }, contact, {
      range: { from, to },
      walls: [],
      pitch: () => limits.stepOver,
      floor: () => radius,
      start: nextTurn(0, ctx.at?.theta ?? 0),
    });
    const guard = quantumOf(job) / 2;
    const samples = sampleCourse(work, contact, bit, nodes, { chord: job.tolerance, guard });
    const pass = follow(ctx, tool, samples, limits.feed, `${name}, layer ${k} of ${layers}`, true, 'necking');
    if (pass) passes.push(pass);
  }
  return passes;
}

/** Tip radius at which shank and holder clear chuck, tailstock and the wood beside the neck. @returns mm */
function beside(ctx: StageContext, bit: Bit, from: number, to: number, radius: number): number {
  const { job, wood } = ctx;
  const keepOut = keepOutHeight(job, bit, from, to);
  let tip = keepOut > 0 ? keepOut + CLEARANCE : 0;
  for (const x of [from, (from + to) / 2, to])
    for (let j = 0; j < 72; j++) tip = Math.max(tip, wood.shankClearance(bit, x, (j * TURN) / 72, radius) + BESIDE);
  return tip;
}
