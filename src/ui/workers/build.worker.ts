/** The whole pipeline, in a thread of its own: the same `build` that the command line calls, so the same bytes. */
import { expose, wrap } from 'comlink';
import { noSuchPass, proveRestart, restartFrom } from '../../build/restart.ts';
import { type Built, build } from '../../build.ts';
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
/** The last build and the document that it was made of: taking cutting up again needs its plan. */
let last: { text: string; built: Built } | undefined;

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
    last = { text: JSON.stringify(raw), built };
    return resultOf(built);
  },
  /**
   * The program that takes cutting up again at a pass, proven on the wood as it then is.
   * @param raw the document that was built last @throws Error in words where there is no such pass, or the proof refuses it
   */
  async restart(raw: Raw, pass: number): Promise<{ file: string; text: string }> {
    if (last?.text !== JSON.stringify(raw)) await api.build(raw, () => undefined);
    const { job, plan, programs, verdict } = last!.built;
    if (!job || !plan || verdict !== 'proven') throw new Error('the part is not proven: see what its proof says');
    const restart = restartFrom(job, plan, programs, pass);
    if (!restart) {
      const { message, allowed } = noSuchPass(programs, pass);
      throw new Error(`${message} (${allowed})`);
    }
    const wrong = proveRestart(job, programs, restart).problems[0];
    if (wrong) throw new Error(`${wrong.message} (${wrong.allowed})`);
    return { file: restart.program.file, text: restart.program.text };
  },
};
export type BuildApi = typeof api;

expose(api);
