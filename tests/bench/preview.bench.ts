/** What one step of a slider costs before the picture is drawn: the document checked and laid out, the preview meshed and lit. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { meshOf } from '../../src/mesh/mesh-of.ts';
import { lit } from '../../src/ui/stage/arrises.ts';
import { PREVIEW } from '../../src/ui/stage/preview.ts';
import { derive } from '../../src/ui/state/derive.ts';

const STEPS = 120;
const at = (sorted: number[], share: number) => sorted[Math.floor(share * (sorted.length - 1))]!.toFixed(1);

for (const name of ['stair-baluster', 'barley-twist', 'drawer-knob']) {
  const text = readFileSync(join(import.meta.dirname, `../../templates/${name}.part.json`), 'utf8');
  const times = { derive: [] as number[], mesh: [] as number[], light: [] as number[], all: [] as number[] };
  let triangles = 0;
  for (let k = 0; k < STEPS; k++) {
    // A drag of one number, as a slider gives it.
    const raw = JSON.parse(text);
    const element = raw.form.find((e: { [key: string]: unknown }) => typeof e.length === 'number');
    element.length += 0.01 * (k % 7);
    const t0 = performance.now();
    const { field } = derive(raw);
    const t1 = performance.now();
    if (!field) continue;
    const mesh = meshOf(field, PREVIEW);
    const t2 = performance.now();
    const shown = lit(mesh);
    const t3 = performance.now();
    triangles = shown.triangles.length / 3;
    if (k < 20) continue;
    times.derive.push(t1 - t0);
    times.mesh.push(t2 - t1);
    times.light.push(t3 - t2);
    times.all.push(t3 - t0);
  }
  for (const list of Object.values(times)) list.sort((a, b) => a - b);
  const say = Object.entries(times).map(
    ([what, l]) => `${what} ${l.length ? `${at(l, 0.5)} / ${at(l, 0.95)}` : 'none'}`,
  );
  console.log(`${name}: ${triangles} triangles, ms median / p95: ${say.join(', ')}`);
}
