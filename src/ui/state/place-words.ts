/** Places of a document in the words of its own labels: no path of keys is for a person to read. Pure. */
import type { Finding, Problem, ProblemCode } from '../../../shared/problems.ts';
import { metaOf } from '../../../shared/schema.ts';
import { keysOf } from '../../part/change.ts';
import { partSchema } from '../../part/document.ts';
import { member, valueAt } from '../../part/walk.ts';
import { carvingKinds } from '../../profiles/carvings/registry.ts';
import { elementKinds } from '../../profiles/elements/registry.ts';
import { ordinal } from '../lanes/words.ts';
import type { Raw } from './contract.ts';

/** What an entry of the form or of the carvings is called. */
function entry(raw: Raw, list: 'form' | 'carvings', index: number): string {
  const item = valueAt(raw, [list, index]) as { element?: unknown; carving?: unknown } | undefined;
  const kinds: readonly { kind: string; label: string }[] = list === 'form' ? elementKinds : carvingKinds;
  const name = list === 'form' ? item?.element : item?.carving;
  const what = kinds.find((k) => k.kind === name)?.label ?? (list === 'form' ? 'element' : 'carving');
  return `${ordinal(index + 1)} ${list === 'form' ? 'element' : 'carving'}${/^(element|carving)$/.test(what) ? '' : `, ${what}`}`;
}

/**
 * @param raw the document as written @param path as problems tell it @returns `4th element, bead: length`; the document itself
 * has the name `the document`
 */
export function placeWords(raw: Raw, path: string): string {
  const keys = keysOf(path);
  const [root, index] = keys;
  const words: string[] = [];
  let at = 0;
  if ((root === 'form' || root === 'carvings') && typeof index === 'number') {
    words.push(entry(raw, root, index));
    at = 2;
  }
  let schema = at ? member(member(partSchema, raw, root!)!, valueAt(raw, [root!]), index!) : partSchema;
  for (; at < keys.length; at++) {
    const key = keys[at]!;
    schema = schema && member(schema, valueAt(raw, keys.slice(0, at)), key);
    // A list's entries share its label: only their number is news.
    if (typeof key === 'number') words.push(ordinal(key + 1));
    else words.push((schema && metaOf(schema)?.label) ?? key);
  }
  return words.length > 1 ? `${words[0]}: ${words.slice(1).join(', ')}` : (words[0] ?? 'the document');
}

const KINDS = new Set<string>([...elementKinds, ...carvingKinds].flatMap((k) => [k.kind, k.label]));
const GROUPS = Object.keys(partSchema.shape).join('|');
const LISTED = /(?:\b([\w-]+) )?\b(form|carvings)\[(\d+)\]/g;
const GROUPED = new RegExp(`\\b(?:${GROUPS})\\.[a-z]\\w*(?:\\.\\w+)*`, 'gi');

/** A sentence that names places by their paths, with the labels in their stead. */
export const inWords = (raw: Raw, sentence: string): string =>
  sentence
    .replace(LISTED, (_, before: string | undefined, list: string, index: string) => {
      const nth = `${ordinal(Number(index) + 1)} ${list === 'form' ? 'element' : 'carving'}`;
      // After the name of its kind the number only tells which one.
      return before && KINDS.has(before) ? `${before} (${nth})` : `${before ? `${before} ` : ''}the ${nth}`;
    })
    .replace(GROUPED, (path) => {
      const [group, ...rest] = placeWords(raw, path).split(': ');
      return rest.length ? `the ${group}’s ${rest.join(', ')}` : path;
    });

/** What these say is wrong with a place, so the place must stand before it; the others are sentences of their own. */
const OF_A_PLACE: readonly ProblemCode[] = [
  'not-json',
  'wrong-shape',
  'unknown-key',
  'out-of-limits',
  'unknown-name',
  'elements-too-long',
  'elements-too-short',
  'element-shape',
  'form-too-thin',
  'carving-range',
  'carving-too-deep',
];

/** A problem as one sentence for a person: where, what is wrong, what is allowed. */
export function problemWords(raw: Raw, p: Pick<Problem, 'code' | 'path' | 'message' | 'allowed'>): string {
  const where = OF_A_PLACE.includes(p.code) ? `${placeWords(raw, p.path)}: ` : '';
  return capital(`${where}${inWords(raw, p.message)}${p.allowed ? `: ${inWords(raw, p.allowed)}` : ''}`);
}

/** A finding as sentences: what is wrong, and what to change. */
export const findingWords = (f: Pick<Finding, 'message' | 'fix'>): string =>
  [f.message, f.fix]
    .filter(Boolean)
    .map((s) => `${capital(s.replace(/\.$/, ''))}.`)
    .join(' ');

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);
