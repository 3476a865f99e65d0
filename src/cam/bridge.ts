/**
 * What the bits leave of a form that falls below the stub beside it. Each bit is held above the stub, so none gets down into the
 * notch between the two: the wood left there is the closing of both under the bit's profile, what no position of it can take.
 */
import type { Bit } from '../../shared/catalog.ts';
import { SAME_X } from '../../shared/tolerances.ts';
import { profileHeight, profileOf } from './bit.ts';
import { innerRadius, type Stub } from './blank.ts';
import type { Job } from './job.ts';

/** Steps of a bit's radius; the grid starts at the joint, so that nothing farther off can shift it. */
const STEPS = 32;

/** An end of the form, or of a piece on a stick, at a stub. */
interface Joint {
  readonly x: number;
  /** The side of the joint on which the stub lies. */
  readonly way: 1 | -1;
  /** Length of the stub and the radius at which it stands, mm. */
  readonly length: number;
  readonly standing: number;
  /** The other end of the form's piece, mm. */
  readonly end: number;
}

/** Radius below which no wood is taken at x, mm; 0 where the stub is not in the way. */
export type Bridge = (x: number) => number;

function jointsOf(job: Job, low: (x: number) => number): Joint[] {
  const { stubs, field, blank } = job;
  const between = stubs.between ?? [];
  const joint = (stub: Stub, way: 1 | -1, end: number): Joint => ({
    x: way > 0 ? stub.from : stub.to,
    way,
    length: stub.to - stub.from,
    standing: Math.min(innerRadius(blank), stub.standing ?? stub.radius),
    end,
  });
  const all = [
    joint(stubs.chuck, -1, between[0]?.from ?? field.length),
    ...between.flatMap((stub, k) => [
      joint(stub, 1, between[k - 1]?.to ?? 0),
      joint(stub, -1, between[k + 1]?.from ?? field.length),
    ]),
    joint(stubs.tail, 1, between.at(-1)?.to ?? 0),
  ];
  return all.filter((j) => j.length > SAME_X && low(j.x - j.way * SAME_X) < j.standing - SAME_X);
}

/** Wood left by a bit at steps of its radius from a joint into the form, two radii far. */
function closing(joint: Joint, bit: Bit, low: (x: number) => number): { left: Float64Array; step: number } {
  const profile = profileOf(bit);
  const n = STEPS;
  const step = profile.radius / n;
  const lift = Float64Array.from({ length: n + 1 }, (_, k) =>
    profileHeight(profile, Math.min(profile.radius, k * step)),
  );
  // Places j run from 2 radii inside the stub (j < 0) to 3 radii inside the form. Where nothing is known there is no wood.
  const form = Math.abs(joint.x - joint.end);
  const surface = Float64Array.from({ length: 5 * n + 1 }, (_, k) => {
    const t = (k - 2 * n) * step;
    if (t <= 0) return -t <= joint.length ? joint.standing : 0;
    return t < form ? low(joint.x - joint.way * t) : 0;
  });
  const tip = Float64Array.from({ length: 4 * n + 1 }, (_, k) => {
    let most = 0;
    for (let j = k; j <= Math.min(5 * n, k + 2 * n); j++)
      most = Math.max(most, surface[j]! - lift[Math.abs(j - k - n)]!);
    return most;
  });
  const left = Float64Array.from({ length: 2 * n + 1 }, (_, i) => {
    let least = Infinity;
    for (let k = i; k <= i + 2 * n; k++) least = Math.min(least, tip[k]! + lift[Math.abs(k - i - n)]!);
    return least;
  });
  return { left, step };
}

/**
 * The wood that bridges the notches of a job.
 * @param bits that cut there: the one that gets deepest counts
 * @param low smallest radius of the form at x, mm
 */
export function bridgeOf(job: Job, bits: readonly Bit[], low: (x: number) => number): Bridge {
  const joints = jointsOf(job, low).map((joint) => ({ joint, cuts: bits.map((bit) => closing(joint, bit, low)) }));
  return (x) => {
    let most = 0;
    for (const { joint, cuts } of joints) {
      const t = (joint.x - x) * joint.way;
      if (t < -SAME_X) continue;
      let least = Infinity;
      for (const { left, step } of cuts) {
        const at = Math.max(0, t / step);
        // Between two steps the lower counts; two radii from the joint the stub is out of the way.
        const here = at > left.length - 1 ? 0 : Math.min(left[Math.floor(at)]!, left[Math.ceil(at)]!);
        least = Math.min(least, here);
      }
      most = Math.max(most, least);
    }
    return most;
  };
}
