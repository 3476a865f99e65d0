/** How finely a rotary can stand. */
import type { Bench } from '../../shared/catalog.ts';
import { TURN } from '../../shared/units.ts';

/** Microsteps of one turn of the chuck: full steps × microsteps × reduction. */
export const stepsPerTurn = (rotary: Bench['rotary']): number =>
  rotary.fullSteps * rotary.microsteps * rotary.reduction;

/** Angle of one microstep at the chuck, radians. */
export const rotaryStep = (rotary: Bench['rotary']): number => TURN / stepsPerTurn(rotary);
