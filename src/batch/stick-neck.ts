/**
 * Necks between pieces on one stick: wide enough for the saw and for the bits that come down beside the pieces' faces, thick
 * enough for what the bits do to the rest of the stick while they stand.
 */
import { CLEARANCE } from '../../shared/tolerances.ts';
import { outerRadius } from '../cam/blank.ts';
import type { Job } from '../cam/job.ts';
import { bendingLimit, finishingForce, NECK_SAFETY, roughingForce, stubRadiusFor } from '../cam/strength.ts';

export interface Neck {
  /** Diameter that is left standing, mm. */
  readonly diameter: number;
  /** Length along the axis, mm. */
  readonly width: number;
  /** What asked for them, one plain sentence each. */
  readonly why: readonly string[];
}

/** Necks are turned to whole halves of a millimetre. */
const STEP = 0.5;
const up = (mm: number): number => Math.ceil(mm / STEP - 1e-9) * STEP;

/** Width of the groove, mm. @param saw what the saw takes with its play, mm */
export function neckWidth(job: Job, saw: number): number {
  const { roughing, finishing, detail, drills } = job.tools;
  const widest = Math.max(...[roughing, finishing, ...detail, ...drills].map((t) => t.bit.diameter));
  return Math.max(Math.ceil(widest + CLEARANCE), Math.ceil(saw));
}

/**
 * The neck of a stick.
 * Twist: 16T/(πd³) kept under a fourth of the shear strength, T the harder of the two bits at the blank's corner.
 * Bending: 32M/(πd³) kept under a fourth of the bending strength, M = F·L/4 of the finishing bit in the middle of a bar on two
 * points (Wood Handbook ch. 9; Roark's Formulas, table of beams, case 1e; both from memory): roughing bends the stick while its
 * grooves and the pieces' thin places still stand thick, which `strengthInOrder` follows pass by pass.
 * @param job of the stick as it lies between chuck and centre
 */
export function neckOf(job: Job, saw: number): Neck {
  const torque = Math.max(roughingForce(job), finishingForce(job)) * outerRadius(job.blank);
  const twisted = up(2 * stubRadiusFor(torque, job.material));
  const free = job.blank.to - job.blank.from - job.holding.chuckGrip;
  // Without a centre the stick is a bracket: the bit bends it at its whole length.
  const moment = finishingForce(job) * (job.holding.tailstock ? free / 4 : free);
  const bent = up(Math.cbrt((32 * moment * NECK_SAFETY) / (Math.PI * bendingLimit(job.material))));
  const width = neckWidth(job, saw);
  const most = up(Math.min(job.blank.width, job.blank.height) - STEP);
  return {
    diameter: Math.min(most, Math.max(twisted, bent, THINNEST)),
    width,
    why: [
      `twist: ${(torque / 1000).toFixed(2)} Nm at the blank's corner with ${NECK_SAFETY}-fold safety need ${twisted} mm`,
      `bending: ${finishingForce(job).toFixed(1)} N in the middle of ${Math.round(free)} mm with ${NECK_SAFETY}-fold safety need ${bent} mm`,
      `width: the thickest bit and its clearance, or the saw's ${saw} mm`,
    ],
  };
}

/** Thinner than this a neck tears when the stick is handled, mm (common practice, no source). */
const THINNEST = 8;
