/** What a control must be told of a rotary: steps per unit, speed and acceleration of its output, in the control's own units. */
import type { Bench, Control } from '../../shared/catalog.ts';
import { degrees, MM_PER_INCH, perSecond, TURN } from '../../shared/units.ts';
import { stepsPerTurn } from './rotary-step.ts';

export interface RotarySetup {
  /** Steps of the motor for one turn of the chuck: full steps × microsteps × reduction. */
  readonly stepsPerTurn: number;
  /** What the control takes one turn for: 360 degrees, or so many mm on a linear output. */
  readonly unitsPerTurn: number;
  /** Name of that unit. */
  readonly unit: '°' | 'mm';
  readonly stepsPerUnit: number;
  /** The same where the control keeps its settings in inches; only for a linear output. */
  readonly stepsPerInch?: number;
  /** Fastest that the output may run, units a minute. */
  readonly rate: number;
  /** Units a second squared. */
  readonly acceleration: number;
  /** Steps a second that the control must give at that speed. */
  readonly stepsPerSecond: number;
  /** One step of the chuck, degrees. */
  readonly step_deg: number;
}

/**
 * Works out the settings of the output that the rotary hangs on.
 * steps a unit = full steps × microsteps × reduction / units a turn; for degrees that is the usual steps per degree.
 */
export function rotarySetup(bench: Bench, control: Control): RotarySetup {
  const { maxSpeed, acceleration_deg } = bench.rotary;
  const { unitsPerTurn, linear } = control.rotary;
  const steps = stepsPerTurn(bench.rotary);
  const stepsPerUnit = steps / unitsPerTurn;
  return {
    stepsPerTurn: steps,
    unitsPerTurn,
    unit: linear ? 'mm' : '°',
    stepsPerUnit,
    ...(linear ? { stepsPerInch: stepsPerUnit * MM_PER_INCH } : {}),
    rate: maxSpeed * unitsPerTurn,
    acceleration: (acceleration_deg / degrees(TURN)) * unitsPerTurn,
    stepsPerSecond: perSecond(maxSpeed) * steps,
    step_deg: degrees(TURN) / steps,
  };
}

/**
 * Steps a unit after a turn test that did not come out at one turn.
 * @param present steps a unit that the test ran with @param turned_deg how far the chuck truly went when told one turn, degrees
 * @throws RangeError unless both are above zero
 */
export function stepsAfterTest(present: number, turned_deg: number): number {
  if (!(present > 0 && turned_deg > 0))
    throw new RangeError(`steps and turn must be > 0, got ${present}, ${turned_deg}`);
  return (present * degrees(TURN)) / turned_deg;
}
