/** Where documents live between visits: the browser's own database, or plain memory for tests and private windows. */
import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import type { Raw, Stored } from './contract.ts';
import type { Delta } from './history.ts';
import { browserShelf, type LineShelf, memoryShelf } from './line-shelf.ts';

/** A document with the steps that can still be undone and redone. */
export interface Record extends Stored {
  raw: Raw;
  done: Delta[];
  undone: Delta[];
}

/** A record as it lies in the store, with the count of its writings, by which a tab sees that another has written it meanwhile. */
export interface Kept extends Record {
  revision: number;
}

export interface Storage {
  /** All documents, the last changed first. */
  list(): Promise<Stored[]>;
  load(id: string): Promise<Kept | undefined>;
  /**
   * Writes a record, unless the one that is there was written by somebody else since.
   * @param known revision that was loaded or written here last; undefined if none was
   * @returns the revision it now has; undefined if another is there, and then nothing is written
   */
  save(record: Record, known: number | undefined): Promise<number | undefined>;
  /** Says that a document was in use, so that it is found again first; its content and its revision stay. */
  touch(id: string, changed: number): Promise<void>;
  /** Takes a document away, and its line. */
  remove(id: string): Promise<void>;
  /** The documents' lines. */
  readonly lines: LineShelf;
}

/** A page older than revisions may have written it: without one. */
type Written = Record & { revision?: number };

interface Shelf extends DBSchema {
  documents: { key: string; value: Written };
}

const counted = (found: Written): Kept => ({ ...found, revision: found.revision ?? 0 });

/**
 * What is to be written over what is there. One that is gone was thrown away in another tab, which takes nothing from this one.
 * @returns undefined if what is there is not what was known
 */
function successor(record: Record, known: number | undefined, found: Written | undefined): Kept | undefined {
  if (found && counted(found).revision !== known) return undefined;
  return { ...record, revision: (known ?? 0) + 1 };
}

const newestFirst = (records: Record[]): Stored[] =>
  records.map(({ id, name, changed }) => ({ id, name, changed })).sort((a, b) => b.changed - a.changed);

/** Storage in the browser's database. A write is whole or absent: each is one transaction. */
export function browserStorage(name = 'cavetto'): Storage {
  let open: Promise<IDBPDatabase<Shelf>> | undefined;
  const shelf = () => {
    open ??= openDB<Shelf>(name, 1, { upgrade: (db) => void db.createObjectStore('documents', { keyPath: 'id' }) });
    return open;
  };
  const lines = browserShelf(`${name}-lines`);
  return {
    list: async () => newestFirst(await (await shelf()).getAll('documents')),
    load: async (id) => {
      const found = await (await shelf()).get('documents', id);
      return found && counted(found);
    },
    save: async (record, known) => {
      // Looked at and written in one transaction: no other tab comes between.
      const at = (await shelf()).transaction('documents', 'readwrite');
      const next = successor(record, known, await at.store.get(record.id));
      if (next) await at.store.put(next);
      await at.done;
      return next?.revision;
    },
    touch: async (id, changed) => {
      const at = (await shelf()).transaction('documents', 'readwrite');
      const found = await at.store.get(id);
      if (found) await at.store.put({ ...found, changed });
      await at.done;
    },
    remove: async (id) => {
      await (await shelf()).delete('documents', id);
      await lines.remove(id);
    },
    lines,
  };
}

/** Storage that forgets when the page closes. */
export function memoryStorage(): Storage {
  const records = new Map<string, Kept>();
  const lines = memoryShelf();
  return {
    list: async () => newestFirst([...records.values()]),
    load: async (id) => records.get(id),
    save: async (record, known) => {
      const next = successor(record, known, records.get(record.id));
      if (next) records.set(record.id, next);
      return next?.revision;
    },
    touch: async (id, changed) => {
      const found = records.get(id);
      if (found) records.set(id, { ...found, changed });
    },
    remove: async (id) => {
      records.delete(id);
      await lines.remove(id);
    },
    lines,
  };
}
