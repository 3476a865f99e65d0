/** From a plain stick on: what is typed into the Form lane, what is added, and the proof that comes back with an undo. */
import { afterEach, expect, test } from 'vitest';
import { elements, oneBrowser, PATIENCE, type Visit, visit } from '../../support/browser.ts';
import { verdict } from '../../support/hands.ts';

const browser = oneBrowser();
let now: Visit | undefined;
afterEach(async () => {
  await now?.context.close();
  now = undefined;
});

test('a part begins from a plain stick, refuses numbers that cannot be, and is proven again after an undo', async () => {
  now = await visit(browser());
  const { page, noted } = now;
  await page.getByRole('button', { name: 'Drawer' }).click();
  await page
    .getByRole('dialog')
    .getByRole('button', { name: /^A plain stick/ })
    .click();
  await expect.poll(() => elements(page).count(), { timeout: PATIENCE }).toBe(1);
  expect(await verdict(page)).toBe('Proven');

  await elements(page).first().click();
  const takeOut = page.getByRole('button', { name: 'Take out' });
  expect(await takeOut.isDisabled()).toBe(true);
  expect(await takeOut.getAttribute('title')).toMatch(/at least one element/);

  const field = page.getByLabel('length', { exact: true }).and(page.locator('.typed input'));
  const type = async (text: string) => {
    await field.fill(text);
    await field.press('Enter');
  };
  const told = page.locator('.typed-told');
  for (const [text, words] of [
    ['-3', '-3 is out of limits: 0.5 to 3000 mm; 100 stays'],
    ['abc', 'abc is no number: 0.5 to 3000 mm; 100 stays'],
    ['30+10', '30+10 is no number: 0.5 to 3000 mm; 100 stays'],
  ] as const) {
    await type(text);
    await expect.poll(() => told.textContent(), { timeout: PATIENCE }).toBe(words);
    expect(await field.inputValue()).toBe('100');
  }
  const undo = page.getByRole('button', { name: /^Undo/ });
  expect(await undo.isDisabled()).toBe(true);
  await type('60');
  await told.waitFor({ state: 'detached', timeout: PATIENCE });
  await page.getByRole('button', { name: 'Prove the change' }).waitFor({ timeout: PATIENCE });
  await undo.click();
  expect(await verdict(page)).toBe('Proven');
  // The cutting can be played again at once.
  await page.getByRole('button', { name: 'Play', exact: true }).click({ timeout: PATIENCE });
  await page.getByRole('button', { name: 'Pause', exact: true }).click({ timeout: PATIENCE });

  await page.getByRole('button', { name: 'Add behind' }).click();
  await page.getByRole('group', { name: 'Elements' }).getByRole('button', { name: 'cove', exact: true }).click();
  await expect.poll(() => elements(page).count(), { timeout: PATIENCE }).toBe(2);
  expect(await takeOut.isDisabled()).toBe(false);
  expect(noted.wrong).toEqual([]);
});
