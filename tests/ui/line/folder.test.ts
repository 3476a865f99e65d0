/** The folder that the page hands out is laid out as the command line's. */
import { createHash } from 'node:crypto';
import { expect, test } from 'vitest';
import { recordSchema } from '../../../src/batch/line-record.ts';
import { checkPart } from '../../../src/part.ts';
import { browserHash, folderOf } from '../../../src/ui/line/folder.ts';
import type { MadeRow } from '../../../src/ui/line/session.ts';

const read = checkPart({ name: 'Peg', form: [{ element: 'cylinder', length: 20, start: 16 }] });
if (!('part' in read)) throw new Error('the part is wrong');
const { part } = read;
const refused = (slug: string): Pick<MadeRow, 'made' | 'files'> => ({
  made: {
    variant: { name: slug, slug, quantity: 3, row: 1, knobs: { length: 20 }, part },
    verdict: 'refused',
    problems: [{ code: 'jaws', severity: 'refuse', path: 'blank', message: 'the jaws do not take it' }],
    silhouette: [
      [0, 8],
      [20, 8],
    ],
    seconds: 1,
  },
  files: new Map<string, string | Uint8Array>([[`${slug}.stl`, Uint8Array.of(1, 2, 3)]]),
});

test('the browser’s hash is SHA-256 (FIPS 180-4, the example of one block)', async () => {
  expect(await browserHash('abc')).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad');
});

test('folders, records, lists, and the manifest last, with the hash of every file', async () => {
  const folder = await folderOf('Pegs', [refused('peg-a'), refused('peg-b')], 2, browserHash);
  expect([...folder.keys()]).toEqual([
    'peg-a/peg-a.stl',
    'made/peg-a.json',
    'peg-b/peg-b.stl',
    'made/peg-b.json',
    'index.html',
    'manifest.json',
  ]);
  const record = recordSchema.parse(JSON.parse(String(folder.get('made/peg-a.json'))));
  expect(record).toMatchObject({ slug: 'peg-a', verdict: 'refused' });
  const manifest = JSON.parse(String(folder.get('manifest.json')));
  expect(manifest.line).toBe('Pegs');
  expect(manifest.variants[1]).toMatchObject({
    folder: 'peg-b',
    quantity: 3,
    knobs: { length: 20 },
    verdict: 'refused',
  });
  const hash = (name: string) => createHash('sha256').update(folder.get(name)!).digest('hex');
  expect(manifest.variants[0].files).toEqual([{ file: 'peg-a.stl', sha256: hash('peg-a/peg-a.stl') }]);
  expect(manifest.files).toEqual([{ file: 'index.html', sha256: hash('index.html') }]);
});

test('of a line that is not made to its end there is no manifest', async () => {
  const folder = await folderOf('Pegs', [refused('peg-a')], 2, browserHash);
  expect([...folder.keys()]).not.toContain('manifest.json');
  expect(folder.get('index.html')).toContain('not made yet');
});
