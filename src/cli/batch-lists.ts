/** The files of a line beside its variants' folders: what is opened, printed and handed out, and the manifest last. */
import { readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { goodsFiles } from '../batch/goods.ts';
import { manifestText } from '../batch/line-record.ts';
import { orderFiles } from '../batch/order-lists.ts';
import { type LineSticks, stockShares } from '../batch/stick-line.ts';
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

const DOORS = [
  { file: 'cut-list.html', label: 'Cut list' },
  { file: 'cut-list.csv', label: 'Cut list as a table' },
  { file: 'run-list.html', label: 'Run list' },
  { file: 'run-list.csv', label: 'Run list as a table' },
];

/**
 * @param variants that are made, in the table's order @param wanted how many the table asks for, sticks counted: a manifest is written only
 * for all of them @param sticks on which the pieces lie, if they share any @returns names of the files that were written
 */
export function writeLists(
  out: string,
  part: Part,
  variants: readonly Kept[],
  wanted: number,
  sticks?: LineSticks,
): string[] {
  const onSticks = new Set(sticks?.sticks.map((s) => s.slug));
  const made = variants.map((v) => v.made);
  const pieces = made.filter((m) => !onSticks.has(m.variant.slug));
  const shared = sticks && { line: sticks, made: made.filter((m) => onSticks.has(m.variant.slug)) };
  const files = orderFiles(part.name, pieces, shared);
  const goods = goodsFiles(pieces, {
    title: part.name,
    wanted: wanted - onSticks.size,
    doors: DOORS,
    // A piece that found no place on a stick keeps a blank of its own in the price.
    ...(sticks ? { nested: stockShares(sticks.sticks) } : {}),
  });
  for (const [name, text] of goods) files.set(name, text);
  for (const [name, text] of files) writeText(out, name, text);
  const names = [...files.keys()];
  if (variants.length < wanted) return names;
  const hashes = [...files].map(([file, text]) => ({ file, sha256: sha256(text) }));
  writeText(out, MANIFEST, manifestText(part.name, variants, hashes));
  return [...names, MANIFEST];
}
