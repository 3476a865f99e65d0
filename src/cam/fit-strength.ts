/** Whether the part holds while it is cut: bending, torque in its necks, strength, and the tone at which it hums. */
import type { Change, Problem } from '../../shared/problems.ts';
import type { Job } from './job.ts';
import { change, downTo, mm, upTo } from './mend.ts';
import { SAFE, type Strength, strengthOf, torsionLimit } from './strength.ts';

/** Length over diameter beyond which a part between two ends wants lighter cuts or a steady (common practice, no source). */
const SLENDER = 12;
/** Teeth that strike this near to the part's own tone make it ring: a fifth away the answer is still more than doubled. */
const NEAR_TONE = 0.2;
/** A part this stiff does not ring to be heard: give under finishing as a share of the tolerance. */
const STILL = 0.1;
/** The allowance is not made smaller than this by an offered change, mm: roughing leaves ridges. */
const LEAST_ALLOWANCE = 0.2;

export function strengthFit(job: Job): Problem[] {
  const strength = strengthOf(job);
  const broken = breaks(job, strength);
  // How far a part bends that breaks is nobody's question.
  if (broken.some((p) => p.severity === 'refuse')) return broken;
  return [...broken, ...bends(job, strength), ...hums(job, strength), ...slender(job, strength)];
}

/** A lighter finishing cut: force goes with the skin that it takes. */
function thinnerSkin(job: Job, share: number): Change[] {
  const allowance = downTo(job.plan.allowance * share, 0.05);
  return allowance >= LEAST_ALLOWANCE && allowance < job.plan.allowance
    ? [change(`an allowance of ${allowance} mm for finishing`, { path: 'plan.allowance', value: allowance })]
    : [];
}

/** Lighter roughing: force goes with the depth of a layer. */
function thinnerLayers(job: Job, share: number): Change[] {
  const stepDown = downTo(job.tools.roughing.limits.stepDown * share, 0.1);
  return stepDown >= 0.2
    ? [change(`roughing in layers of ${stepDown} mm`, { path: 'feeds.roughing.stepDown', value: stepDown })]
    : [];
}

function bends(job: Job, strength: Strength): Problem[] {
  const bend = strength.finishingDeflection;
  if (bend <= job.tolerance) return [];
  const at = strength.stations.reduce((a, b) => (b.finishing > a.finishing ? b : a));
  const slowed = at.finishingFeed < 1 ? ` even at ${Math.round(100 * at.finishingFeed)} % of its feed` : '';
  return [
    {
      code: 'bends',
      severity: 'warn',
      path: 'form',
      message: `at x = ${mm(at.x)} mm the part gives ${bend.toFixed(2)} mm under the finishing bit${slowed} (up to ${strength.finishingForce.toFixed(1)} N; tolerance ${job.tolerance} mm), so it comes out thicker there`,
      allowed: 'a steady, a smaller allowance, or a thicker or shorter part',
      x: at.x,
      measure: { got: bend, bound: job.tolerance, unit: 'mm' },
      changes: thinnerSkin(job, job.tolerance / bend),
    },
  ];
}

/** Necks sheared by torque (τ = 16T/πd³), and parts broken by bending. */
function breaks(job: Job, strength: Strength): Problem[] {
  if (strength.safetyFactor >= SAFE) return [];
  const at = strength.stations.find((s) => s.x === strength.weakestX)!;
  // Roughing can still be made lighter by hand unless that was done already; what finishing breaks cannot be made at all.
  const severity =
    strength.finishingSafety < 1 || (job.ease !== undefined && strength.safetyFactor < 1) ? 'refuse' : 'warn';
  const share = strength.safetyFactor / SAFE;
  const lighter =
    at.weakestIn === 'finishing' || at.weakestIn === 'grooves' ? thinnerSkin(job, share) : thinnerLayers(job, share);
  if (at.torsionSafety <= at.bendingSafety) {
    const { neck } = strength;
    const needed = Math.cbrt((16 * neck.torque * SAFE) / (Math.PI * torsionLimit(job.material)));
    return [
      {
        code: 'neck-shears',
        severity,
        path: 'form',
        message: `${(neck.torque / 1000).toFixed(3)} Nm of ${neck.stage} twist the neck of ${neck.diameter.toFixed(1)} mm at x = ${mm(neck.x)} mm, which carries that only ${neck.safety.toFixed(1)} times over`,
        allowed: `at least ${upTo(needed, 0.1)} mm there for twofold safety, or lighter cuts`,
        x: neck.x,
        measure: { got: neck.diameter, bound: needed, unit: 'mm' },
        changes: lighter,
      },
    ];
  }
  return [
    {
      code: 'slender',
      severity,
      path: 'form',
      message: `under the bit the part has only ${strength.safetyFactor.toFixed(1)} times the strength it needs, weakest with ${at.weakestIn} at x = ${mm(strength.weakestX)} mm`,
      allowed: 'a smaller step-down, a thicker neck, or a steady',
      x: strength.weakestX,
      measure: { got: strength.safetyFactor, bound: SAFE, unit: 'times' },
      changes: lighter,
    },
  ];
}

/** A forced beat near the bar's own tone is answered 1/|1 − (f/f₀)²| times as strongly (any textbook of vibration). */
function hums(job: Job, strength: Strength): Problem[] {
  const { tone, teeth } = strength;
  if (Math.abs(teeth / tone - 1) > NEAR_TONE || strength.finishingDeflection < STILL * job.tolerance) return [];
  const { bit } = job.tools.finishing;
  const { spindleMin, spindleMax } = job.bench;
  // Just outside the band, slower by preference: slower runs cooler and quieter.
  const slower = downTo((tone * (1 - NEAR_TONE) * 60) / bit.teeth, 100);
  const faster = upTo((tone * (1 + NEAR_TONE) * 60) / bit.teeth, 100);
  const speeds = [slower, faster].filter((rpm) => rpm >= spindleMin && rpm <= spindleMax);
  return [
    {
      code: 'hums',
      severity: 'warn',
      path: 'feeds.finishing.rpm',
      message: `${Math.round(teeth)} teeth a second strike near the part's own tone of ${Math.round(tone)} a second: it will chatter`,
      allowed: `a spindle speed that keeps a fifth away from it: below ${slower} or above ${faster} rpm`,
      measure: { got: teeth, bound: tone, unit: 'Hz' },
      changes: speeds.map((rpm) => change(`finishing at ${rpm} rpm`, { path: 'feeds.finishing.rpm', value: rpm })),
    },
  ];
}

function slender(job: Job, strength: Strength): Problem[] {
  const ratio = job.field.length / (2 * job.field.minRadius);
  if (ratio <= SLENDER || strength.finishingDeflection > job.tolerance) return [];
  const slowed = strength.stations.filter((s) => s.finishingFeed < 1 && s.x >= 0 && s.x <= job.field.length);
  const where = slowed.length
    ? `; its feed is brought down to ${Math.round(100 * Math.min(...slowed.map((s) => s.finishingFeed)))} % between x ${mm(slowed[0]!.x)} and ${mm(slowed.at(-1)!.x)} mm, where it would bend past the tolerance`
    : '; it may hum';
  return [
    {
      code: 'slender',
      severity: 'note',
      path: 'form',
      message: `the part is ${Math.round(ratio)} times as long as its thinnest diameter${where}`,
      allowed: 'lighter cuts or a steady if it chatters',
    },
  ];
}
