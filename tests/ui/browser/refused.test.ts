/** What the proof or the fit refused leaves only with the words that say so, and says so itself. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright';
import { afterAll, afterEach, expect, test } from 'vitest';
import { oneBrowser, PATIENCE, shot, strip, type Visit, visit } from '../../support/browser.ts';
import { cavetto, scratch } from '../../support/command.ts';
import { documentOf, open, openTakeAway, prove, stored, takes, takeZip } from '../../support/hands.ts';
import { peg } from '../../support/small-parts.ts';

const browser = oneBrowser();
const folder = scratch();
afterAll(folder.remove);
let now: Visit | undefined;
afterEach(async () => {
  await now?.context.close();
  now = undefined;
});

/** Square stock on the bench whose chuck has three jaws: the corners would throw it out. */
const loose = { ...peg, name: 'Loose peg', bench: 'small' };
const UNDERSTOOD = /I know that these programs failed the proof/;

/** Names in the open dialog that are programs. */
const offered = async (page: Page): Promise<string[]> =>
  (await page.getByRole('dialog').locator('code').allTextContents()).filter((name) => name.endsWith('.nc'));
const programsOf = (names: Iterable<string>): string[] => [...names].filter((name) => name.endsWith('.nc')).sort();
const close = (page: Page) => page.getByRole('dialog').getByRole('button', { name: 'Close', exact: true }).click();

test('no program leaves before the proof, a refused one only marked, and never after a change', async () => {
  now = await visit(browser());
  const { page, noted } = now;
  await open(page, loose);
  await strip(page)
    .getByRole('button', { name: /stopped.*3 jaws do not seat on 4 flats/ })
    .waitFor({ timeout: PATIENCE });

  // Not proven: the document and its solid, nothing that cuts and no sheet to cut by.
  await openTakeAway(page);
  expect(await offered(page)).toEqual([]);
  const unproved = [...(await takeZip(page)).keys()];
  expect(unproved).toContain('loose-peg.part.json');
  for (const name of unproved) expect(name).toMatch(/\.(stl|3mf|obj|part\.json)$/);
  await close(page);

  expect(await prove(page)).toBe('Refused');
  const words = page.getByRole('status').filter({ hasText: /^Refused: / });
  expect(await words.textContent()).toMatch(/3 jaws do not seat on 4 flats/);

  // Refused: no program without the words, and what does come says what it is.
  await openTakeAway(page);
  expect(await page.getByRole('alert').textContent()).toMatch(/Refused.*3 jaws.*kept back/s);
  expect(await offered(page)).toEqual([]);
  const without = await takeZip(page);
  expect(programsOf(without.keys())).toEqual([]);
  expect(new TextDecoder().decode(without.get('loose-peg.sheet.html'))).toMatch(/UNPROVEN|refused|not proven/i);
  await shot(page, 'refused');

  await page.getByLabel(UNDERSTOOD).check();
  const marked = await offered(page);
  expect(marked.length).toBeGreaterThan(0);
  for (const name of marked) expect(name).toMatch(/\.UNPROVEN\.nc$/);
  const one = await takes(page, () => page.getByRole('button', { name: `Take ${marked[0]}`, exact: true }).click());
  expect(one.name).toBe(marked[0]);
  const zip = await takeZip(page);
  expect(programsOf(zip.keys())).toEqual([...marked].sort());
  for (const name of marked)
    expect(new TextDecoder().decode(zip.get(name)).split('\n', 4).join('\n'), name).toMatch(/UNPROVEN/);
  expect(Buffer.compare(one.bytes, zip.get(marked[0]!)!)).toBe(0);

  // As the command line keeps them.
  const document = folder.file('loose.part.json', new TextDecoder().decode(zip.get('loose-peg.part.json')));
  const made = await cavetto(['make', document, '--out', folder.dir, '--quiet', '--unproven']);
  expect(made.code).toBe(3);
  const kept = programsOf(folder.all()).map((name) => name.replace('loose-peg/', ''));
  expect(kept).toEqual([...marked].sort());
  for (const name of kept)
    expect(Buffer.compare(zip.get(name)!, readFileSync(join(folder.dir, 'loose-peg', name))), name).toBe(0);
  await close(page);

  // A change after it: nothing of the old programs is to be had, ticked or not.
  await page.getByLabel('Name of the part').fill('Loose peg two');
  await page.keyboard.press('Enter');
  await stored(page);
  await openTakeAway(page);
  expect(await offered(page)).toEqual([]);
  expect(await page.getByLabel(UNDERSTOOD).count()).toBe(0);
  await close(page);
  expect((await documentOf(page)).name).toBe('Loose peg two');
  expect(noted).toMatchObject({ foreign: [], wrong: [] });
});
