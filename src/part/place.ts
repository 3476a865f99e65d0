/** Places in a part document, as people write them: `form[3].length`. */

export type Place = readonly (string | number)[];

const WORD = '[A-Za-z$_][A-Za-z0-9$_]*';
const WHOLE = new RegExp(`^${WORD}(?:\\.${WORD}|\\[(?:0|[1-9]\\d{0,5})\\])*$`);

/** The way to a place. @param text as `pathText` writes it @returns keys from the root; undefined if it is no such text */
export function placeOf(text: string): Place | undefined {
  if (!WHOLE.test(text)) return undefined;
  return text
    .replaceAll('[', '.#')
    .replaceAll(']', '')
    .split('.')
    .map((key) => (key.startsWith('#') ? Number(key.slice(1)) : key));
}

/** A place as people write it. */
export const pathText = (path: readonly PropertyKey[]): string =>
  path.map((key, i) => (typeof key === 'number' ? `[${key}]` : `${i ? '.' : ''}${String(key)}`)).join('');

type Group = { [key: string]: unknown };

/**
 * A copy of a document with a value at a place; what is beside the way there is shared with the original.
 * @param value undefined takes the key out @throws Error where a list on the way is too short: a place is checked before
 */
export function withValue<T>(document: T, place: Place, value: unknown): T {
  const [key, ...rest] = place;
  if (key === undefined) return value as T;
  if (typeof key === 'number') {
    if (!Array.isArray(document) || key >= document.length)
      throw new Error(`there is no [${key}] in ${Array.isArray(document) ? `${document.length} entries` : 'no list'}`);
    return document.map((entry, i) => (i === key ? withValue(entry, rest, value) : entry)) as T;
  }
  const group = (typeof document === 'object' && document !== null ? document : {}) as Group;
  if (value === undefined && rest.length === 0) {
    const { [key]: _out, ...others } = group;
    return others as T;
  }
  return { ...group, [key]: withValue(group[key] ?? (rest.length ? {} : undefined), rest, value) } as T;
}
