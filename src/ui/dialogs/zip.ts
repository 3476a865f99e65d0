/** All files of a job as one zip. Pure: same files, same bytes. */
import { strToU8, zipSync } from 'fflate';

/** Every entry has this time: the earliest that a zip can say, in its own local clock. */
const TIME = new Date(1980, 0, 1, 0, 0, 0);

/** @param files name → content, in the order they shall stand in @param folder that holds them */
export function zipOf(files: ReadonlyMap<string, Uint8Array | string>, folder: string): Uint8Array {
  const entries = [...files].map(([name, content]) => [
    `${folder}/${name}`,
    typeof content === 'string' ? strToU8(content) : content,
  ]);
  return zipSync(Object.fromEntries(entries) as Record<string, Uint8Array>, { level: 6, mtime: TIME });
}
