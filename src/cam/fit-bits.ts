/** Whether the bits reach: room under the spindle, run-off beside chuck and centre, depth between standing wood. */
import type { Bit } from '../../shared/catalog.ts';
import type { Problem } from '../../shared/problems.ts';
import { CLEARANCE } from '../../shared/tolerances.ts';
import { perSecond, TURN } from '../../shared/units.ts';
import { innerRadius, outerRadius } from './blank.ts';
import { rotaryMax } from './block-time.ts';
import { cuttingPower, removalRate } from './cutting.ts';
import type { Job, Tool } from './job.ts';

const STATIONS = 300;
const ANGLES = 36;

interface Role {
  readonly name: string;
  readonly tool: Tool;
}

export function bitFit(job: Job): Problem[] {
  const roles: Role[] = [
    { name: 'roughing', tool: job.tools.roughing },
    { name: 'finishing', tool: job.tools.finishing },
    ...job.tools.detail.map((tool, i) => ({ name: `detail ${i + 1}`, tool })),
  ];
  return [
    ...roles.flatMap((r) => [...room(job, r), ...spindle(job, r)]),
    ...reach(job, roles),
    ...runOff(job, roles),
    ...slow(job),
  ];
}

/** Above the corner with the spindle at its top. */
function room(job: Job, { name, tool }: Role): Problem[] {
  const needed = job.safeRadius + tool.bit.stickOut;
  if (needed <= job.bench.roomAbove) return [];
  return [
    {
      code: 'room-above',
      severity: 'refuse',
      path: `bits.${name}`,
      message: `${tool.bit.label} stands out ${mm(tool.bit.stickOut)} mm and must clear ${mm(job.safeRadius)} mm: ${mm(needed)} mm above the centre, the bench has ${mm(job.bench.roomAbove)} mm`,
      allowed: `a stick-out of at most ${mm(job.bench.roomAbove - job.safeRadius)} mm, or a smaller blank`,
    },
  ];
}

function spindle(job: Job, { name, tool }: Role): Problem[] {
  const { bench, material } = job;
  const { rpm, stepDown, stepOver, feed } = tool.limits;
  const problems: Problem[] = [];
  if (rpm < bench.spindleMin || rpm > bench.spindleMax)
    problems.push({
      code: 'spindle-speed',
      severity: 'refuse',
      path: `bits.${name}`,
      message: `${rpm} rpm, the spindle turns ${bench.spindleMin} to ${bench.spindleMax} rpm`,
      allowed: 'a speed within that range',
    });
  const power = cuttingPower(removalRate(stepDown, stepOver, feed), material.cuttingForce);
  if (power > bench.spindlePower)
    problems.push({
      code: 'spindle-power',
      severity: 'refuse',
      path: `bits.${name}`,
      message: `${Math.round(power)} W are asked of a spindle with ${bench.spindlePower} W`,
      allowed: `a feed of at most ${Math.floor((feed * bench.spindlePower) / power)} mm/min at this depth`,
    });
  return problems;
}

/** Largest and smallest radius of the form at stations along it; kept lengths stand with the blank's corners. */
function profile(job: Job): { dx: number; top: Float64Array; low: Float64Array; kept: Uint8Array } {
  const { field } = job;
  const n = STATIONS;
  const dx = field.length / n;
  const top = new Float64Array(n + 1);
  const low = new Float64Array(n + 1).fill(Infinity);
  const kept = new Uint8Array(n + 1);
  const thetas = Float64Array.from({ length: ANGLES }, (_, j) => (j * TURN) / ANGLES);
  const ring = new Float64Array(ANGLES);
  for (let i = 0; i <= n; i++) {
    field.ring(i * dx, thetas, ring);
    for (const r of ring) {
      top[i] = Math.max(top[i]!, r);
      low[i] = Math.min(low[i]!, r);
    }
    if (field.kept.some((k) => i * dx >= k.from && i * dx <= k.to)) {
      top[i] = outerRadius(job.blank);
      kept[i] = 1;
    }
  }
  return { dx, top, low, kept };
}

