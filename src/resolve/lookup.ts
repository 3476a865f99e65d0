/** Catalog rows by id, or the row that a document carries itself. */
import type { Problem } from '../../shared/problems.ts';
import { didYouMean, likely } from '../part/nearest.ts';

/**
 * @param named an id or a whole row @param rows the catalog @param path of the place in the document
 * @param what the catalog's name for people, e.g. `bench` @param problems gets one where no row has that id
 */
export function lookUp<T extends { id: string }>(
  named: string | T,
  rows: readonly T[],
  path: string,
  what: string,
  problems: Problem[],
): T | undefined {
  if (typeof named !== 'string') return named;
  const row = rows.find((r) => r.id === named);
  if (row) return row;
  const ids = rows.map((r) => r.id);
  const meant = likely(named, ids);
  problems.push({
    code: 'unknown-name',
    severity: 'refuse',
    path,
    message: `no ${what} is called "${named}"`,
    allowed: meant.length ? didYouMean(meant) : `one of ${ids.join(', ')}, or a whole row`,
  });
  return undefined;
}
