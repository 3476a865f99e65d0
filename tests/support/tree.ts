/** What lies in an output folder: bytes and times, for comparing runs. */

import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';

/** Every file below a folder with the SHA-256 of its bytes, by path. */
export function tree(out: string): Map<string, string> {
  const files = readdirSync(out, { recursive: true, withFileTypes: true }).filter((e) => e.isFile());
  return new Map(
    files
      .map((e) => join(e.parentPath, e.name))
      .sort()
      .map((f) => [f.slice(out.length + 1), createHash('sha256').update(readFileSync(f)).digest('hex')]),
  );
}

/** When each file was last written, ms. */
export const mtimes = (out: string, names: Iterable<string>): Map<string, number> =>
  new Map([...names].map((f) => [f, statSync(join(out, f)).mtimeMs]));

/** Variants of a line that are finished: those with a record. */
export const recordsIn = (out: string): string[] =>
  existsSync(join(out, 'made')) ? readdirSync(join(out, 'made')).filter((f) => /^[a-z]/.test(f)) : [];

/** Files of the variants that are finished, their records included. */
export const finished = (out: string): string[] =>
  [...tree(out).keys()].filter((f) =>
    recordsIn(out).some((r) => f === `made/${r}` || f.startsWith(`${r.slice(0, -'.json'.length)}/`)),
  );
