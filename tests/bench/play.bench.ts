/** Playing the cutting: what one frame at 60 a second costs in replay and in handing the changed rows over, at the speed that the page chooses. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { proofJobOf } from '../../src/build/proof-job.ts';
import { build } from '../../src/build.ts';
import { Replay } from '../../src/cam/proof/replay.ts';
import { parsePart } from '../../src/part.ts';
import { readoutAt } from '../../src/ui/play/readout.ts';

const BAR = 1000 / 60;
/** As the page has it: the least of these that plays the whole job within a minute. */
const SPEEDS = [1, 5, 20, 60, 200, 600];
const FRAMES_A_SECOND = 60;
const at = (sorted: Float64Array, share: number) => sorted[Math.floor(share * (sorted.length - 1))]!.toFixed(1);

for (const name of ['lamp-stem', 'barley-twist', 'stair-baluster']) {
  const text = readFileSync(join(import.meta.dirname, `../../templates/${name}.part.json`), 'utf8');
  const parsed = parsePart(text);
  if (!('part' in parsed)) throw new Error(`${name} is no part`);
  const { job, programs } = await build(parsed.part, { solid: 'none' });
  const began = performance.now();
  const replay = new Replay(proofJobOf(job!, programs));
  const ready = performance.now() - began;
  const { reel, grid, wood } = replay;
  const total = reel.start[reel.count]!;
  const speed = SPEEDS.find((s) => total / s <= 60) ?? SPEEDS.at(-1)!;
  const shown = wood.outer.slice();
  const frames: number[] = [];
  let sum = 0;
  for (let t = 0; t < total; t += speed / FRAMES_A_SECOND) {
    const t0 = performance.now();
    const { from, to } = replay.to(t);
    shown.set(wood.outer.slice(from * grid.columns, to * grid.columns), from * grid.columns);
    sum += readoutAt(reel, t).rpm;
    frames.push(performance.now() - t0);
  }
  const back = performance.now();
  replay.to(0.37 * total);
  const jump = performance.now() - back;
  const sorted = Float64Array.from(frames).sort();
  const late = frames.filter((f) => f > BAR).length;
  console.log(
    `${name}: at ${speed} × ready after ${ready.toFixed(0)} ms; frame ms median ${at(sorted, 0.5)}, p95 ${at(sorted, 0.95)}, ` +
      `p99 ${at(sorted, 0.99)}, most ${at(sorted, 1)} (bar ${BAR.toFixed(1)}), ${late} of ${frames.length} over it; ` +
      `a jump back ${jump.toFixed(0)} ms [${(sum / frames.length).toFixed(0)} rpm]`,
  );
}
