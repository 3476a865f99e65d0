/** Templates stretched or cut down to 300 mm, the length that the page's proof is timed at. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';

const LENGTH = 300;
type Raw = { [key: string]: unknown; name: string; form: { [key: string]: unknown }[] };

const template = (name: string): Raw =>
  JSON.parse(readFileSync(join(import.meta.dirname, `../../templates/${name}.part.json`), 'utf8')) as Raw;

/** @returns name and text of each document */
export function shortParts(): { name: string; text: string }[] {
  const stretched = (name: string, more: object = {}): Raw => ({ ...template(name), length: LENGTH, ...more });
  const stair = stretched('stair-baluster');
  const form = stair.form.map((e, k) => (k === 0 ? { ...e, length: 60 } : { ...e }));
  form.at(-1)!.length = 45;
  const parts: { [name: string]: Raw } = {
    'lamp stem, 300 mm': stretched('lamp-stem'),
    'file handle, 300 mm': stretched('file-handle', { bench: 'middle' }),
    'stair baluster cut to 300 mm': { ...stair, form },
    'barley twist, 300 mm': stretched('barley-twist'),
  };
  return Object.entries(parts).map(([name, raw]) => ({ name, text: JSON.stringify({ ...raw, name }) }));
}
