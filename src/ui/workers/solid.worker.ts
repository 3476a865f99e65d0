/** The exact solid, in a thread of its own: the kernel is loaded once and stays warm. */
import { expose, transfer } from 'comlink';
import wasmUrl from 'manifold-3d/manifold.wasm?url';
import { slugOf } from '../../build/slug.ts';
import { type SolidFiles, solidHere, solidOptions } from '../../build/solid-files.ts';
import { checkSolid } from '../../mesh/check.ts';
import { massOf, measure } from '../../mesh/measure.ts';
import { solidOf } from '../../mesh/solid.ts';
import { lit } from '../stage/arrises.ts';
import type { Raw, SolidResult } from '../state/contract.ts';
import { derive } from '../state/derive.ts';
import { solidEntries } from '../state/result.ts';

const api = {
  /** Answers as soon as the thread is up. */
  ready: (): true => true,

  /** @param raw a document that has a form @throws Error in words if it has none */
  async solid(raw: Raw): Promise<SolidResult> {
    const { part, field, job } = derive(raw);
    if (!part || !field) throw new Error('the form is not complete yet');
    const options = { ...solidOptions(part, field), wasmUrl };
    const solid = await solidOf(field, options);
    try {
      const mesh = solid.mesh();
      const measures = measure(solid);
      const shape = lit(mesh);
      const result: SolidResult = {
        shape,
        volume: measures.volume,
        area: measures.area,
        mass: job ? massOf(measures.volume, job.material.density) : 0,
        centre: [...measures.centre] as [number, number, number],
        problems: checkSolid(solid, field, options),
      };
      const { positions, normals, triangles } = shape;
      return transfer(result, [positions.buffer, normals.buffer, triangles.buffer]);
    } finally {
      solid.free();
    }
  },

  /**
   * The solid as files, without any program: the same bytes that a whole build writes.
   * @returns names with contents @throws Error in words if there is no form, or no sound solid of it
   */
  async entries(raw: Raw): Promise<[string, Uint8Array | string][]> {
    const { part, field } = derive(raw);
    if (!part || !field) throw new Error('the form is not complete yet');
    const { stl, threemf, problems } = await solidHere({ wasmUrl })(part, field);
    if (problems.length) throw new Error(problems[0]!.message);
    return solidEntries(slugOf(part.name), stl, threemf);
  },

  /** The solid as a build takes it. @param raw a document that makes a job @throws Error in words if it makes none */
  async files(raw: Raw): Promise<SolidFiles> {
    const { part, job } = derive(raw);
    if (!part || !job) throw new Error('the part is not complete yet');
    const files = await solidHere({ wasmUrl })(part, job.field);
    return transfer(files, [files.stl.buffer as ArrayBuffer, files.threemf.buffer as ArrayBuffer]);
  },
};
export type SolidApi = typeof api;

expose(api);
