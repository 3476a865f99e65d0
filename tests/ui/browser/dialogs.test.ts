/** Every dialog, in light and dark, broad and narrow: nothing serious stands in the way of anybody. */
import type { Page } from 'playwright';
import { afterEach, expect, test } from 'vitest';
import { barriers } from '../../support/barriers.ts';
import { oneBrowser, shot, type Visit, visit } from '../../support/browser.ts';

const browser = oneBrowser();
let now: Visit | undefined;
afterEach(async () => {
  await now?.context.close();
  now = undefined;
});

/** Keys that open a dialog, as the sheet of keys tells them. */
const DIALOGS = [
  ['o', 'Drawer'],
  ['r', 'From an old part'],
  ['t', 'Take it away'],
  ['l', 'A link that carries the part'],
  ['F1', 'Keys'],
] as const;

/** Opens one, looks at it, closes it again; the focus comes back to the page. */
async function look(page: Page, key: string, name: string): Promise<string[]> {
  await page.keyboard.press(key);
  const dialog = page.getByRole('dialog', { name });
  await dialog.waitFor();
  if (name === 'From an old part') await dialog.getByLabel('Table of readings').fill('0 36\n40 30\n90 41');
  const found = await barriers(page, 'dialog[open]');
  const broad = await dialog.evaluate((d) => d.scrollWidth - d.clientWidth);
  if (broad > 1) found.push(`${name} sticks out by ${broad} px`);
  await shot(page, `dialog-${name.toLowerCase().replaceAll(' ', '-')}-${page.viewportSize()!.width}`);
  await dialog.getByRole('button', { name: 'Close' }).click();
  await dialog.waitFor({ state: 'detached' });
  return found;
}

/** The planner, which begins by itself, would only take the time of what is looked at. */
async function atRest(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Stop' }).click();
  await page.getByRole('button', { name: 'Prove', exact: true }).waitFor();
}

test.each([
  ['light', 1440],
  ['dark', 1440],
  ['dark', 390],
] as const)('%s, %i px broad', async (colorScheme, width) => {
  now = await visit(browser(), { colorScheme, viewport: { width, height: 844 } });
  const { page, noted } = now;
  await atRest(page);
  for (const [key, name] of DIALOGS) expect(await look(page, key, name), name).toEqual([]);
  expect(noted.wrong).toEqual([]);
});

test('with trays open and parts of the panel switched on it is the same', async () => {
  now = await visit(browser(), { colorScheme: 'dark', reducedMotion: 'reduce' });
  const { page } = now;
  await atRest(page);
  await page.getByRole('button', { name: 'Add an element' }).click();
  await page.getByRole('button', { name: 'Add a carving' }).click();
  await page
    .getByRole('navigation', { name: /^Readiness/ })
    .getByRole('button', { name: /^Cutting/ })
    .click();
  await page.getByLabel('detail bits', { exact: true }).check();
  await page.getByRole('button', { name: 'One more' }).click();
  await page.getByRole('button', { name: 'What detail bits means' }).click();
  for (const within of ['.lanes', '.sliders']) expect(await barriers(page, within), within).toEqual([]);
  // Whoever asks for stillness gets it.
  expect(await page.evaluate(() => document.getAnimations().length)).toBe(0);
  await page.getByLabel('detail bits', { exact: true }).uncheck();
  await page.getByRole('button', { name: /^Undo 3/ }).waitFor();
});
