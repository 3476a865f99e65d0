/** A phone at the lathe: lanes one below another, everything within the screen, and it can be worked with a thumb. */
import type { Page } from 'playwright';
import { afterEach, expect, test } from 'vitest';
import { elements, oneBrowser, PATIENCE, shot, type Visit, visit } from '../../support/browser.ts';
import { documentOf, open, openTakeAway, prove, said } from '../../support/hands.ts';
import { toggle } from '../../support/small-parts.ts';

const browser = oneBrowser();
let now: Visit | undefined;
afterEach(async () => {
  await now?.context.close();
  now = undefined;
});

const WIDTH = 390;

/** What sticks out of the screen, or is cut off in its own box: its name and where it lies. */
const cutOff = (page: Page): Promise<string[]> =>
  page.evaluate((width) => {
    const named = (e: Element) => e.getAttribute('aria-label') ?? e.textContent?.trim().slice(0, 40) ?? e.tagName;
    return [...document.querySelectorAll('button, input, select, textarea, h1, h2, p, .lane, .pill, label')].flatMap(
      (e) => {
        const { left, right, width: wide } = e.getBoundingClientRect();
        if (!wide || e.closest('.unseen')) return [];
        const out = left < -0.5 || right > width + 0.5;
        const cut = e.matches('button, .pill') && e.scrollWidth > e.clientWidth + 1 && !e.closest('.lane-body svg');
        return out || cut ? [`${named(e)}: ${left.toFixed(0)}–${right.toFixed(0)}${cut ? ', cut off' : ''}`] : [];
      },
    );
  }, WIDTH);

test('on 390 px the lanes lie one below another, nothing is cut off, and a thumb can work', async () => {
  now = await visit(browser(), { viewport: { width: WIDTH, height: 844 }, hasTouch: true, isMobile: true });
  const { page, noted } = now;
  await open(page, toggle);
  expect(await prove(page)).toBe('Proven');
  await page.getByRole('button', { name: 'Play', exact: true }).waitFor({ timeout: PATIENCE });
  const lanes = ['Form', 'Carving', 'Cutting', 'Strength', 'Proof'];
  const boxes = await Promise.all(
    lanes.map((name) => page.getByRole('main').getByRole('region', { name, exact: true }).boundingBox()),
  );
  for (const [i, box] of boxes.entries()) {
    expect(box!.x, lanes[i]).toBeGreaterThanOrEqual(0);
    expect(box!.x + box!.width, lanes[i]).toBeLessThanOrEqual(WIDTH);
    if (i > 0) expect(box!.y, lanes[i]).toBeGreaterThanOrEqual(boxes[i - 1]!.y + boxes[i - 1]!.height);
  }
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(WIDTH);
  expect(await cutOff(page)).toEqual([]);
  await shot(page, 'narrow');

  // By touch: an element is picked, its slider is pressed, the change is in the document.
  await elements(page).nth(1).tap();
  const knob = page.getByRole('complementary').getByRole('slider', { name: 'length', exact: true });
  await knob.scrollIntoViewIfNeeded();
  const before = await said(page, 'length');
  const box = (await knob.boundingBox())!;
  await page.touchscreen.tap(box.x + 0.8 * box.width, box.y + box.height / 2);
  await expect.poll(() => said(page, 'length'), { timeout: PATIENCE }).not.toBe(before);
  expect(await cutOff(page)).toEqual([]);
  expect((await documentOf(page)).form).not.toEqual(toggle.form);

  for (const name of ['Drawer', 'Keys', 'From an old part']) {
    await page.getByRole('banner').getByRole('button', { name, exact: true }).tap();
    await page.getByRole('dialog').waitFor();
    expect(await cutOff(page), name).toEqual([]);
    await page.getByRole('dialog').getByRole('button', { name: 'Close', exact: true }).tap();
  }
  await openTakeAway(page);
  expect(await cutOff(page), 'Take away').toEqual([]);
  await page.getByRole('dialog').getByRole('button', { name: 'Close', exact: true }).tap();

  // All of it in one picture, for people to look at.
  await page.setViewportSize({ width: WIDTH, height: 2300 });
  await shot(page, 'narrow-whole');
  expect(noted).toMatchObject({ foreign: [], wrong: [] });
});
