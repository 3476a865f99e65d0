/**
 * Eight chess pieces on one stick and four drawer knobs on one stick, each planned and proven as a whole:
 * `node bin/run.mjs tests/soak/sticks.ts`. Ends with 3 if one is refused.
 */
import { benches } from '../../shared/catalog.ts';
import { problemLine } from '../../shared/problems.ts';
import { build } from '../../src/build.ts';
import type { Part } from '../../src/part.ts';
import { refusals } from '../support/built.ts';
import { stickOf, template } from '../support/sticks.ts';

const wide = benches.some((b) => b.id === 'long') ? 'long' : 'middle';
const cases: [string, Parameters<typeof stickOf>[1], Partial<Part>][] = [
  ['Four drawer knobs', [['drawer-knob', 4]], {}],
  [
    'Eight chess pieces',
    [
      ['chess-bishop', 4],
      ['chess-pawn', 4],
    ],
    { blank: template('chess-bishop').blank, bench: wide },
  ],
];
let refused = 0;
process.stdout.write(
  '| stick | pieces | length mm | necks mm | cutting time | deepest gouge mm | rest p99 mm | weakest moment | blocks | seconds | verdict |\n|---|---|---|---|---|---|---|---|---|---|---|\n',
);
for (const [name, kinds, like] of cases) {
  const stick = stickOf(name, kinds, like);
  if (!stick.part) throw new Error(stick.problems.map(problemLine).join('; '));
  const began = performance.now();
  const built = await build(stick.part, { solid: 'none', unproven: true });
  const seconds = (performance.now() - began) / 1000;
  const why = refusals(built);
  if (built.verdict !== 'proven') refused++;
  const said = built.problems.filter((p) => p.severity !== 'note').map(problemLine);
  process.stderr.write(`${name}: ${[...why, ...said].map((w) => `\n  ${w}`).join('')}\n`);
  const { report, job, inOrder } = built;
  if (!report || !job) continue;
  process.stdout.write(
    `| ${name} | ${stick.pieces.length} | ${(job.blank.to - job.blank.from).toFixed(0)} | ${stick.neck.diameter} | ${Math.round(report.time.total_s / 60)} min | ${report.proof.deepestGouge.toFixed(3)} | ${report.proof.restP99.toFixed(3)} | ${inOrder ? `${inOrder.weakest.safetyFactor.toFixed(1)} × (${inOrder.weakest.how}, ${inOrder.weakest.stage}, x ${inOrder.weakest.weakestX.toFixed(0)})` : ''} | ${report.programs.reduce((s, p) => s + p.blocks, 0)} | ${seconds.toFixed(0)} | ${built.verdict} |\n`,
  );
}
process.exitCode = refused ? 3 : 0;
