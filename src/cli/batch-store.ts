/**
 * What stands in a line's output folder: a folder for each variant, as `make` writes it, and a record of each in `made/`.
 * A variant is taken for made only if its record stands and all its files are what the record says. The record goes before
 * its files change and comes after they stand, so a run that is killed at any moment leaves nothing that could pass for made.
 */
import {
  existsSync,
  lstatSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import type { Problem } from '../../shared/problems.ts';
import type { MadeVariant, Variant } from '../batch/line.ts';
import { recordSchema, recordText, type VariantRecord } from '../batch/line-record.ts';
import type { VariantMade } from '../batch/make-variant.ts';
import { type Report, reportSchema } from '../build/report.ts';
import { sha256 } from './batch-key.ts';
import { type Files, writeWhole } from './write-whole.ts';

const RECORDS = 'made';
/** Folders and files that a run was still writing. */
const UNFINISHED = /^\.[a-z0-9-]+\.part-(\d+)$/;
const isGone = (pid: number): boolean => {
  try {
    process.kill(pid, 0);
    return false;
  } catch (fault) {
    return (fault as NodeJS.ErrnoException).code === 'ESRCH';
  }
};

/** Takes away what runs that are no more left unfinished. @param own whether this process's too: when none of its threads is at work */
export function sweepUnfinished(out: string, own: boolean): void {
  for (const folder of [out, join(out, RECORDS)]) {
    if (!existsSync(folder)) continue;
    for (const name of readdirSync(folder)) {
      const pid = Number(UNFINISHED.exec(name)?.[1] ?? Number.NaN);
      if (Number.isInteger(pid) && (pid === process.pid ? own : isGone(pid)))
        rmSync(join(folder, name), { recursive: true, force: true });
    }
  }
}

/** Puts one text into a folder, whole or not at all. */
export function writeText(folder: string, name: string, text: string): void {
  const stem = name.toLowerCase().replace(/[^a-z0-9]+/g, '-');
  const beside = join(folder, `.${stem}.part-${process.pid}`);
  writeFileSync(beside, text);
  renameSync(beside, join(folder, name));
}

export interface Kept {
  readonly made: MadeVariant;
  readonly record: VariantRecord;
}

function recordIn(out: string, slug: string): VariantRecord | undefined {
  try {
    return recordSchema.parse(JSON.parse(readFileSync(join(out, RECORDS, `${slug}.json`), 'utf8')));
  } catch {
    return undefined;
  }
}

/** The files of a record, if all stand and none has changed. */
function filesOf(out: string, record: VariantRecord): Map<string, Buffer> | undefined {
  const files = new Map<string, Buffer>();
  try {
    for (const { file, sha256: hash } of record.files) {
      const bytes = readFileSync(join(out, record.slug, file));
      if (sha256(bytes) !== hash) return undefined;
      files.set(file, bytes);
    }
    return files;
  } catch {
    return undefined;
  }
}

/**
 * A variant that stands in an output folder, unchanged and made from these inputs.
 * @param seconds that making it took in this run @returns undefined if it must be made
 */
export function keptVariant(out: string, variant: Variant, key: string, seconds = 0): Kept | undefined {
  const record = recordIn(out, variant.slug);
  if (!record || record.key !== key || record.slug !== variant.slug) return undefined;
  const files = filesOf(out, record);
  if (!files) return undefined;
  const bytes = files.get(`${variant.slug}.report.json`);
  const report: Report | undefined = bytes && reportSchema.parse(JSON.parse(bytes.toString('utf8')));
  const { verdict, problems, silhouette } = record;
  const made: MadeVariant = {
    variant,
    verdict,
    problems: problems as unknown as Problem[],
    ...(report ? { report } : {}),
    silhouette,
    seconds,
  };
  return { made, record };
}

/** Puts a variant's folder and its record in place. */
function put(out: string, slug: string, files: Files, record: string): void {
  const folder = join(out, slug);
  const records = join(out, RECORDS);
  mkdirSync(records, { recursive: true });
  rmSync(join(records, `${slug}.json`), { force: true });
  if (files.size || existsSync(folder)) writeWhole(folder, files);
  if (!files.size && existsSync(folder) && !readdirSync(folder).length) rmSync(folder, { recursive: true });
  writeText(records, `${slug}.json`, record);
}

/** Writes what was made of a variant. @throws Error of the file system */
export function storeVariant(out: string, { made, files }: VariantMade, key: string): void {
  const hashes = [...files].map(([file, content]) => ({ file, sha256: sha256(content) }));
  put(out, made.variant.slug, files, recordText(made, key, hashes));
}

/** Takes a variant over from another output folder. @returns whether it stood there, unchanged */
export function takeOver(out: string, from: string, variant: Variant, key: string): boolean {
  const record = recordIn(from, variant.slug);
  const files = record?.key === key && record.slug === variant.slug ? filesOf(from, record) : undefined;
  if (!files) return false;
  put(out, variant.slug, files, readFileSync(join(from, RECORDS, `${variant.slug}.json`), 'utf8'));
  return true;
}

/** What stands in the way of writing. @param slugs of the variants @returns a problem for the first; undefined if nothing does */
export function inTheWay(out: string, slugs: readonly string[]): Problem | undefined {
  for (const name of ['', RECORDS, ...slugs]) {
    const path = join(out, name);
    const found = lstatSync(path, { throwIfNoEntry: false });
    // The output folder itself may be a link; what stands in it must not lead elsewhere.
    if (!found || found.isDirectory() || (name === '' && found.isSymbolicLink())) continue;
    return {
      code: 'unreadable',
      severity: 'refuse',
      path: '--out',
      message: `${path} is ${found.isSymbolicLink() ? 'a link' : 'a file'}`,
      allowed: 'a folder, or nothing yet',
    };
  }
  return undefined;
}
