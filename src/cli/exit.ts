/** What the command's end means to whoever called it. */
import type { Built } from '../build.ts';

export const DONE = 0;
export const FAULT = 1;
export const WRONG_INPUT = 2;
export const REFUSED = 3;

export const exitOf = (verdict: Built['verdict']): number =>
  verdict === 'proven' ? DONE : verdict === 'invalid' ? WRONG_INPUT : REFUSED;
