/** The files of a line beside its variants' folders; the manifest last. */

import { type FileHash, manifestText } from '../batch/line-record.ts';
import type { Part } from '../part.ts';
import { sha256 } from './batch-key.ts';
import { type Kept, writeText } from './batch-store.ts';

export const MANIFEST = 'manifest.json';

/** @param variants all of the line @returns names of the files that were written */
export function finishLine(out: string, part: Part, variants: readonly Kept[]): string[] {
  const files = new Map<string, string>();
  const hashes: FileHash[] = [...files].map(([file, text]) => ({ file, sha256: sha256(text) }));
  for (const [name, text] of files) writeText(out, name, text);
  writeText(out, MANIFEST, manifestText(part.name, variants, hashes));
  return [...files.keys(), MANIFEST];
}
