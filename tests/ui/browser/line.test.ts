/** A line of one part: rows from sliders, made live, stopped, gone on with, taken as one folder. */

import { createHash } from 'node:crypto';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import axe from 'axe-core';
import { unzipSync } from 'fflate';
import Papa from 'papaparse';
import { afterAll, afterEach, expect, test } from 'vitest';
import { drawn, oneBrowser, PATIENCE, shot, type Visit, visit } from '../../support/browser.ts';
import { cavetto, scratch } from '../../support/command.ts';
import { open } from '../../support/hands.ts';

const browser = oneBrowser();
const space = scratch();
afterAll(space.remove);
let now: Visit | undefined;
afterEach(async () => {
  await now?.context.close();
  now = undefined;
});

/** Small and coarse, so that each row takes a moment. */
const peg = {
  cavetto: 1,
  name: 'Dowel peg',
  length: 16,
  form: [{ element: 'cylinder', share: 1, start: 16 }],
  carvings: [
    { carving: 'facets', over: [0, 0], flats: 6 },
    { carving: 'twist', over: [0, 0], turns: 0.05, hand: 'right' },
  ],
  blank: { section: 'round', width: 20 },
  plan: { scallop: 0.3 },
  knobs: [
    { id: 'length', label: 'length', sets: ['length'], min: 12, max: 24, step: 1 },
    { id: 'hand', label: 'hand', sets: ['carvings[1].hand'] },
    { id: 'stock', label: 'stock', sets: ['blank.width'], min: 20, max: 100 },
    { id: 'wood', label: 'wood', sets: ['blank.material'], choices: ['sugar-maple', 'white-oak'] },
  ],
};

