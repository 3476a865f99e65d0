/** The name of a part as its files carry it. */

const LONGEST = 60;

/** @param name any text @returns small letters, digits and hyphens; `part` if nothing of the name is left */
export function slugOf(name: string): string {
  const plain = name
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/ß/g, 'ss')
    .replace(/[^a-z0-9]+/g, '-')
    .slice(0, LONGEST)
    .replace(/^-+|-+$/g, '');
  return plain || 'part';
}
