/** Whether the part fits its bench and holds under the bit, in a thread of its own: asked at every step of a slider. */
import { expose } from 'comlink';
import { strengthOf } from '../../cam/strength.ts';
import { fitProblems, triedChanges } from '../../resolve/checked-part.ts';
import type { FitResult, Raw } from '../state/contract.ts';
import { derive } from '../state/derive.ts';

const api = {
  /** @param raw a document that makes a job @throws Error in words if it makes none */
  fit(raw: Raw): FitResult {
    const { part, job } = derive(raw);
    if (!part || !job) throw new Error('the part is not complete yet');
    return { problems: triedChanges(part, fitProblems(part, job)), strength: strengthOf(job) };
  },
};
export type FitApi = typeof api;

expose(api);
