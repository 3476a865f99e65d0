/** Variants of a line, one after another, in a thread of its own; and the whole folder put together. The command line's own pipeline. */
import { expose, transfer } from 'comlink';
import wasmUrl from 'manifold-3d/manifold.wasm?url';
import { pictureOf } from '../../batch/goods/picture.ts';
import { dataAddress } from '../../batch/goods/png.ts';
import type { Variant } from '../../batch/line.ts';
import { makeVariant } from '../../batch/make-variant.ts';
import { priceList } from '../../batch/price-list.ts';
import { solidHere } from '../../build/solid-files.ts';
import { zipOf } from '../dialogs/zip.ts';
import { browserHash, folderOf } from './folder.ts';
import type { MadeRow } from './session.ts';

/** Progress is told at most this often, ms: more would only keep the page busy. */
const TELL_EVERY = 80;

const api = {
  async make(variant: Variant, tell: (share: number, what: string) => void): Promise<MadeRow> {
    const began = performance.now();
    let told = 0;
    const { made, files } = await makeVariant(variant, {
      solid: solidHere({ wasmUrl }),
      onProgress: (share, what) => {
        const now = performance.now();
        if (now - told > TELL_EVERY) {
          told = now;
          tell(share, what);
        }
        return undefined;
      },
    });
    const whole = { ...made, seconds: (performance.now() - began) / 1000 };
    const [row] = priceList([whole]).rows;
    const result: MadeRow = {
      made: whole,
      files: new Map(files),
      ...(row ? { piece: row.piece, picture: dataAddress(pictureOf(row.job.field, row.job.material).png) } : {}),
    };
    const buffers = [...files.values()].flatMap((f) => (typeof f === 'string' ? [] : [f.buffer as ArrayBuffer]));
    return transfer(result, [...new Set(buffers)]);
  },

  /** @param rows in the order of the line @param wanted how many rows the line has, made or not @returns the folder as a zip */
  async pack(
    title: string,
    slug: string,
    rows: readonly Pick<MadeRow, 'made' | 'files'>[],
    wanted: number,
  ): Promise<Uint8Array> {
    const files = await folderOf(title, rows, wanted, browserHash);
    const zip = zipOf(files, slug);
    return transfer(zip, [zip.buffer as ArrayBuffer]);
  },
};
export type LineApi = typeof api;

expose(api);
