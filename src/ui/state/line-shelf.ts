/** Where the lines of documents live between visits: their rows, and what was made of them. */
import { type DBSchema, type IDBPDatabase, openDB } from 'idb';

/** A row as it was written: cells by column, texts all of them. */
export interface KeptRow {
  readonly name: string;
  readonly quantity: string;
  readonly cells: Readonly<Record<string, string>>;
}
export interface KeptRows {
  readonly rows: readonly KeptRow[];
  /** Columns that a table brought, beside those that the document itself offers. */
  readonly columns: readonly string[];
}

/** Lines by the ids of their documents. */
export interface LineShelf {
  rows(id: string): Promise<KeptRows | undefined>;
  saveRows(id: string, rows: KeptRows): Promise<void>;
  /** What was made, by key; what it is, the line alone knows. */
  made(id: string): Promise<ReadonlyMap<string, unknown>>;
  saveMade(id: string, key: string, value: unknown): Promise<void>;
  dropMade(id: string, keys: readonly string[]): Promise<void>;
  remove(id: string): Promise<void>;
}

interface Shelf extends DBSchema {
  rows: { key: string; value: KeptRows };
  made: {
    key: [string, string];
    value: { document: string; key: string; value: unknown };
    indexes: { document: string };
  };
}

/**
 * The browser's own database. One beside that of the documents: a new store inside theirs would raise its version, and that waits
 * for every tab that still has an older page open. A write is whole or absent: each is one transaction.
 */
export function browserShelf(name: string): LineShelf {
  let open: Promise<IDBPDatabase<Shelf>> | undefined;
  const shelf = () => {
    open ??= openDB<Shelf>(name, 1, {
      upgrade: (db) => {
        db.createObjectStore('rows');
        db.createObjectStore('made', { keyPath: ['document', 'key'] }).createIndex('document', 'document');
      },
    });
    return open;
  };
  return {
    rows: async (id) => (await shelf()).get('rows', id),
    saveRows: async (id, rows) => void (await (await shelf()).put('rows', rows, id)),
    made: async (id) => {
      const all = await (await shelf()).getAllFromIndex('made', 'document', id);
      return new Map(all.map((m) => [m.key, m.value]));
    },
    saveMade: async (id, key, value) => void (await (await shelf()).put('made', { document: id, key, value })),
    dropMade: async (id, keys) => {
      const at = (await shelf()).transaction('made', 'readwrite');
      await Promise.all([...keys.map((key) => at.store.delete([id, key])), at.done]);
    },
    remove: async (id) => {
      const at = (await shelf()).transaction(['rows', 'made'], 'readwrite');
      const made = await at.objectStore('made').index('document').getAllKeys(id);
      await Promise.all([
        at.objectStore('rows').delete(id),
        ...made.map((key) => at.objectStore('made').delete(key)),
        at.done,
      ]);
    },
  };
}

/** A shelf that forgets when the page closes; what it gives is a copy, as a database's would be. */
export function memoryShelf(): LineShelf {
  const rows = new Map<string, KeptRows>();
  const made = new Map<string, Map<string, unknown>>();
  return {
    rows: async (id) => structuredClone(rows.get(id)),
    saveRows: async (id, value) => void rows.set(id, structuredClone(value)),
    made: async (id) => structuredClone(made.get(id) ?? new Map<string, unknown>()),
    saveMade: async (id, key, value) => {
      const own = made.get(id) ?? new Map<string, unknown>();
      made.set(id, own.set(key, structuredClone(value)));
    },
    dropMade: async (id, keys) => {
      for (const key of keys) made.get(id)?.delete(key);
    },
    remove: async (id) => {
      rows.delete(id);
      made.delete(id);
    },
  };
}
