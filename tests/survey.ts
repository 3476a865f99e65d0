/** Makes every template and prints one table: time, efficiency, deepest gouge, wood left, blocks. `--write` puts it into the README. */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { build } from '../src/build.ts';
import { parsePart } from '../src/part.ts';
import { refusals } from './support/built.ts';

const root = join(import.meta.dirname, '..');
const names = readdirSync(join(root, 'templates'))
  .filter((f) => f.endsWith('.part.json'))
  .map((f) => f.replace('.part.json', ''));
const wanted = process.argv.slice(2).filter((a) => !a.startsWith('--'));

const rows = [
  '| template | blank | control | cutting time | efficiency | deepest gouge mm | rest p99 mm | blocks | verdict |',
  '|---|---|---|---|---|---|---|---|---|',
];
let refused = 0;
for (const name of wanted.length ? wanted : names) {
  const parsed = parsePart(readFileSync(join(root, 'templates', `${name}.part.json`), 'utf8'));
  if (!('part' in parsed)) throw new Error(`${name}: ${parsed.problems[0]?.message}`);
  const began = performance.now();
  const built = await build(parsed.part, { solid: 'none', unproven: true });
  const seconds = (performance.now() - began) / 1000;
  const { report, job } = built;
  const why = refusals(built);
  if (built.verdict !== 'proven') refused++;
  process.stderr.write(`${name}: ${seconds.toFixed(1)} s${why.map((w) => `\n  ${w}`).join('')}\n`);
  if (!report || !job) continue;
  const { blank, control } = job;
  const time = Math.round(report.time.total_s);
  rows.push(
    `| ${name} | ${blank.section} ${blank.width}${blank.section === 'rectangle' ? ` × ${blank.height}` : ''} | ${control.id} | ${Math.floor(time / 60)} min ${String(time % 60).padStart(2, '0')} s | ${report.time.efficiency.toFixed(2)} | ${report.proof.deepestGouge.toFixed(3)} | ${report.proof.restP99.toFixed(3)} | ${report.programs.reduce((s, p) => s + p.blocks, 0)} | ${built.verdict} |`,
  );
}
const table = rows.join('\n');
process.stdout.write(`${table}\n`);
if (process.argv.includes('--write')) {
  const path = join(root, 'README.md');
  const text = readFileSync(path, 'utf8');
  writeFileSync(
    path,
    text.replace(/<!-- survey -->[\s\S]*<!-- \/survey -->/, `<!-- survey -->\n${table}\n<!-- /survey -->`),
  );
}
process.exitCode = refused ? 3 : 0;
