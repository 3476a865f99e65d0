/**
 * What the Strength lane and the fit cost at each step of a slider. Baseline: resolving the document into a job, which a step
 * costs in any case; the ratio to it holds while the machine is busy.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { checkFit } from '../../src/cam/fit.ts';
import { strengthOf } from '../../src/cam/strength.ts';
import { parsePart } from '../../src/part.ts';
import { checkedPart, triedChanges } from '../../src/resolve/checked-part.ts';
import { resolvePart } from '../../src/resolve.ts';

const RUNS = 15;

/** Median processor time of a call, ms: the clock on the wall tells more of what else the machine does. */
function median(call: () => unknown): number {
  const times = Array.from({ length: RUNS }, () => {
    const begin = process.cpuUsage();
    call();
    const { user, system } = process.cpuUsage(begin);
    return (user + system) / 1000;
  });
  return times.sort((a, b) => a - b)[RUNS >> 1]!;
}

for (const name of ['chess-pawn', 'stair-baluster', 'walking-stick', 'barley-twist', 'fluted-column']) {
  const read = parsePart(readFileSync(join(import.meta.dirname, `../../templates/${name}.part.json`), 'utf8'));
  if (!('part' in read)) throw new Error(`${name} is no part`);
  const { part } = read;
  const { job } = resolvePart(part);
  if (!job) throw new Error(`${name} makes no job`);
  const resolve = median(() => resolvePart(part));
  const rows = {
    strength: median(() => strengthOf(job)),
    fit: median(() => checkFit({ ...job })),
    tried: median(() => triedChanges(part, checkedPart(part).problems)),
  };
  const said = Object.entries(rows).map(([what, ms]) => `${what} ${ms.toFixed(1)} (${(ms / resolve).toFixed(2)})`);
  console.log(`${name}: ms median (times the baseline): resolve ${resolve.toFixed(1)}, ${said.join(', ')}`);
}