/** Deepest place between wood that stands within `beside` of the bit's axis; of the kept corners every turn passes by. */
function deepest(p: ReturnType<typeof profile>, beside: number, standing: number): { depth: number; x: number } {
  const reach = Math.ceil(beside / p.dx);
  let best = { depth: 0, x: 0 };
  for (let i = 0; i < p.top.length; i++) {
    if (p.kept[i]) continue;
    for (let j = Math.max(0, i - reach); j <= Math.min(p.top.length - 1, i + reach); j++) {
      const depth = Math.max(p.top[j]!, p.kept[j] ? 0 : standing) - p.low[i]!;
      if (depth > best.depth) best = { depth, x: i * p.dx };
    }
  }
  return best;
}

function reach(job: Job, roles: readonly Role[]): Problem[] {
  const p = profile(job);
  return roles.flatMap(({ name, tool }, k) => {
    const { bit } = tool;
    // The corners are off before roughing goes deep, so what stands beside it is the circle inside the blank at the most.
    const standing = k === 0 ? innerRadius(job.blank) : 0;
    const problems: Problem[] = [];
    const holder = deepest(p, bit.holder / 2, standing);
    if (holder.depth + CLEARANCE > bit.stickOut)
      problems.push({
        code: 'bit-too-short',
        severity: k === 1 ? 'refuse' : 'warn',
        path: `bits.${name}`,
        message: `at x = ${mm(holder.x)} mm the tip goes ${mm(holder.depth)} mm below wood beside the holder, ${bit.label} stands out ${mm(bit.stickOut)} mm`,
        allowed: `a stick-out of at least ${mm(holder.depth + CLEARANCE)} mm`,
      });
    const free = freeLength(bit);
    const shank = deepest(p, Math.max(bit.shank, bit.diameter) / 2, standing);
    if (shank.depth > free)
      problems.push({
        code: 'bit-too-short',
        severity: 'warn',
        path: `bits.${name}`,
        message: `at x = ${mm(shank.x)} mm the tip goes ${mm(shank.depth)} mm below wood beside it, ${bit.label} ${bit.shank > bit.diameter ? 'is free of its shank' : 'cuts'} for ${mm(free)} mm`,
        allowed: `a bit with ${bit.shank > bit.diameter ? 'a reach' : 'flutes'} of at least ${mm(shank.depth)} mm`,
      });
    return problems;
  });
}

/** How deep a bit may go beside a wall: to its thicker shank, or, with a shank no thicker, to the end of the reach. */
const freeLength = (bit: Bit): number => (bit.shank > bit.diameter ? bit.reach : Math.max(bit.reach, bit.fluteLength));

/** The bit, and its holder where it comes low, beside what holds the work. */
function runOff(job: Job, roles: readonly Role[]): Problem[] {
  const { field } = job;
  const problems: Problem[] = [];
  for (const { name, tool } of roles) {
    const { bit } = tool;
    for (const k of job.keepOut) {
      const chuck = k.to <= 0;
      if (!chuck && k.from < field.length) continue;
      const gap = chuck ? -k.to : k.from - field.length;
      const end = chuck ? 0 : field.length;
      let radius = Infinity;
      for (let j = 0; j < ANGLES; j++) radius = Math.min(radius, field.radius(end, (j * TURN) / ANGLES));
      const parts = [
        { what: 'the bit', from: radius, half: bit.diameter / 2 },
        { what: 'its holder', from: radius + bit.stickOut, half: bit.holder / 2 },
      ];
      for (const part of parts)
        if (k.radius + CLEARANCE > part.from && part.half + CLEARANCE > gap) {
          problems.push({
            code: 'travel',
            severity: part.what === 'the bit' ? 'refuse' : 'warn',
            path: `bits.${name}`,
            message: `at the form's end ${part.what} (${bit.label}, ${mm(2 * part.half)} mm) stands ${mm(gap)} mm from the ${k.what}`,
            allowed: `a stub ${mm(part.half + CLEARANCE - gap)} mm longer, or a ${part.what === 'the bit' ? 'thinner bit' : 'longer stick-out'}`,
          });
          break;
        }
    }
  }
  return problems;
}

/** Where the rotary, not the feed, sets the pace. */
function slow(job: Job): Problem[] {
  const radius = perSecond(job.tools.finishing.limits.finishFeed) / rotaryMax(job.bench);
  if (job.field.minRadius >= radius) return [];
  return [
    {
      code: 'rotary-speed',
      severity: 'note',
      path: 'bench.rotary',
      message: `below a radius of ${mm(radius)} mm the rotary's ${job.bench.rotary.maxSpeed} turns a minute set the pace, not the finishing feed`,
    },
  ];
}

const mm = (value: number): string => String(Number(value.toFixed(1)));
