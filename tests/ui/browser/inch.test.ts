/** Inches: shown and typed anywhere while the document keeps its own unit, and a document that is in inches itself. */
import { afterEach, expect, test } from 'vitest';
import { elements, oneBrowser, PATIENCE, shot, type Visit, visit } from '../../support/browser.ts';
import { documentOf, goTo, open, panel, said } from '../../support/hands.ts';
import { toggle } from '../../support/small-parts.ts';

const browser = oneBrowser();
let now: Visit | undefined;
afterEach(async () => {
  await now?.context.close();
  now = undefined;
});

test('inches are shown and typed, the document stays in its unit, and going there and back changes nothing', async () => {
  now = await visit(browser());
  const { page, noted } = now;
  await open(page, toggle);
  const before = await documentOf(page);
  await page.getByRole('button', { name: /^mm: lengths are in millimetres/ }).click();
  await elements(page).nth(1).click();
  // 10 mm / 25.4 = 0.3937; 14 mm = 0.551, 16 mm = 0.63 (25.4 mm exactly, by the international yard and pound agreement of 1959).
  expect(await said(page, 'length')).toBe('0.3937 in');
  expect(await elements(page).nth(1).getAttribute('aria-label')).toBe('2nd: taper · 0.394 · ø0.551 → ø0.63');
  expect(await documentOf(page)).toEqual(before);
  await shot(page, 'inch');

  /** Types into the picked element's length under the outline. */
  const type = async (text: string) => {
    const box = page.getByRole('region', { name: 'Form' }).getByRole('textbox', { name: 'length' });
    await box.fill(text);
    await box.press('Enter');
  };
  const lengthThen = async () => ((await documentOf(page)).form as { length: number }[])[1]!.length;
  for (const [typed, mm] of [
    ['3/4', 19.05],
    ['1 1/8', 28.575],
    ['0.5', 12.7],
    ['11 mm', 11],
    ['.6', 15.24],
  ] as const) {
    await type(typed);
    expect(await lengthThen(), typed).toBe(mm);
  }
  // A slider in inches goes by sixty-fourths or thousandths, never by an odd part of a millimetre.
  const knob = panel(page).getByRole('slider', { name: 'length', exact: true });
  await knob.focus();
  await page.keyboard.press('ArrowRight');
  const steps = (await lengthThen()) / 25.4;
  expect(Math.abs(steps * 1000 - Math.round(steps * 1000)) < 1e-6 || Number.isInteger(steps * 64)).toBe(true);

  // The document itself in inches, and back: every length as it was, to the last digit.
  const edited = await documentOf(page);
  await goTo(page, 'Form');
  const units = panel(page).getByLabel('units', { exact: true });
  await units.selectOption('inch');
  const inInches = await documentOf(page);
  expect(inInches.units).toBe('inch');
  expect((inInches.form as { start: number }[])[0]!.start).toBeCloseTo(14 / 25.4, 11);
  expect((inInches.blank as { width: number }).width).toBeCloseTo(20 / 25.4, 11);
  await page.getByRole('button', { name: /^inch: lengths are in inches/ }).click();
  await elements(page).nth(2).click();
  expect(await said(page, 'length')).toBe('8 mm');
  // Set in mm in an inch document, it comes back as that many mm.
  await panel(page).getByRole('textbox', { name: 'length, number' }).fill('17.3');
  await page.keyboard.press('Enter');
  await goTo(page, 'Form');
  await units.selectOption('mm');
  const form = structuredClone(edited.form) as { length: number }[];
  form[2]!.length = 17.3;
  await expect.poll(() => documentOf(page), { timeout: PATIENCE }).toEqual({ ...edited, units: 'mm', form });
  expect(noted).toMatchObject({ foreign: [], wrong: [] });
});