test('six rows from sliders are made live, stopped, gone on with and taken as one folder; what is wrong says row and column', async () => {
  now = await visit(browser());
  const { page, noted } = now;
  await open(page, peg);
  await page.getByRole('button', { name: 'A line of these' }).click();
  const dialog = page.getByRole('dialog', { name: 'A line of these' });
  const rows = dialog.locator('tbody tr[data-state]');

  // Two rows in steps of the length, a pair by one click, one by hand: five that are right.
  const steps = dialog.getByRole('group', { name: 'rows in steps' });
  await steps.getByLabel('from', { exact: true }).fill('14');
  await steps.getByLabel('to', { exact: true }).fill('15');
  await steps.getByLabel('rows', { exact: true }).fill('2');
  await dialog.getByLabel('pieces', { exact: true }).fill('12');
  await dialog.getByRole('button', { name: 'Add 2 rows' }).click();
  await dialog.getByRole('button', { name: 'Add left and right' }).click();
  await dialog.getByLabel('wood', { exact: true }).selectOption('white-oak');
  await dialog.getByRole('slider', { name: 'length' }).press('ArrowRight');
  await dialog.getByRole('button', { name: 'Add this row' }).click();
  expect(await rows.count()).toBe(5);
  expect(
    await dialog.getByLabel(/^name, row/).evaluateAll((all) => all.map((e) => (e as HTMLInputElement).value)),
  ).toEqual(['Dowel peg 14', 'Dowel peg 15', 'Dowel peg right', 'Dowel peg left', 'Dowel peg 17 white-oak']);

  // A sixth from a table of the command line: its fault is told by line and column, nothing of it is brought until it is mended.
  await dialog.getByText('rows from a table', { exact: true }).click();
  const pasted = dialog.getByLabel('a table of variants');
  await pasted.fill('name;quantity;stock\nDowel peg thick;12;thick\n');
  await dialog.getByRole('button', { name: 'Add its rows' }).click();
  await dialog.getByText('line 2, column 3 (stock): "thick" is no number').waitFor({ timeout: PATIENCE });
  expect(await rows.count()).toBe(5);
  await dialog.getByLabel('Table file').setInputFiles({
    name: 'line.csv',
    mimeType: 'text/csv',
    buffer: Buffer.from('name;quantity;stock\nDowel peg thick;12;90\n'),
  });
  await dialog.getByText('1 row was added. Its columns are separated by semicolons.').waitFor({ timeout: PATIENCE });

  // A text for a number: told with row and column, mended in place; its stock is more than the jaws take, so it will be refused.
  await dialog.getByLabel('length, row 6').fill('long');
  await dialog.getByText('row 6, column 3 (length): "long" is no number').waitFor({ timeout: PATIENCE });
  expect(await dialog.getByLabel('length, row 6').getAttribute('aria-invalid')).toBe('true');
  await dialog.getByLabel('length, row 6').fill('18');
  await expect.poll(() => dialog.locator('.line-problems').count()).toBe(0);
  expect(await dialog.getByRole('img', { name: /^Silhouette of/ }).count()).toBe(6);

  // Stop when the first is proven: it stays, what was on the way is dropped.
  await dialog.getByRole('button', { name: 'Make all 6' }).click();
  await dialog.locator('tbody progress').first().waitFor({ timeout: PATIENCE });
  await rows.filter({ hasText: 'Proven' }).first().waitFor({ timeout: PATIENCE });
  await shot(page, 'line-working');
  await dialog.getByRole('button', { name: 'Stop' }).click();
  const kept = await rows.evaluateAll((all) => all.map((r) => r.getAttribute('data-state')));
  expect(kept).toContain('made');
  expect(kept).toContain('waiting');
  expect(kept).not.toContain('working');

  // Going on makes the rest alone; a closed dialog keeps everything.
  const left = kept.filter((s) => s !== 'made').length;
  await dialog.getByRole('button', { name: 'Close' }).click();
  await page.getByRole('button', { name: 'A line of these' }).click();
  await dialog.getByRole('button', { name: `Go on: ${left} to make` }).click();
  await dialog.getByRole('button', { name: 'All made' }).waitFor({ timeout: PATIENCE });
  expect(await rows.evaluateAll((all) => all.map((r) => r.getAttribute('data-verdict')))).toEqual([
    ...Array(5).fill('proven'),
    'refused',
  ]);
  for (const row of (await rows.all()).slice(0, 5)) {
    expect(await row.getByRole('img').getAttribute('src')).toMatch(/^data:image\/png;base64,/);
    expect(await row.textContent()).toMatch(/\d+ (s|min)\s*\d+\.\d\d units/);
  }
  await dialog.getByRole('status').filter({ hasText: '5 of 6 proven · 1 refused' }).waitFor();
  await shot(page, 'line-made');

  // The page is left and come back to: rows are as they were, and what is made is not made again.
  await page.reload();
  await drawn(page);
  await page.getByRole('button', { name: 'Drawer' }).click();
  await page.getByRole('dialog').getByRole('button', { name: peg.name, exact: true }).click();
  await expect.poll(() => page.getByLabel('Name of the part').inputValue(), { timeout: PATIENCE }).toBe(peg.name);
  await page.getByRole('button', { name: 'A line of these' }).click();
  await dialog.getByRole('status').filter({ hasText: '5 of 6 proven · 1 refused' }).waitFor({ timeout: PATIENCE });
  expect(await dialog.getByRole('button', { name: 'All made' }).count()).toBe(1);

  // Unchanged rows are not made again: pieces are no part of a program.
  await dialog.getByLabel('pieces, row 1').fill('40');
  await dialog.getByRole('button', { name: 'All made' }).waitFor();

  await page.evaluate(axe.source);
  const { violations } = await page.evaluate(() => (window as unknown as { axe: typeof axe }).axe.run('dialog'));
  expect(
    violations
      .filter((v) => v.impact === 'serious' || v.impact === 'critical')
      .map((v) => `${v.id}: ${v.nodes.map((n) => n.target.join(' ')).join(' | ')}`),
  ).toEqual([]);

  // The rows as a table: the command line reads them to the variants that lie here.
  const [table] = await Promise.all([
    page.waitForEvent('download', { timeout: PATIENCE }),
    dialog.getByRole('button', { name: 'Take the rows as a table' }).click(),
  ]);
  expect(table.suggestedFilename()).toBe('dowel-peg-line.csv');
  const csv = readFileSync(await table.path(), 'utf8');

  const coming = page.waitForEvent('download', { timeout: PATIENCE });
  await dialog.getByRole('button', { name: 'Take the folder as a zip' }).click();
  const download = await coming;
  expect(download.suggestedFilename()).toBe('dowel-peg-line.zip');
  const files = unzipSync(readFileSync(await download.path()));
  const names = Object.keys(files).map((n) => n.replace(/^dowel-peg\//, ''));
  for (const file of [
    'index.html',
    'catalogue.html',
    'price-list.html',
    'price-list.csv',
    'labels.html',
    'manifest.json',
  ])
    expect(names).toContain(file);
  for (const slug of ['dowel-peg-14', 'dowel-peg-15', 'dowel-peg-right', 'dowel-peg-left', 'dowel-peg-17-white-oak']) {
    expect(names.filter((n) => n.startsWith(`${slug}/`) && n.endsWith('.nc')).length).toBeGreaterThan(0);
    for (const ending of ['stl', '3mf', 'sheet.html', 'report.json'])
      expect(names).toContain(`${slug}/${slug}.${ending}`);
  }
  expect(names.filter((n) => n.startsWith('dowel-peg-thick/') && n.endsWith('.nc'))).toEqual([]);
  const text = (name: string) => new TextDecoder().decode(files[`dowel-peg/${name}`]);
  const list = Papa.parse<Record<string, string>>(text('price-list.csv'), { header: true, skipEmptyLines: true }).data;
  expect(list.map((r) => [r.folder, r.quantity])).toEqual([
    ['dowel-peg-14', '40'],
    ['dowel-peg-15', '12'],
    ['dowel-peg-right', '12'],
    ['dowel-peg-left', '12'],
    ['dowel-peg-17-white-oak', '12'],
  ]);
  expect(await rows.first().textContent()).toContain(list[0]!['price before taxes']!);
  expect(text('index.html')).toContain('1 variant refused');
  // The manifest's hashes are those of the files, by Node's own SHA-256.
  const manifest = JSON.parse(text('manifest.json'));
  for (const { folder, files: own } of manifest.variants)
    for (const { file, sha256 } of own)
      expect(createHash('sha256').update(files[`dowel-peg/${folder}/${file}`]!).digest('hex'), file).toBe(sha256);
  // The command line reads the table and takes the folder over: the same keys, so that nothing is made.
  for (const [name, bytes] of Object.entries(files)) {
    mkdirSync(join(space.dir, dirname(name)), { recursive: true });
    writeFileSync(join(space.dir, name), bytes);
  }
  const document = space.file('peg.json', peg);
  const lines = space.file('line.csv', csv);
  const folder = join(space.dir, 'dowel-peg');
  const ran = await cavetto(['batch', document, '--table', lines, '--out', folder, '--json']);
  expect([ran.code, ran.err]).toEqual([3, '']);
  const { variants, run } = JSON.parse(ran.out);
  expect([variants.length, run.made]).toEqual([6, 0]);
  expect(noted.wrong).toEqual([]);
  expect(noted.foreign).toEqual([]);
});
