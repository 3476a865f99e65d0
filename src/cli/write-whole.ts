/**
 * Puts a set of files into a folder, whole or not at all: everything is written into a folder beside it first, then moved in
 * by renames. A folder that does not exist yet appears at once. In one that does, our older files go first, so that old
 * programs never stand beside new ones, and files of other origin stay.
 */
import { existsSync, mkdirSync, readdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';

export type Files = ReadonlyMap<string, Uint8Array | string>;

/** Files that a make of this slug may have written before. */
const isOwn = (slug: string, name: string): boolean =>
  name.startsWith(slug) &&
  /^(\.stl|\.3mf|\.sheet\.html|\.report\.json|\.matched\.part\.json|-\d+-[a-z0-9-]+(\.UNPROVEN)?\.nc)$/.test(
    name.slice(slug.length),
  );

/** Folders that a run which was killed left behind. */
function sweep(parent: string, stem: string): void {
  for (const name of readdirSync(parent)) {
    const pid = name.startsWith(stem) ? Number(name.slice(stem.length)) : Number.NaN;
    if (!Number.isInteger(pid) || pid === process.pid) continue;
    try {
      process.kill(pid, 0);
    } catch (fault) {
      // No such process: its folder is nobody's. EPERM means that it lives and is someone else's.
      if ((fault as NodeJS.ErrnoException).code === 'ESRCH')
        rmSync(join(parent, name), { recursive: true, force: true });
    }
  }
}

/**
 * @param folder to fill, named for the slug @param files by name; the last one is moved in last
 * @throws Error of the file system; then nothing new stands in the folder but whole files
 */
export function writeWhole(folder: string, files: Files): void {
  const parent = dirname(folder);
  const slug = basename(folder);
  mkdirSync(parent, { recursive: true });
  const stem = `.${slug}.part-`;
  sweep(parent, stem);
  const beside = join(parent, `${stem}${process.pid}`);
  rmSync(beside, { recursive: true, force: true });
  mkdirSync(beside);
  try {
    for (const [name, content] of files) writeFileSync(join(beside, name), content);
    if (!existsSync(folder)) {
      renameSync(beside, folder);
      return;
    }
    for (const name of readdirSync(folder)) if (isOwn(slug, name)) rmSync(join(folder, name));
    for (const name of files.keys()) renameSync(join(beside, name), join(folder, name));
  } finally {
    rmSync(beside, { recursive: true, force: true });
  }
}
