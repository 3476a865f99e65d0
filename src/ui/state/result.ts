/** From what the pipeline built to what the page shows and hands out. */
import type { Built } from '../../build.ts';
import { writeObj } from '../../mesh/obj.ts';
import { readStl } from '../../mesh/stl.ts';
import type { BuildResult } from './contract.ts';

/** Where along the axis the blocks of each stage of a program lie, from its pass comments and axial words. */
function extents(built: Built): BuildResult['stages'] {
  return (built.proof?.stages ?? []).map((s) => {
    const planned = built.plan?.programs.flatMap((p) => p.passes).filter((p) => p.stage === s.stage) ?? [];
    let from = Infinity;
    let to = -Infinity;
    for (const { moves } of planned)
      for (let i = 0; i < moves.count; i++) {
        from = Math.min(from, moves.x[i]!);
        to = Math.max(to, moves.x[i]!);
      }
    // Estimated with what speeding up and slowing down costs, as the whole is: the parts must add up to it.
    const program = built.programs.find((p) => p.file.replace('.UNPROVEN', '') === s.file.replace('.UNPROVEN', ''));
    const time_s = program?.written.time.stages.find((t) => t.stage === s.stage)?.time_s ?? s.time_s;
    return { file: s.file, stage: s.stage, passes: s.passes, time_s, from, to };
  });
}

/** The files of a solid by their names; the page gives it in one format more than the command line. */
export function solidEntries(slug: string, stl: Uint8Array, threemf: Uint8Array): [string, Uint8Array | string][] {
  const { mesh } = readStl(stl);
  return [
    [`${slug}.stl`, stl],
    [`${slug}.3mf`, threemf],
    ...(mesh ? [[`${slug}.obj`, writeObj(mesh)] as [string, string]] : []),
  ];
}

/** @param built by `build`; may be refused or invalid @returns plain data that crosses to the page */
export function resultOf(built: Built): BuildResult {
  const { proof, report } = built;
  const files = new Map(built.files);
  const { solid, slug } = built;
  if (solid && !solid.problems.length)
    for (const [name, content] of solidEntries(slug, solid.stl, solid.threemf)) files.set(name, content);
  return {
    verdict: built.verdict === 'proven' ? 'proven' : 'refused',
    problems: [...built.problems],
    findings: [...(proof?.findings ?? [])],
    leftOver: proof?.leftOver ?? {
      xs: new Float64Array(),
      thetas: 0,
      rest: new Float32Array(),
      unreachable: new Float32Array(),
    },
    deepestGouge: proof?.deepestGouge ?? 0,
    restP99: proof?.restP99 ?? 0,
    files,
    programs: built.programs.map((p) => ({
      file: p.file,
      bit: p.tools.map((t) => t.bit.label).join(', '),
      rpm: p.tools[0]!.limits.rpm,
      blocks: p.written.blocks,
      time_s: p.written.time.total_s,
      text: p.text,
    })),
    stages: extents(built),
    time_s: report?.time.total_s ?? 0,
    efficiency: report?.time.efficiency ?? 0,
    price: report?.price ?? { currency: '', material: 0, machine: 0, labour: 0, unit: 0 },
  } as BuildResult;
}
