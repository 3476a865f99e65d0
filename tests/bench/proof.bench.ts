/**
 * How long the proof takes: a 700 mm baluster and a 300 mm one, turned from squares by programs written by hand.
 * Run: `npx tsx tests/bench/proof.bench.ts`. Prints wall and CPU seconds, lines, metres and the peak of memory.
 */

import { benches } from '../../shared/catalog.ts';
import { TURN } from '../../shared/units.ts';
import { prove } from '../../src/cam/proof/prove.ts';
import type { Field } from '../../src/profiles/field.ts';
import { fieldFrom } from '../support/fields.ts';
import { bitOf, controlOf, proofJob, rowOf } from '../support/proof-job.ts';
import { asProgram, HandMoves, textOf } from '../support/rs274-text.ts';

/** A spindle of soft swells, 12 to 21.5 mm. */
const outline = (x: number) => 17 + 3.5 * Math.sin(x / 23) + 1 * Math.sin(x / 7.3);

/** Lowest tip over a round outline for a profile rise(d), by sampling. */
function tipOver(field: Field, rise: (d: number) => number, R: number, x: number): number {
  let best = 0;
  for (let u = -R; u <= R + 1e-9; u += R / 40)
    best = Math.max(best, field.radius(x + u, 0) - rise(Math.min(R, Math.abs(u))));
  return best;
}

export function baluster(length: number, pitch: number) {
  const field = fieldFrom({ length, radius: outline });
  const safe = 60;
  const flat = bitOf('flat-6');
  const ball = bitOf('ball-6');
  const flatTip = (x: number) => tipOver(field, () => 0, 3, x);
  const ballTip = (x: number) => tipOver(field, (d) => 3 - Math.sqrt(Math.max(0, 9 - d * d)), 3, x);
  const from = -4;
  const to = length + 4;
  let metres = 0;
  const wind = (
    moves: HandMoves,
    stage: string,
    n: number,
    of: number,
    start: number,
    step: number,
    tip: (x: number) => number,
  ) => {
    moves.comment(`stage ${stage}, pass ${n} of ${of}: by hand`);
    const theta = Math.ceil(moves.place.theta / TURN - 1e-9) * TURN;
    moves.rapid({ x: from, theta });
    moves.rapid({ r: start + 0.5 });
    moves.cut({ r: start });
    moves.turn(1, { r: tip(from) });
    moves.turn(1);
    // A block every quarter turn; the outline changes little over a quarter of the pitch.
    for (let x = from; x < to - 1e-9; ) {
      const next = Math.min(to, x + step / 4);
      moves.cut({ x: next, r: tip(next), theta: moves.place.theta + TURN / 4 });
      metres += (tip(next) * TURN) / 4000;
      x = next;
    }
    moves.turn(1);
    moves.rapid({ r: safe });
  };
  const start = () => {
    const m = new HandMoves();
    m.rapid({ r: safe });
    m.rapid({ x: from, theta: 0 });
    return m;
  };
  const rough = start();
  const layers = [30, 28, 26, 24, 22.6];
  for (const [n, r] of layers.entries())
    wind(rough, 'corners', n + 1, layers.length, n ? layers[n - 1]! : 32.6, 3, () => r);
  const deeper = [20.6, 18.6, 16.6, 14.6, 12.6];
  for (const [n, r] of deeper.entries())
    wind(rough, 'roughing', n + 1, deeper.length, n ? Math.max(deeper[n - 1]!, flatTip(from) + 0.4) : 22.6, 2.4, (x) =>
      Math.max(r, flatTip(x) + 0.4),
    );
  const finish = start();
  wind(finish, 'finishing', 1, 1, flatTip(from) + 0.5, pitch, (x) => ballTip(x) + 0.002);
  const control = controlOf('four-axis-inverse-time');
  const job = proofJob(
    {
      bench: { ...rowOf(benches, 'long'), blocksPerSecond: 20000 },
      programs: [
        asProgram('rough.nc', textOf(rough.list, { control, bit: flat }), flat),
        asProgram('finish.nc', textOf(finish.list, { control, bit: ball }), ball),
      ],
    },
    45,
    field,
  );
  return { job, metres };
}

function run(length: number, pitch: number): void {
  const { job, metres } = baluster(length, pitch);
  const lines = job.programs.reduce((n, p) => n + p.text.split('\n').length, 0);
  const cpu = process.cpuUsage();
  const t0 = performance.now();
  const proof = prove(job);
  const wall = (performance.now() - t0) / 1000;
  const used = process.cpuUsage(cpu);
  console.log(
    `${length} mm: ${wall.toFixed(2)} s wall, ${((used.user + used.system) / 1e6).toFixed(2)} s CPU, ${lines} lines, ${metres.toFixed(0)} m, ` +
      `${(process.resourceUsage().maxRSS / 1024).toFixed(0)} MB peak; ${proof.verdict}, gouge ${proof.deepestGouge.toFixed(4)}, rest p99 ${proof.restP99.toFixed(4)}`,
  );
  for (const f of proof.findings) console.log(`  ${f.severity} ${f.code} line ${f.line}: ${f.message}`);
  for (const s of proof.stages)
    console.log(
      `  ${s.stage}: ${s.time_s.toFixed(0)} s, air ${s.air_s.toFixed(0)} s, removed ${s.removed.toFixed(0)} mm³`,
    );
}

run(300, 0.6);
run(700, 0.9);
