/** The whole pipeline, in a thread of its own: the same `build` that the command line calls, so the same bytes. */
import { expose, wrap } from 'comlink';
import { build } from '../../build.ts';
import { checkPart } from '../../part.ts';
import type { BuildResult, Raw } from '../state/contract.ts';
import { resultOf } from '../state/result.ts';
import type { SolidApi } from './solid.worker.ts';

/** Progress is told at most this often, ms: more would only keep the page busy. */
const TELL_EVERY = 60;

/** The solid grows beside the plan, in a thread of this thread: it ends with it. */
const solids = wrap<SolidApi>(new Worker(new URL('./solid.worker.ts', import.meta.url), { type: 'module' }));
/** A thread comes up only while the one that started it listens, and planning does not: so it is awaited once. */
const up = solids.ready();

const api = {
  async build(raw: Raw, tell: (share: number, what: string) => void): Promise<BuildResult> {
    const checked = checkPart(raw);
    if (!('part' in checked)) throw new Error(checked.problems[0]!.message);
    let told = 0;
    await up;
    const built = await build(checked.part, {
      unproven: true,
      solid: () => solids.files(raw),
      onProgress: (share, what) => {
        const now = performance.now();
        if (now - told > TELL_EVERY) {
          told = now;
          tell(share, what);
        }
        return undefined;
      },
    });
    return resultOf(built);
  },
};
export type BuildApi = typeof api;

expose(api);
