/** How far a rotary word may count before the control's numbers get too coarse for it. */

import type { Control } from '../../shared/catalog.ts';
import { ROTARY_GRAIN } from '../../shared/tolerances.ts';
import { degrees, TURN } from '../../shared/units.ts';
import { wordsPerTurn } from './control.ts';

/**
 * Largest rotary word (absolute value, program units) at which neighbouring numbers of the control lie no further apart
 * than ROTARY_GRAIN. A number of b significant bits in [2^e, 2^(e+1)) has the step 2^(e−b+1) (IEEE 754), so the limit is
 * 2^(⌊log₂ grain⌋ + b): 16,384 for degrees in single precision.
 */
export function rotaryLimit(control: Control): number {
  const grain = (ROTARY_GRAIN * wordsPerTurn(control)) / degrees(TURN);
  return 2 ** (Math.floor(Math.log2(grain)) + control.significandBits);
}

/** The longest whole number of turns that stays within the limit, program units; 0 if not even one does. */
export const wholeTurns = (control: Control): number => {
  const turn = wordsPerTurn(control);
  return Math.floor(rotaryLimit(control) / turn) * turn;
};
