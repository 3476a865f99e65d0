/** The cutting played: program text in, the wood at any moment out. A thread of its own, so that the picture never waits. */
import { expose, transfer } from 'comlink';
import { proofJobOf } from '../../build/proof-job.ts';
import { Replay } from '../../cam/proof/replay.ts';
import { toolsOf } from '../play/bits.ts';
import type { BuildResult, Raw } from '../state/contract.ts';
import { derive } from '../state/derive.ts';

let replay: Replay | undefined;

const api = {
  /**
   * Reads programs and sets the blank up.
   * @param raw the document that they were made of @throws Error in words if it is not complete
   */
  load(raw: Raw, programs: BuildResult['programs']) {
    const { job } = derive(raw);
    if (!job) throw new Error('the part does not fit its bench');
    replay = new Replay(
      proofJobOf(
        job,
        programs.map(({ file, text, bit }) => ({ file, text, tools: toolsOf(job, bit) })),
      ),
    );
    return { reel: replay.reel, xs: replay.grid.xs, columns: replay.grid.columns, radii: replay.wood.outer };
  },
  /** @param t s from the start of the job @returns rows that changed since the last answer, with their radii */
  at(t: number): { from: number; to: number; radii: Float32Array } {
    if (!replay) return { from: 0, to: 0, radii: new Float32Array() };
    const { from, to } = replay.to(t);
    const { columns } = replay.grid;
    const radii = replay.wood.outer.slice(from * columns, to * columns);
    return transfer({ from, to, radii }, [radii.buffer]);
  },
};
export type PlayApi = typeof api;

expose(api);
