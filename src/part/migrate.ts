/** Older part documents: one function for each version that was ever published, applied in turn before anything is checked. */

/** The version that this program writes and checks. */
export const CURRENT = 1;

export type RawDocument = Record<string, unknown>;
/** version → what makes a document of the next version of it (leaving the version key alone). */
export type Migrations = Readonly<Record<number, (document: RawDocument) => RawDocument>>;

/** Empty until a second version exists: add a line here, and a test, when `CURRENT` grows. */
export const migrations: Migrations = {};

/**
 * Brings a document up to the current version.
 * @param document raw, as read; without a version it is taken for current @param table one function a version
 * @returns the document with `cavetto` at the current version, or the version that no one knows
 */
export function migrate(
  document: RawDocument,
  table: Migrations = migrations,
  current = CURRENT,
): { document: RawDocument } | { unknownVersion: unknown } {
  const written = document.cavetto;
  if (written === undefined) return { document: { cavetto: current, ...document } };
  if (typeof written !== 'number' || !Number.isInteger(written) || written > current)
    return { unknownVersion: written };
  let at = document;
  for (let version = written; version < current; version++) {
    const step = table[version];
    if (!step) return { unknownVersion: written };
    at = { ...step(at), cavetto: version + 1 };
  }
  return { document: at };
}
