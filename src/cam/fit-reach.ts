/**
 * Whether the bits reach the deepest places between the wood that still stands there: flutes, reach, shank and holder. What
 * stands beside a bit depends on the moment: kept corners always, for roughing the layer above or, where the part is cut in
 * bays, the round of the next bay; for later bits the form itself.
 */
import type { Bit } from '../../shared/catalog.ts';
import type { Change, Problem } from '../../shared/problems.ts';
import { CLEARANCE } from '../../shared/tolerances.ts';
import { TURN } from '../../shared/units.ts';
import { innerRadius, outerRadius } from './blank.ts';
import type { Job } from './job.ts';
import { change, likeBits, mm, type Role, reset, rolesOf, upTo, withBit } from './mend.ts';

const STATIONS = 300;
const ANGLES = 36;
/** Longer than this many of its mean diameters, a piece is roughed in bays: then the next bay stands high beside the bit. */
const SLENDER = 12;

/** The form's largest and smallest radius along it; kept lengths stand with the blank's corners. */
interface Profile {
  readonly dx: number;
  readonly top: Float64Array;
  readonly low: Float64Array;
  readonly kept: Uint8Array;
  readonly slender: boolean;
}

const known = new WeakMap<Job, Profile>();

function profileOf(job: Job): Profile {
  const found = known.get(job);
  if (found) return found;
  const { field } = job;
  const n = STATIONS;
  const dx = field.length / n;
  const top = new Float64Array(n + 1);
  const low = new Float64Array(n + 1).fill(Infinity);
  const kept = new Uint8Array(n + 1);
  const round = field.isRound(0, field.length);
  const thetas = Float64Array.from({ length: round ? 1 : ANGLES }, (_, j) => (j * TURN) / ANGLES);
  const ring = new Float64Array(thetas.length);
  let sum = 0;
  for (let i = 0; i <= n; i++) {
    field.ring(i * dx, thetas, ring);
    for (const r of ring) {
      top[i] = Math.max(top[i]!, r);
      low[i] = Math.min(low[i]!, r);
    }
    sum += low[i]!;
    if (field.kept.some((k) => i * dx >= k.from && i * dx <= k.to)) {
      top[i] = outerRadius(job.blank);
      kept[i] = 1;
    }
  }
  const slender = job.blank.to - job.blank.from > (SLENDER * 2 * sum) / (n + 1);
  const profile = { dx, top, low, kept, slender };
  known.set(job, profile);
  return profile;
}

interface Deep {
  readonly depth: number;
  readonly x: number;
  /** Whether it is a corner of the blank itself that stands beside it. */
  readonly corner: boolean;
}

/** Deepest place between wood that stands within `beside` of the bit's axis; of the kept corners every turn passes by. */
function deepest(job: Job, role: Role, beside: number): Deep {
  const p = profileOf(job);
  const reach = Math.ceil(beside / p.dx);
  const inner = innerRadius(job.blank);
  const layer = role.tool.limits.stepDown;
  let best: Deep = { depth: 0, x: 0, corner: false };
  for (let i = 0; i < p.top.length; i++) {
    if (p.kept[i]) continue;
    const standing = role.kind !== 'roughing' ? 0 : p.slender ? inner : Math.min(inner, p.low[i]! + layer);
    for (let j = Math.max(0, i - reach); j <= Math.min(p.top.length - 1, i + reach); j++) {
      const depth = Math.max(p.top[j]!, p.kept[j] ? 0 : standing) - p.low[i]!;
      if (depth > best.depth) best = { depth, x: i * p.dx, corner: p.kept[j] === 1 };
    }
  }
  return best;
}

/** How deep a bit may go beside a wall: to its thicker shank, or, with a shank no thicker, to the end of the reach. */
const freeLength = (bit: Bit): number => (bit.shank > bit.diameter ? bit.reach : Math.max(bit.reach, bit.fluteLength));

/** Stick-out that keeps the holder above the wood beside it, mm; half a millimetre on the safe side. */
export const neededStickOut = (job: Job, role: Role): number =>
  upTo(
    Math.max(
      deepest(job, role, role.tool.bit.holder / 2).depth + CLEARANCE,
      deepest(job, role, Math.max(role.tool.bit.shank, role.tool.bit.diameter) / 2).depth,
    ),
    0.5,
  );

/** Whether a bit in this role clears everything beside it, and the bench's room above. */
function does(job: Job, role: Role, bit: Bit): boolean {
  const as = { ...role, tool: { ...role.tool, bit } };
  return (
    deepest(job, as, bit.holder / 2).depth + CLEARANCE <= bit.stickOut &&
    deepest(job, as, Math.max(bit.shank, bit.diameter) / 2).depth <= freeLength(bit) &&
    Math.max(job.safeRadius, ...job.keepOut.map((k) => k.radius + CLEARANCE)) + bit.stickOut <= job.bench.roomAbove
  );
}

/** Bits of the catalog that would reach, then the same bit further out of its holder. */
function longer(job: Job, role: Role): Change[] {
  const { bit } = role.tool;
  const out = likeBits(bit)
    .filter((b) => does(job, role, b))
    .slice(0, 2)
    .map((b) =>
      change(`${b.label}, free for ${mm(freeLength(b))} mm and ${mm(b.stickOut)} mm out`, withBit(job, role, b)),
    );
  const stickOut = neededStickOut(job, role);
  if (stickOut > bit.stickOut && does(job, role, { ...bit, stickOut }))
    out.push(
      change(
        `${bit.label} let out to ${stickOut} mm, if its shank is that long`,
        withBit(job, role, reset(bit, stickOut)),
      ),
    );
  return out;
}

export function reachFit(job: Job): Problem[] {
  return rolesOf(job).flatMap((role) => {
    const { bit } = role.tool;
    const problems: Problem[] = [];
    const from = (d: Deep) => (d.corner ? 'the corner that stays' : 'wood');
    const holder = deepest(job, role, bit.holder / 2);
    if (holder.depth + CLEARANCE > bit.stickOut)
      problems.push({
        code: 'bit-too-short',
        severity: role.kind === 'finishing' ? 'refuse' : 'warn',
        path: role.path,
        message: `at x = ${mm(holder.x)} mm the tip goes ${mm(holder.depth)} mm below ${from(holder)} beside the holder, ${bit.label} stands out ${mm(bit.stickOut)} mm`,
        allowed: `a stick-out of at least ${mm(holder.depth + CLEARANCE)} mm`,
        x: holder.x,
        measure: { got: bit.stickOut, bound: holder.depth + CLEARANCE, unit: 'mm' },
        changes: longer(job, role),
      });
    const free = freeLength(bit);
    const shank = deepest(job, role, Math.max(bit.shank, bit.diameter) / 2);
    if (shank.depth > free)
      problems.push({
        code: 'bit-too-short',
        severity: 'warn',
        path: role.path,
        message: `at x = ${mm(shank.x)} mm the tip goes ${mm(shank.depth)} mm below ${from(shank)} beside it, ${bit.label} ${bit.shank > bit.diameter ? 'is free of its shank' : 'cuts'} for ${mm(free)} mm`,
        allowed: `a bit with ${bit.shank > bit.diameter ? 'a reach' : 'flutes'} of at least ${mm(shank.depth)} mm`,
        x: shank.x,
        measure: { got: free, bound: shank.depth, unit: 'mm' },
        changes: longer(job, role),
      });
    return problems;
  });
}
