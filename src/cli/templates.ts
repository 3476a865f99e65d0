/** The part documents to start from. */
import { readdirSync, readFileSync } from 'node:fs';
import { nearest } from '../part/nearest.ts';

const FOLDER = new URL('../../templates/', import.meta.url);
const ENDING = '.part.json';

export interface Template {
  readonly name: string;
  readonly title: string;
  readonly about: string;
}

/** All templates, by name. */
export function listTemplates(): Template[] {
  return readdirSync(FOLDER)
    .filter((f) => f.endsWith(ENDING))
    .sort()
    .map((f) => {
      const { name, about } = JSON.parse(readFileSync(new URL(f, FOLDER), 'utf8')) as { name: string; about?: string };
      return { name: f.slice(0, -ENDING.length), title: name, about: about ?? '' };
    });
}

/** The text of a template, or the name that was meant. */
export function templateText(name: string): { text: string } | { meant: string | undefined; names: string[] } {
  const names = listTemplates().map((t) => t.name);
  if (names.includes(name)) return { text: readFileSync(new URL(`${name}${ENDING}`, FOLDER), 'utf8') };
  return { meant: nearest(name, names), names };
}
