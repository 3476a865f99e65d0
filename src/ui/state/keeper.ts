/** Stores documents one after another, and keeps as a part of its own what another tab has overtaken. No React. */
import type { Record, Storage } from './storage.ts';

/** Where a document is stored: its id, and the revision of it that this tab loaded or wrote last. Altered as it is written. */
export interface Place {
  id: string;
  revision: number | undefined;
}

export interface PlaceKeeper {
  /**
   * Writes a document at its place; where another tab wrote there meanwhile, the place becomes a new one, with a copy of its line.
   * @returns whether the place had to become a new one @throws what the storage throws
   */
  save(place: Place, document: Omit<Record, 'id'>): Promise<{ parted: boolean }>;
  /** When all that was asked for is written, or has failed. */
  rest(): Promise<void>;
}

/** @param storage that of the page @param newId names a new place */
export function placeKeeper(storage: Storage, newId: () => string): PlaceKeeper {
  let writing: Promise<unknown> = Promise.resolve();
  const write = async (place: Place, document: Omit<Record, 'id'>) => {
    const revision = await storage.save({ ...document, id: place.id }, place.revision);
    if (revision !== undefined) {
      place.revision = revision;
      return { parted: false };
    }
    const id = newId();
    const own = await storage.save({ ...document, id }, undefined);
    const rows = await storage.lines.rows(place.id);
    if (rows) await storage.lines.saveRows(id, rows);
    Object.assign(place, { id, revision: own });
    return { parted: true };
  };
  return {
    // One after another: a second writing that began before the first has told its revision would take it for another tab's.
    save: (place, document) => {
      const mine = writing.then(() => write(place, document));
      writing = mine.catch(() => {});
      return mine;
    },
    rest: async () => void (await writing),
  };
}
