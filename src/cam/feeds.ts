/**
 * What a bit may do in a material on a bench: speeds, feeds and depths, each with the limit that set it.
 * Depths and widths start from common practice for light machines (no source: nobody publishes them) and are lowered until
 * every force stays within what bit, spindle and rotary bear.
 */
import type { Bench, Bit, Material } from '../../shared/catalog.ts';
import { cuspRadius } from './bit.ts';
import { hardwoodChipLoad, workingDiameter } from './chip-load.ts';
import {
  ballDiameterAt,
  cantileverGive,
  chipThinning,
  cuttingPower,
  edgeForce,
  feedFor,
  removalRate,
  rpmFor,
} from './cutting.ts';
import type { Asked, Limits } from './job.ts';

/** Layer depth as a share of the working diameter, before the bench's stiffness (common practice, no source). */
const DEPTH_SHARE = { softwood: 0.6, hardwood: 0.6, plastic: 0.4, metal: 0.08 } as const;
/** Step-over as a share of the diameter that cuts (common practice, no source). */
const WIDTH_SHARE = { flat: 0.4, bull: 0.4, ball: 0.35, vee: 0.25, 'tapered-ball': 0.25 } as const;
/** Share of the fastest spindle speed that is used: bearings and noise (common practice, no source). */
const SPINDLE_SHARE = 0.75;
/** Share of spindle power and of the rotary's holding torque that planning may use: motors lose torque when they move. */
const POWER_SHARE = 0.6;
const TORQUE_SHARE = 0.4;
/** A dull edge takes up to a quarter more than a sharp one (Groover, Fundamentals of Modern Manufacturing, table 20.2). */
export const DULL = 1.25;
/** How far the bit's tip may give way under the roughing load, mm: a third of the usual allowance. */
export const BIT_GIVE = 0.1;
/** Modulus of a bit of hardmetal, N/mm² (from memory; steel would be a third). */
export const HARDMETAL = 600_000;
/** The skin that finishing takes when nothing else is known, mm. */
const SKIN = 0.4;
/** Finishing may make up for thin chips by this factor at most. */
const THINNING_MAX = 1.5;

interface Choice {
  value: number;
  why: string;
}
const least = (choices: readonly Choice[]): Choice => choices.reduce((a, b) => (b.value < a.value ? b : a));
const downTo = (value: number, step: number) => Math.max(step, Math.floor(value / step + 1e-9) * step);
const tidy = (value: number, digits: number) => Number(value.toFixed(digits));

/** What the caller knows of the cut. */
export interface FeedOptions {
  /** Largest radius at which the bit pushes on the work, mm: what the rotary has to hold. */
  radius?: number;
  /** Skin that finishing takes, mm. */
  skin?: number;
  /** Numbers that the document asks for; what it leaves out is worked out from them. */
  asked?: Asked | undefined;
  /** Whether `asked.feed` is the feed of the last cut (finishing and detail bits) instead of roughing's. */
  finishes?: boolean;
}

/** What was asked for, with what would have been planned in its place. */
const asAsked = (value: number | undefined, planned: Choice, unit: string): Choice =>
  value === undefined
    ? planned
    : { value, why: `as you asked; ${tidy(planned.value, 2)} ${unit} would be planned: ${planned.why}` };

/**
 * Limits of a bit.
 * @param options.radius blank's corner radius, mm; left out, the rotary's torque is not looked at
 * @returns the numbers and one sentence for each, in the order rpm, feed, finishFeed, plungeFeed, stepDown, stepOver,
 * rampAngle, plunge
 */
