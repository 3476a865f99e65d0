/** The whole pipeline, in a thread of its own: the same `build` that the command line calls, so the same bytes. */
import { expose } from 'comlink';
import wasmUrl from 'manifold-3d/manifold.wasm?url';
import { solidHere } from '../../build/solid-files.ts';
import { build } from '../../build.ts';
import { checkPart } from '../../part.ts';
import type { BuildResult, Raw } from '../state/contract.ts';
import { resultOf } from '../state/result.ts';

/** Progress is told at most this often, ms: more would only keep the page busy. */
const TELL_EVERY = 60;

const api = {
  async build(raw: Raw, tell: (share: number, what: string) => void): Promise<BuildResult> {
    const checked = checkPart(raw);
    if (!('part' in checked)) throw new Error(checked.problems[0]!.message);
    let told = 0;
    const built = await build(checked.part, {
      unproven: true,
      solid: solidHere({ wasmUrl }),
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
