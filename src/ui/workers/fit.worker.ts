/** Whether the part fits its bench and holds under the bit, in a thread of its own: asked at every step of a slider. */
import { expose } from 'comlink';
import { checkFit } from '../../cam/fit.ts';
import { strengthOf } from '../../cam/strength.ts';
import type { FitResult, Raw } from '../state/contract.ts';
import { derive } from '../state/derive.ts';

const api = {
  /** @param raw a document that makes a job @throws Error in words if it makes none */
  fit(raw: Raw): FitResult {
    const { job } = derive(raw);
    if (!job) throw new Error('the part is not complete yet');
    return { problems: checkFit(job), strength: strengthOf(job) };
  },
};
export type FitApi = typeof api;

expose(api);
