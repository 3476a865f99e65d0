/** Which program this is, as far as it decides about what comes out. */
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { VERSION } from '../build/version.ts';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));
/** What decides about a variant's files: catalogs, pipeline, and what is kept of it. */
export const DECIDING: readonly string[] = [
  'package.json',
  'shared',
  'src/profiles',
  'src/mesh',
  'src/cam',
  'src/part',
  'src/part.ts',
  'src/resolve',
  'src/resolve.ts',
  'src/build',
  'src/build.ts',
  'src/batch/line-record.ts',
  'src/batch/make-variant.ts',
  'src/batch/silhouette.ts',
];

function filesUnder(path: string): string[] {
  if (!statSync(path).isDirectory()) return [path];
  return readdirSync(path).flatMap((name) => filesUnder(join(path, name)));
}

/**
 * Hash of this program as far as it decides about a variant's files. The version alone would let a changed catalog, or a
 * changed program while it is worked on, pass old proofs for new ones.
 * @param paths that decide, from the project's folder @returns SHA-256, hexadecimal
 */
export function programHash(paths: readonly string[] = DECIDING): string {
  const all = createHash('sha256').update(VERSION);
  const files = paths.flatMap((path) => filesUnder(join(ROOT, path)));
  // Line ends are the check-out's, not the program's.
  const rows = files.map((f) => [
    relative(ROOT, f).split(sep).join('/'),
    readFileSync(f, 'utf8').replaceAll('\r\n', '\n'),
  ]);
  for (const [name, text] of rows.sort(([a], [b]) => (a! < b! ? -1 : 1))) all.update(`\0${name}\0${text}`);
  return all.digest('hex');
}
