/** A walking stick of more than 900 mm on the one ruler, in the light and in the dark. */
import type { Page } from 'playwright';
import { afterEach, expect, test } from 'vitest';
import { oneBrowser, PATIENCE, shot, strip, type Visit, visit } from '../../support/browser.ts';
import { panel, said, startFrom } from '../../support/hands.ts';

const browser = oneBrowser();
let now: Visit | undefined;
afterEach(async () => {
  await now?.context.close();
  now = undefined;
});

/** Places of the numbers on the ruler, px from left to right, and what they say. */
const numbers = (page: Page): Promise<{ from: number; to: number; says: string }[]> =>
  page.locator('svg.scale text').evaluateAll((all) =>
    all.map((e) => {
      const { left, right } = e.getBoundingClientRect();
      return { from: left, to: right, says: e.textContent ?? '' };
    }),
  );

test('a long part lies whole on the ruler, its numbers can be read, and keys look closer and back', async () => {
  now = await visit(browser());
  const { page, noted } = now;
  await startFrom(page, 'Walking-stick shaft');
  const length = panel(page).getByRole('textbox', { name: 'overall length, number' });
  await length.fill('930');
  await length.press('Enter');
  expect(await said(page, 'overall length')).toBe('930 mm');
  await strip(page)
    .getByRole('button', { name: /^Strength.*(done|look)/ })
    .waitFor({ timeout: PATIENCE });
  await page.locator('body').press('0');
  const column = (await page.locator('.lane-column').boundingBox())!;
  const far = await numbers(page);
  expect(far.map((n) => Number(n.says))).toEqual(expect.arrayContaining([0, 200, 400, 600, 800]));
  for (const [i, n] of far.entries()) if (i) expect(n.from, n.says).toBeGreaterThan(far[i - 1]!.to);
  // From its first to its last element it stands within the column.
  const cells = page.getByRole('listbox', { name: /^Elements/ }).getByRole('option');
  const [first, last] = [(await cells.first().boundingBox())!, (await cells.last().boundingBox())!];
  expect(first.x).toBeGreaterThanOrEqual(column.x);
  expect(last.x + last.width).toBeLessThanOrEqual(column.x + column.width);
  await shot(page, 'long');

  for (let i = 0; i < 6; i++) await page.keyboard.press('+');
  await expect.poll(async () => (await numbers(page)).some((n) => n.says === '450')).toBe(true);
  const near = await numbers(page);
  for (const [i, n] of near.entries()) if (i) expect(n.from, n.says).toBeGreaterThan(near[i - 1]!.to);
  await page.keyboard.press('0');
  await expect.poll(() => numbers(page)).toEqual(far);

  await page.keyboard.press('n');
  await page.getByRole('button', { name: 'Light', exact: true }).waitFor();
  await page.keyboard.press('n');
  await page.getByRole('button', { name: 'Dark', exact: true }).waitFor();
  const ground = () => page.evaluate(() => getComputedStyle(document.body).backgroundColor);
  await expect.poll(ground).toBe('rgb(28, 26, 22)');
  await shot(page, 'long-dark');
  expect(noted).toMatchObject({ foreign: [], wrong: [] });
});
