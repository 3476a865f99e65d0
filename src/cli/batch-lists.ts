/** The files of a line beside its variants' folders: what is opened, printed and handed out, and the manifest last. */
import { readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { goodsFiles } from '../batch/goods.ts';
import { manifestText } from '../batch/line-record.ts';
import type { Part } from '../part.ts';
import { sha256 } from './batch-key.ts';
import { type Kept, writeText } from './batch-store.ts';

const MANIFEST = 'manifest.json';
/** Of a manifest, what stands beside the variants' folders: plain names, so that none leads elsewhere. */
const listedSchema = z.object({
  files: z.array(z.object({ file: z.string().regex(/^[a-z0-9][a-z0-9.-]*$/) })),
});

/** Takes the lists of an earlier run away: they are not of what is made now, and a manifest stands for a whole folder. */
export function dropLists(out: string): void {
  let listed: z.infer<typeof listedSchema>['files'] = [];
  try {
    listed = listedSchema.parse(JSON.parse(readFileSync(join(out, MANIFEST), 'utf8'))).files;
  } catch {
    // None stands there, or none of ours.
  }
  rmSync(join(out, MANIFEST), { force: true });
  for (const { file } of listed) rmSync(join(out, file), { force: true });
}

/**
 * @param variants that are made, in the table's order @param wanted how many the table asks for: a manifest is written only
 * for all of them @returns names of the files that were written
 */
export function writeLists(out: string, part: Part, variants: readonly Kept[], wanted: number): string[] {
  const files = goodsFiles(
    variants.map((v) => v.made),
    { title: part.name, wanted },
  );
  for (const [name, text] of files) writeText(out, name, text);
  const names = [...files.keys()];
  if (variants.length < wanted) return names;
  const hashes = [...files].map(([file, text]) => ({ file, sha256: sha256(text) }));
  writeText(out, MANIFEST, manifestText(part.name, variants, hashes));
  return [...names, MANIFEST];
}