export function limitsFor(bit: Bit, material: Material, bench: Bench, options: FeedOptions = {}): Limits {
  const working = workingDiameter(bit);
  const { asked = {}, finishes = false } = options;
  const speed = asAsked(asked.rpm, rpmChoice(bit, material, bench), 'rpm');
  const chip = hardwoodChipLoad(working) * material.chipLoadFactor * bench.stiffness;
  const depth = asAsked(asked.stepDown, depthChoice(bit, material, bench, chip, options.radius), 'mm');
  const cutting = bit.kind === 'ball' ? ballDiameterAt(bit.diameter, depth.value) : working;
  const share = WIDTH_SHARE[bit.kind];
  const beside = asAsked(
    asked.stepOver,
    {
      value: tidy(downTo(share * cutting, 0.01), 2),
      why: `${Math.round(share * 100)} % of the ${tidy(cutting, 2)} mm that cut`,
    },
    'mm',
  );
  const stepOver = beside.value;
  const power = bench.spindlePower * POWER_SHARE;
  const perFeed = cuttingPower(removalRate(depth.value, stepOver, 1), material.cuttingForce * DULL);
  const ceiling: Choice[] = [
    { value: bench.axialMax, why: `the bench travels no faster than ${bench.axialMax} mm/min along the axis` },
    { value: power / perFeed, why: `${Math.round(power)} W of the spindle's power are used up` },
  ];
  const fastest = least([
    {
      value: feedFor(speed.value, bit.teeth, chip),
      why: `a chip of ${chip.toFixed(3)} mm a tooth for ${tidy(working, 2)} mm in ${material.label} on this bench`,
    },
    ...ceiling,
  ]);
  const planned = { value: whole(fastest), why: fastest.why };
  const feed = finishes ? planned : asAsked(asked.feed, planned, 'mm/min');
  // Rounding comes last, so that it does not add up.
  const full = feed === planned ? fastest.value : feed.value;
  const skin = options.skin ?? SKIN;
  const round = cuspRadius(bit);
  const thinning = round > 0 ? Math.min(THINNING_MAX, 1 / chipThinning(skin, 2 * round)) : 1;
  const thin = least([
    {
      value: full * thinning,
      why:
        thinning > 1
          ? `the skin of ${skin} mm thins the chip under the rounded end, which allows ${thinning.toFixed(2)} times the roughing feed`
          : 'as roughing: a square end thins no chip',
    },
    ...ceiling,
  ]);
  const finish = asAsked(finishes ? asked.feed : undefined, { value: whole(thin), why: thin.why }, 'mm/min');
  const plungeShare = bit.centreCutting ? 0.35 : 0.2;
  const down = least([
    {
      value: full * plungeShare,
      why: `${Math.round(plungeShare * 100)} % of the feed, since ${bit.centreCutting ? 'the end cuts slowly near its centre' : 'the end does not cut to its centre'}`,
    },
    { value: bench.radialMax, why: `the bench lifts and lowers no faster than ${bench.radialMax} mm/min` },
  ]);
  const plungeFeed = asAsked(asked.plungeFeed, { value: whole(down), why: down.why }, 'mm/min');
  const plunge = bit.centreCutting ? depth.value : 0;
  const ramp = bit.centreCutting ? 3 : 1.5;
  return {
    rpm: speed.value,
    feed: feed.value,
    finishFeed: finish.value,
    plungeFeed: plungeFeed.value,
    stepDown: depth.value,
    stepOver,
    rampAngle_deg: ramp,
    plunge,
    why: [
      `Spindle ${speed.value} rpm: ${speed.why}.`,
      `Feed ${feed.value} mm/min: ${feed.why}.`,
      `Finishing feed ${finish.value} mm/min: ${finish.why}.`,
      `Plunge feed ${plungeFeed.value} mm/min: ${plungeFeed.why}.`,
      `Step-down ${depth.value} mm: ${depth.why}.`,
      `Step-over ${stepOver} mm: ${beside.why}.`,
      `Ramp ${ramp} degrees: ${bit.centreCutting ? 'the end cuts to its centre' : 'the end does not cut to its centre'}.`,
      plunge > 0
        ? `Straight down ${plunge} mm at most: one step-down.`
        : 'Never straight down: the end does not cut to its centre.',
    ],
    ...(options.asked && Object.values(options.asked).some((v) => v !== undefined) ? { asked: options.asked } : {}),
  };
}

/** A feed in tidy steps, rounded down. */
const whole = (c: Choice) => downTo(c.value, c.value >= 100 ? 10 : 1);

function rpmChoice(bit: Bit, material: Material, bench: Bench): Choice {
  const best = least([
    {
      value: rpmFor(material.surfaceSpeed, bit.diameter),
      why: `${material.label} is cut at ${material.surfaceSpeed} m/min at the most`,
    },
    {
      value: bench.spindleMax * SPINDLE_SHARE,
      why: `${SPINDLE_SHARE * 100} % of the spindle's fastest, for its bearings and your ears`,
    },
  ]);
  if (best.value < bench.spindleMin)
    return {
      value: bench.spindleMin,
      why: `the spindle turns no slower, though ${Math.round(best.value)} rpm would suit the bit (${best.why})`,
    };
  return { value: Math.max(bench.spindleMin, downTo(best.value, 100)), why: best.why };
}

function depthChoice(bit: Bit, material: Material, bench: Bench, chip: number, radius: number | undefined): Choice {
  const working = workingDiameter(bit);
  const perDepth = edgeForce(material.cuttingForce * DULL, 1, chip);
  const choices: Choice[] = [
    {
      value: DEPTH_SHARE[material.kind] * working * bench.stiffness,
      why: `${Math.round(DEPTH_SHARE[material.kind] * 100)} % of the working diameter times the bench's stiffness ${bench.stiffness}`,
    },
    { value: bit.fluteLength, why: 'the length of the flutes' },
    {
      value: BIT_GIVE / cantileverGive(perDepth, bit.stickOut, working, HARDMETAL),
      why: `the bit gives ${BIT_GIVE} mm at ${bit.stickOut} mm of stick-out`,
    },
  ];
  if (radius !== undefined)
    choices.push({
      value: (bench.rotary.holdingTorque * 1000 * TORQUE_SHARE) / (perDepth * radius),
      why: `${TORQUE_SHARE * 100} % of the rotary's holding torque at a radius of ${tidy(radius, 1)} mm`,
    });
  const best = least(choices);
  return { value: tidy(downTo(best.value, 0.01), 2), why: best.why };
}
