/** Whether two documents say the same. Pure. */

const isGroup = (value: unknown): value is { [key: string]: unknown } => typeof value === 'object' && value !== null;

/**
 * Compares JSON data. The order of keys counts for nothing: a key that was taken out and comes back stands last.
 * @param a, b JSON data @returns whether all in them is the same
 */
export function sameJson(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (!isGroup(a) || !isGroup(b) || Array.isArray(a) !== Array.isArray(b)) return false;
  const keys = Object.keys(a);
  return keys.length === Object.keys(b).length && keys.every((k) => Object.hasOwn(b, k) && sameJson(a[k], b[k]));
}
