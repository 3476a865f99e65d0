/** The cutting played: program text in, the wood at any moment out. A thread of its own, so that the picture never waits. */
import { expose, transfer } from 'comlink';
import { offsetsOf } from '../../cam/control.ts';
import { Replay } from '../../cam/proof/replay.ts';
import { bitsOf } from '../play/bits.ts';
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
    replay = new Replay({
      field: job.field,
      blank: job.blank,
      stubs: job.stubs,
      keepOut: job.keepOut,
      bench: job.bench,
      control: job.control,
      offsets: offsetsOf(job),
      tolerance: job.tolerance,
      surfaceBits: [],
      programs: programs.map((p) => {
        const [first, ...more] = bitsOf(job, p.bit).map((bit) => ({ bit, stepDown: 0, rampAngle_deg: 0, plunge: 0 }));
        return { file: p.file, text: p.text, ...first!, changes: more };
      }),
    });
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
