/** Steps taken back, as far as they go, and taken again. */
import { afterEach, expect, test } from 'vitest';
import { elements, oneBrowser, PATIENCE, type Visit, visit } from '../../support/browser.ts';
import { carve, documentOf, drag, goTo, open, panel, slide } from '../../support/hands.ts';
import { toggle } from '../../support/small-parts.ts';

const browser = oneBrowser();
let now: Visit | undefined;
afterEach(async () => {
  await now?.context.close();
  now = undefined;
});

test('fifty edits of every sort are fifty steps, gone back to the very document and done again', async () => {
  now = await visit(browser(), { viewport: { width: 1100, height: 760 } });
  const { page, noted } = now;
  await open(page, toggle);
  const undo = page.getByRole('button', { name: /^Undo/ });
  const redo = page.getByRole('button', { name: /^Redo/ });
  const first = await documentOf(page);
  expect(first).toEqual(toggle);
  let edits = 0;
  /** One edit, one step. */
  const step = async (edit: () => Promise<unknown>) => {
    await edit();
    edits++;
    await expect.poll(() => undo.textContent(), { timeout: PATIENCE }).toBe(`Undo ${edits}`);
  };

  // Drags: a slider, an edge, a diameter, the element itself, a carving and its end.
  await elements(page).nth(1).click();
  await step(() => slide(page, 'length', 0.6));
  await step(() => drag(page, page.getByRole('slider', { name: 'length', exact: true }).first(), { x: 40 }));
  await step(() => drag(page, page.getByRole('slider', { name: 'diameter at its tail side' }), { y: 14 }));
  await step(() => drag(page, elements(page).nth(1), { x: -120 }));
  await step(() => carve(page, 'facets'));
  await step(() => drag(page, page.getByRole('option', { name: /facets/ }), { x: 24 }));
  await step(() => drag(page, page.getByRole('slider', { name: /facets.*where it ends/ }), { x: -20 }));
  await step(() => page.getByRole('button', { name: 'Tie to the elements under it' }).click());
  // Presses and typing.
  await elements(page).nth(1).click();
  await step(() => page.getByRole('button', { name: 'Repeat' }).click());
  await step(() => page.getByRole('button', { name: 'Split' }).click());
  await step(() => page.getByRole('button', { name: 'Turn round' }).click());
  await step(() => page.getByRole('button', { name: 'One place toward the tailstock' }).click());
  await step(() => page.getByRole('button', { name: 'Take out' }).first().click());
  await step(async () => {
    await page.getByLabel('length', { exact: true }).last().fill('9.5');
    await page.keyboard.press('Enter');
  });
  await goTo(page, 'Blank');
  await step(() => panel(page).getByLabel('material', { exact: true }).selectOption({ label: 'Black cherry' }));
  await step(async () => {
    await panel(page).getByRole('textbox', { name: 'width, number' }).fill('22');
    await page.keyboard.press('Enter');
  });
  await step(async () => {
    await page.getByLabel('Name of the part').fill('Sail toggle, stout');
    await page.keyboard.press('Enter');
  });
  // The rest by the arrow keys of a slider, a step each.
  const width = panel(page).getByRole('slider', { name: 'width', exact: true });
  await width.focus();
  while (edits < 50) await step(() => page.keyboard.press(edits % 5 === 4 ? 'ArrowLeft' : 'ArrowRight'));

  const last = await documentOf(page);
  expect(last).not.toEqual(first);
  for (let left = 50; left > 0; left--) {
    await expect.poll(() => undo.textContent(), { timeout: PATIENCE }).toBe(`Undo ${left}`);
    await page.keyboard.press('Control+z');
  }
  await expect.poll(() => undo.isDisabled(), { timeout: PATIENCE }).toBe(true);
  expect(await documentOf(page)).toEqual(first);
  expect(await redo.textContent()).toBe('Redo 50');
  for (let done = 0; done < 50; done++) await page.keyboard.press(done % 2 ? 'Control+y' : 'Control+Shift+z');
  await expect.poll(() => redo.isDisabled(), { timeout: PATIENCE }).toBe(true);
  expect(await undo.textContent()).toBe('Undo 50');
  expect(await documentOf(page)).toEqual(last);
  expect(noted).toMatchObject({ foreign: [], wrong: [] });
});
