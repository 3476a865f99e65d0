/** The README's tables of carvings and elements with their keys, from the schema's own words. `npm run keys` writes them. */
import { readFileSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { z } from 'zod';
import { metaOf } from '../shared/schema.ts';
import { choicesOf } from '../src/part/walk.ts';
import { around, range, runOut } from '../src/profiles/carving.ts';
import { carvingKinds } from '../src/profiles/carvings/registry.ts';
import { end, extent, start } from '../src/profiles/element.ts';
import { elementKinds } from '../src/profiles/elements/registry.ts';

const README = resolve(import.meta.dirname, '../README.md');

interface Kind {
  readonly kind: string;
  readonly meaning: string;
  readonly schema: z.ZodObject;
}
type Shape = Readonly<Record<string, z.ZodType>>;

/** What a key means, without the stop, behind what may be chosen where it is a choice. */
function meaning(schema: z.ZodType): string {
  const choices = choicesOf(schema);
  const what = (metaOf(schema)?.description ?? '').replace(/\.$/, '').replace(/^./, (c) => c.toLowerCase());
  return choices.length ? `(${choices.join(', ')}) ${what}` : what;
}
const needed = (schema: z.ZodType): boolean => !schema.safeParse(undefined).success;

/** `key` meaning · … The keys that must be there stand bold. */
const said = (shape: Shape, keys: readonly string[]): string =>
  keys.map((k) => `${needed(shape[k]!) ? `**\`${k}\`**` : `\`${k}\``} ${meaning(shape[k]!)}`).join(' · ');

/** A row for each kind: its own keys told, those that it shares with others only named. */
function rows(kinds: readonly Kind[], tag: string, shared: Shape, assumed: readonly string[]): string[] {
  return kinds.map(({ kind, meaning: what, schema }) => {
    const keys = Object.keys(schema.shape).filter((k) => k !== tag && !assumed.includes(k));
    const common = keys.filter((k) => shared[k]);
    const own = keys.filter((k) => !common.includes(k));
    const named = common.map((k) => `\`${k}\``).join(' ');
    return `| \`${kind}\` | ${what.replace(/\.$/, '')} | ${[said(schema.shape, own), named].filter(Boolean).join(' · ')} |`;
  });
}

/** Every table by its name in the README, Markdown. */
export function keyTables(): Record<'carvings' | 'elements', string> {
  const head = (what: string) => [`| ${what} | what it is | keys |`, '| --- | --- | --- |'];
  const shared: Shape = { ...around, ...runOut };
  const where = Object.keys(range);
  return {
    carvings: [
      `All of them: ${said(range, where)}.\n`,
      `Most of them, where they are named: ${said(shared, Object.keys(shared))}.`,
      '',
      ...head('carving'),
      ...rows(carvingKinds, 'carving', shared, where),
    ].join('\n'),
    elements: [
      `All of them: ${said(extent, Object.keys(extent))}.\n`,
      `Most of them, where they are named: ${said({ start, end }, ['start', 'end'])}.`,
      '',
      ...head('element'),
      ...rows(elementKinds, 'element', { start, end }, Object.keys(extent)),
    ].join('\n'),
  };
}

const between = (name: string) => new RegExp(`(<!-- ${name} -->\n)[\\s\\S]*?(\n<!-- /${name} -->)`);

/** What stands in the README under a name now; undefined if nothing does. */
export const written = (name: string): string | undefined =>
  between(name).exec(readFileSync(README, 'utf8'))?.[0].split('\n').slice(1, -1).join('\n');

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  let text = readFileSync(README, 'utf8');
  for (const [name, table] of Object.entries(keyTables()))
    text = text.replace(between(name), (_, open: string, close: string) => open + table + close);
  writeFileSync(README, text);
}
