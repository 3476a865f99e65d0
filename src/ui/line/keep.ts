/** What is kept of lines between visits. Pure: the shelf is given. */
import type { KeptRows, LineShelf } from '../state/line-shelf.ts';
import type { MadeRow } from './made-row.ts';

/** Lines by the ids of their documents. */
export interface LineKeep {
  /** What is kept of a document's line; of what was made, only what this very page made. */
  load(id: string): Promise<KeptRows & { made: ReadonlyMap<string, MadeRow> }>;
  saveRows(id: string, rows: KeptRows): Promise<void>;
  /** @param key everything that decides about the row's files, its text */
  saveMade(id: string, key: string, made: MadeRow): Promise<void>;
  /** Drops what was made of rows that are no more. @param keys that still count */
  prune(id: string, keys: readonly string[]): Promise<void>;
}

/** @param sources hash of all that the page is made of: what another page made is made again, as its proof may not hold here */
export function lineKeep(shelf: LineShelf, sources: string): LineKeep {
  const own = `${sources} `;
  return {
    load: async (id) => {
      const [kept, made] = await Promise.all([shelf.rows(id), shelf.made(id)]);
      const ours = [...made].filter(([key]) => key.startsWith(own));
      return {
        rows: kept?.rows ?? [],
        columns: kept?.columns ?? [],
        // Written by this very page, so it is what this page writes.
        made: new Map(ours.map(([key, value]) => [key.slice(own.length), value as MadeRow])),
      };
    },
    saveRows: (id, rows) => shelf.saveRows(id, rows),
    saveMade: async (id, key, made) => {
      // Where the rows are gone, their document was thrown away while this was on the way.
      if (await shelf.rows(id)) await shelf.saveMade(id, own + key, made);
    },
    prune: async (id, keys) => {
      const count = new Set(keys.map((key) => own + key));
      const gone = [...(await shelf.made(id)).keys()].filter((key) => !count.has(key));
      if (gone.length) await shelf.dropMade(id, gone);
    },
  };
}
