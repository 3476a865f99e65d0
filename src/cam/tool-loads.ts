/** What a bit's numbers load: edge, spindle, rotary, and the bit itself at its stick-out. */
import { outerRadius } from './blank.ts';
import { hardwoodChipLoad, workingDiameter } from './chip-load.ts';
import { cantileverGive, cuttingPower, removalRate } from './cutting.ts';
import { DULL, HARDMETAL } from './feeds.ts';
import type { Job, Tool } from './job.ts';
import { bitForce } from './strength.ts';

export interface ToolLoads {
  /** mm a tooth, and what the bit would be planned to take at full width. */
  readonly chip: number;
  readonly plannedChip: number;
  /** On the edge, dull, N. */
  readonly force: number;
  /** At the edge, dull, and its share of what the spindle has, W. */
  readonly power: number;
  readonly spindleShare: number;
  /** At the blank's corner, and its share of what the rotary holds, Nm. */
  readonly torque: number;
  readonly rotaryShare: number;
  /** How far the bit's tip gives way at its stick-out, mm. */
  readonly bitGive: number;
}

/** Loads of a bit at its full step-down and feed. */
export function toolLoads(job: Job, tool: Tool): ToolLoads {
  const { bit, limits } = tool;
  const { material, bench } = job;
  const force = bitForce(tool, material, limits.stepDown, limits.feed);
  const power = cuttingPower(removalRate(limits.stepDown, limits.stepOver, limits.feed), material.cuttingForce * DULL);
  const torque = (force * outerRadius(job.blank)) / 1000;
  return {
    chip: limits.feed / (limits.rpm * bit.teeth),
    plannedChip: hardwoodChipLoad(workingDiameter(bit)) * material.chipLoadFactor * bench.stiffness,
    force,
    power,
    spindleShare: power / bench.spindlePower,
    torque,
    rotaryShare: torque / bench.rotary.holdingTorque,
    bitGive: cantileverGive(force, bit.stickOut, workingDiameter(bit), HARDMETAL),
  };
}

const percent = (share: number): string => `${Math.max(1, Math.round(100 * share))} %`;

/** The loads in one plain sentence. */
export const loadsSentence = (l: ToolLoads, stiffness: number): string =>
  `Load ${l.force.toFixed(1)} N on a dull edge: ${l.power.toFixed(0)} W (${percent(l.spindleShare)} of the spindle), ${l.torque.toFixed(2)} Nm at the corners (${percent(l.rotaryShare)} of what the rotary holds), the bit gives ${l.bitGive.toFixed(3)} mm; work between chuck and point is held less firmly than clamped flat, so chip and layer are already multiplied by ${stiffness}.`;
