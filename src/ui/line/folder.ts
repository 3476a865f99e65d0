/** The line's folder as the command line lays it out: variants' folders, their records, the lists, the manifest. Pure. */
import { goodsFiles } from '../../batch/goods.ts';
import {
  type FileHash,
  type ManifestVariant,
  manifestText,
  recordSchema,
  recordText,
} from '../../batch/line-record.ts';
import { VERSION } from '../../build/version.ts';
import { writePart } from '../../part.ts';
import type { MadeRow } from './session.ts';

/** @returns SHA-256, hexadecimal */
export type Hash = (content: string | Uint8Array) => Promise<string>;

/** The browser's own. */
export const browserHash: Hash = async (content) => {
  const bytes = typeof content === 'string' ? new TextEncoder().encode(content) : content;
  const digest = await crypto.subtle.digest('SHA-256', bytes as BufferSource);
  return Array.from(new Uint8Array(digest), (b) => b.toString(16).padStart(2, '0')).join('');
};

/**
 * @param rows made, in the order of the line @param wanted how many rows the line has, made or not: the manifest stands for a
 * whole line and is left out of a part of one
 * @returns path in the folder → content, the manifest last
 */
export async function folderOf(
  title: string,
  rows: readonly Pick<MadeRow, 'made' | 'files'>[],
  wanted: number,
  hash: Hash,
): Promise<Map<string, Uint8Array | string>> {
  const folder = new Map<string, Uint8Array | string>();
  const listed: ManifestVariant[] = [];
  const hashes = (files: ReadonlyMap<string, Uint8Array | string>): Promise<FileHash[]> =>
    Promise.all([...files].map(async ([file, content]) => ({ file, sha256: await hash(content) })));
  for (const { made, files } of rows) {
    const { slug, part } = made.variant;
    for (const [name, content] of files) folder.set(`${slug}/${name}`, content);
    const record = recordText(made, await hash(`${VERSION}\0${writePart(part)}`), await hashes(files));
    folder.set(`made/${slug}.json`, record);
    listed.push({ made, record: recordSchema.parse(JSON.parse(record)) });
  }
  const lists = goodsFiles(
    rows.map((r) => r.made),
    { title, wanted },
  );
  for (const [name, content] of lists) folder.set(name, content);
  if (rows.length === wanted) folder.set('manifest.json', manifestText(title, listed, await hashes(lists)));
  return folder;
}
