/**
 * How long a motion will take on a control that looks ahead over a buffer of blocks and keeps the acceleration of each
 * axis. Cost O(blocks). Blocks are measured as the control measures them, mm and the rotary's own units together.
 *
 * Speed at a joint: the junction-deviation rule, v² = a·δ·s/(1 − s) with s = sin(half the angle between the two ways): the
 * speed of a circle that touches both and passes δ from the corner. Then a backward and a forward pass with v² = u² + 2aL,
 * and the closed form of a trapezoid in each block. The time asked by F is a floor.
 * What it leaves out: jerk, the servo's lag, and how a given control blends corners; measure one program and scale.
 */
import type { Bench, Control } from '../../shared/catalog.ts';
import { perSecond, TURN } from '../../shared/units.ts';
import type { Motion } from './motion.ts';
import type { StageName } from './path.ts';

/** How the control plans ahead; defaults are common practice for small controls (no source). */
export interface LookAhead {
  /** How far a corner may be cut, mm. */
  junction?: number;
  /** Blocks that are known ahead. */
  blocks?: number;
  /** Multiplies every acceleration: for a band of likely times. */
  acceleration?: number;
}
const JUNCTION = 0.02;
const BLOCKS = 24;

export interface TimeEstimate {
  readonly total_s: number;
  /** In the order of the motion's stages; rapids count to the stage in which they happen. */
  readonly stages: readonly { readonly stage: StageName; readonly time_s: number }[];
  /** Of the total: rapids, and what accelerations cost over the times asked by F. */
  readonly rapid_s: number;
  readonly acceleration_s: number;
  readonly dwell_s: number;
}

/** Estimated time of a motion, starting and ending at rest. @param control whose units measure the rotary */
export function estimateTime(motion: Motion, bench: Bench, control: Control, ahead: LookAhead = {}): TimeEstimate {
  const n = motion.count;
  const junction = ahead.junction ?? JUNCTION;
  const buffer = ahead.blocks ?? BLOCKS;
  const gain = ahead.acceleration ?? 1;
  const perTurn = control.rotary.unitsPerTurn;
  const V = [
    perSecond(bench.axialMax),
    perSecond(bench.radialMax),
    perSecond(bench.rotary.maxSpeed) * perTurn,
  ] as const;
  const A = [
    bench.axialAcceleration * gain,
    bench.radialAcceleration * gain,
    (bench.rotary.acceleration_deg / 360) * perTurn * gain,
  ] as const;
  const length = new Float64Array(n);
  const speed = new Float64Array(n);
  const accel = new Float64Array(n);
  /** Speed at the end of block i. */
  const exit = new Float64Array(n);
  /** Sum of 2aL up to and with block i: what braking can take off the squared speed. */
  const braking = new Float64Array(n + 1);
  let px = 0;
  let pr = 0;
  let pa = 0;
  for (let i = 0; i < n; i++) {
    const x = motion.dx[i]!;
    const r = motion.dr[i]!;
    const a = (motion.dTheta[i]! / TURN) * perTurn;
    const L = Math.hypot(x, r, a);
    length[i] = L;
    if (L === 0) {
      // Nothing moves: the neighbours meet at rest.
      accel[i] = 1;
      braking[i + 1] = braking[i]!;
      px = pr = pa = 0;
      continue;
    }
    const ux = x / L;
    const ur = r / L;
    const ua = a / L;
    const fastest = along(V, ux, ur, ua);
    accel[i] = along(A, ux, ur, ua);
    const t = motion.time[i]!;
    speed[i] = t > 0 ? Math.min(fastest, L / t) : fastest;
    braking[i + 1] = braking[i]! + 2 * accel[i]! * L;
    if (i > 0 && length[i - 1]! > 0) {
      const s = Math.sqrt(Math.max(0, (1 + px * ux + pr * ur + pa * ua) / 2));
      let joint = Math.min(speed[i - 1]!, speed[i]!);
      if (s < 1 - 1e-9) {
        const ex = ux - px;
        const er = ur - pr;
        const ea = ua - pa;
        const e = Math.hypot(ex, er, ea);
        joint = Math.min(joint, Math.sqrt((along(A, ex / e, er / e, ea / e) * junction * s) / (1 - s)));
      }
      exit[i - 1] = joint;
    }
    px = ux;
    pr = ur;
    pa = ua;
  }
  for (let i = 0; i < n - 1; i++) {
    const last = Math.min(n, i + 1 + buffer);
    exit[i] = Math.min(exit[i]!, Math.sqrt(braking[last]! - braking[i + 1]!));
  }
  for (let i = n - 2; i >= 0; i--)
    exit[i] = Math.min(exit[i]!, Math.sqrt(exit[i + 1]! ** 2 + 2 * accel[i + 1]! * length[i + 1]!));
  let entry = 0;
  let rapid_s = 0;
  let asked = 0;
  let total = 0;
  const perStage = new Float64Array(motion.stages.length);
  for (let i = 0; i < n; i++) {
    exit[i] = Math.min(exit[i]!, Math.sqrt(entry * entry + 2 * accel[i]! * length[i]!));
    const floor = motion.rapid[i] ? 1 / bench.blocksPerSecond : motion.time[i]!;
    const t = Math.max(floor, trapezoid(length[i]!, entry, exit[i]!, speed[i]!, accel[i]!));
    total += t;
    perStage[motion.stage[i]!]! += t;
    if (motion.rapid[i]) rapid_s += t;
    else asked += motion.time[i]!;
    entry = exit[i]!;
  }
  return {
    total_s: total + motion.dwell_s,
    stages: motion.stages.map((stage, i) => ({ stage, time_s: perStage[i]! })),
    rapid_s,
    acceleration_s: total - rapid_s - asked,
    dwell_s: motion.dwell_s,
  };
}

/** The largest magnitude along a direction that keeps each axis within its limit. */
function along(limit: readonly [number, number, number], ux: number, ur: number, ua: number): number {
  return Math.min(limit[0] / Math.abs(ux), limit[1] / Math.abs(ur), limit[2] / Math.abs(ua));
}

/** Time over a length L from speed v0 to v1, at most v, with acceleration a: exact for uniform acceleration. @returns s */
export function trapezoid(L: number, v0: number, v1: number, v: number, a: number): number {
  if (L === 0) return 0;
  const peak = Math.sqrt(a * L + (v0 * v0 + v1 * v1) / 2);
  if (peak <= v) return (2 * peak - v0 - v1) / a;
  return (v - v0) / a + (v - v1) / a + (L - (2 * v * v - v0 * v0 - v1 * v1) / (2 * a)) / v;
}
