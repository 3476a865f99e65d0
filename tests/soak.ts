/**
 * A line of twenty-four balusters, whole: undisturbed, then killed in the middle and gone on with. Every variant must be
 * proven, what was finished before the kill must stay untouched, and both folders must be the same to the byte. Some minutes.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { cavetto, type Ending, type Ran } from './support/command.ts';
import { finished, mtimes, recordsIn, tree } from './support/tree.ts';

const root = join(import.meta.dirname, '..');
const at = mkdtempSync(join(tmpdir(), 'cavetto-soak-'));
const COUNT = 24;
const failures: string[] = [];
const expect = (right: boolean, what: string): void => {
  process.stdout.write(`${right ? 'as it should be' : 'WRONG'}: ${what}\n`);
  if (!right) failures.push(what);
};
const line = (out: string, ending?: Ending): Promise<Ran> => {
  const [part, table] = [join(root, 'templates/porch-baluster.part.json'), join(root, 'tests/fixtures/line-24.csv')];
  return cavetto(['batch', part, '--table', table, '--out', out, '--workers', '2'], {}, ending);
};

try {
  const whole = join(at, 'whole');
  const first = await line(whole);
  process.stdout.write(first.out);
  expect(first.code === 0, `all ${COUNT} are proven (exit ${first.code})`);
  if (first.code !== 0) process.stdout.write(first.err);

  const out = join(at, 'killed');
  const killed = await line(out, { signal: 'SIGKILL', when: () => recordsIn(out).length >= COUNT / 3 });
  expect(killed.code === null, 'the run was killed');
  const stood = mtimes(out, finished(out));
  const right = tree(whole);
  const half = [...tree(out)].filter(([f, hash]) => !f.startsWith('.') && right.get(f) !== hash);
  expect(!half.length, `every file of the killed run is whole (${half.map(([f]) => f).join(', ') || 'all'})`);
  const again = await line(out);
  process.stdout.write(again.out);
  expect(again.code === 0, `the next run ends with all proven (exit ${again.code})`);
  const now = mtimes(out, stood.keys());
  expect(
    stood.size > 0 && [...stood].every(([f, t]) => now.get(f) === t),
    `${recordsIn(out).length} variants stand, ${stood.size} files of those that were finished untouched`,
  );
  const [a, b] = [right, tree(out)];
  const differ = [...new Set([...a.keys(), ...b.keys()])].filter((f) => a.get(f) !== b.get(f));
  expect(!differ.length, `both folders are the same to the byte (${differ.join(', ') || `${a.size} files`})`);
} finally {
  rmSync(at, { recursive: true, force: true });
}
process.exitCode = failures.length ? 1 : 0;
