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

export interface Storage {
  /** All documents, the last changed first. */
  list(): Promise<Stored[]>;
  load(id: string): Promise<Record | undefined>;
  save(record: Record): Promise<void>;
  /** Takes a document away, and its line. */
  remove(id: string): Promise<void>;
  /** The documents' lines. */
  readonly lines: LineShelf;
}

interface Shelf extends DBSchema {
  documents: { key: string; value: Record };
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
    load: async (id) => (await shelf()).get('documents', id),
    save: async (record) => void (await (await shelf()).put('documents', record)),
    remove: async (id) => {
      await (await shelf()).delete('documents', id);
      await lines.remove(id);
    },
    lines,
  };
}

/** Storage that forgets when the page closes. */
export function memoryStorage(): Storage {
  const records = new Map<string, Record>();
  const lines = memoryShelf();
  return {
    list: async () => newestFirst([...records.values()]),
    load: async (id) => records.get(id),
    save: async (record) => void records.set(record.id, record),
    remove: async (id) => {
      records.delete(id);
      await lines.remove(id);
    },
    lines,
  };
}
