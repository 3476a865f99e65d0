/**
 * How long meshes and solids take and how many triangles they have: a turned, a fluted and a twisted baluster of 700 mm.
 * Median of seven runs after two that are not counted; the checksum is taken outside the clock.
 */
import { checkSolid } from '../../src/mesh/check.ts';
import { surfaceVolume } from '../../src/mesh/integral.ts';
import { loadKernel } from '../../src/mesh/kernel.ts';
import { massOfMesh } from '../../src/mesh/mesh.ts';
import { meshOf } from '../../src/mesh/mesh-of.ts';
import { solidOf } from '../../src/mesh/solid.ts';
import { writeStl } from '../../src/mesh/stl.ts';
import { write3mf } from '../../src/mesh/threemf.ts';
import { fieldOf } from '../../src/profiles/build-field.ts';
import type { Design } from '../../src/profiles/design.ts';
import type { Section } from '../../src/profiles/section.ts';

const square: Section = {
  symmetry: 4,
  corners: [1, 3, 5, 7].map((k) => (k * Math.PI) / 4),
  inner: 22.5,
  outer: 22.5 * Math.SQRT2,
  radius: (t) => 22.5 / Math.max(Math.abs(Math.cos(t)), Math.abs(Math.sin(t))),
};
const form: Design['form'] = [
  { element: 'pommel', length: 90, shoulder: 'ogee', run: 12, shoulders: 'tail' },
  { element: 'fillet', length: 4, rise: -2 },
  { element: 'bead', length: 12 },
  { element: 'fillet', length: 3 },
  { element: 'cove', length: 16, start: 38 },
  { element: 'taper', length: 360, start: 40, end: 26 },
  { element: 'bead', length: 10 },
  { element: 'cove', length: 20 },
  { element: 'bead', length: 14 },
  { element: 'cylinder', length: 61, start: 34 },
  { element: 'bead', length: 10 },
  { element: 'pommel', length: 100, shoulder: 'sloped', run: 10, shoulders: 'chuck' },
];
const flutes = { carving: 'flutes', count: 12, depth: 1.5, land: 0.25, from: 140, to: 480 } as const;
const designs: Record<string, Design> = {
  turned: { form },
  fluted: { form, carvings: [flutes] },
  twisted: { form, carvings: [flutes, { carving: 'twist', turns: 1, from: 130, to: 490 }] },
};

async function median<T>(work: () => T | Promise<T>): Promise<[number, T]> {
  let last = await work();
  await work();
  const times: number[] = [];
  for (let k = 0; k < 7; k++) {
    const begun = performance.now();
    last = await work();
    times.push(performance.now() - begun);
  }
  return [times.sort((a, b) => a - b)[3]!, last];
}

await loadKernel();
for (const [name, design] of Object.entries(designs)) {
  const { field, problems } = fieldOf(design, square);
  if (!field) throw new Error(`the design "${name}" is not sound: ${problems[0]?.message}`);
  const [screen, rough] = await median(() => meshOf(field, { rings: 150, columns: 48 }));
  const [fine, mesh] = await median(() => meshOf(field));
  const [built] = await median(async () => (await solidOf(field)).free());
  const solid = await solidOf(field);
  const [checking, found] = await median(() => checkSolid(solid, field));
  const [stl, bytes] = await median(() => writeStl(mesh));
  const [threemf, zip] = await median(() => write3mf(mesh));
  const off = massOfMesh(mesh).volume / surfaceVolume(field) - 1;
  console.log(
    `${name.padEnd(8)} screen ${screen.toFixed(1)} ms (${rough.triangles.length / 3} triangles)  exact mesh ${fine.toFixed(0)} ms ` +
      `(${mesh.triangles.length / 3}, volume off by ${(off * 1e6).toFixed(1)} in a million)  solid ${built.toFixed(0)} ms  ` +
      `check ${checking.toFixed(0)} ms (${found.length} problems)  STL ${stl.toFixed(0)} ms (${bytes.length} bytes)  ` +
      `3MF ${threemf.toFixed(0)} ms (${zip.length} bytes)`,
  );
  solid.free();
}
