/** One part open in two tabs of one browser. */
import { afterEach, expect, inject, test } from 'vitest';
import { drawn, elements, kept, oneBrowser, PATIENCE, type Visit, visit } from '../../support/browser.ts';
import { open, stored } from '../../support/hands.ts';
import { toggle } from '../../support/small-parts.ts';

const browser = oneBrowser();
let now: Visit | undefined;
afterEach(async () => {
  await now?.context.close();
  now = undefined;
});

test('what both tabs make of a part is kept, and the second says so', async () => {
  now = await visit(browser());
  const { page, context, noted } = now;
  await open(page, toggle);
  await stored(page);
  const second = await context.newPage();
  await second.goto(inject('address'));
  await drawn(second);
  const name = second.getByLabel('Name of the part');
  await expect.poll(() => name.inputValue(), { timeout: PATIENCE }).toBe(toggle.name);
  const first = async (tab: typeof page, length: string) => {
    await elements(tab).first().click();
    const field = tab.getByLabel('length', { exact: true }).and(tab.locator('.typed input'));
    await field.fill(length);
    await field.press('Enter');
    await tab.getByText('saving …').waitFor({ state: 'detached', timeout: PATIENCE });
  };
  await first(page, '33');
  await stored(page);
  await first(second, '77');
  await second.getByText(/also changed in another tab/).waitFor({ timeout: PATIENCE });
  await stored(second);
  expect((await kept(page)).map((part) => part.raw.form[0]!.length).sort()).toEqual([33, 77]);
  await second.reload();
  await drawn(second);
  await second.getByRole('button', { name: 'Drawer' }).click();
  const list = second.getByRole('dialog').getByRole('button', { name: toggle.name, exact: true });
  await expect.poll(() => list.count(), { timeout: PATIENCE }).toBe(2);
  expect(noted.wrong).toEqual([]);
});
