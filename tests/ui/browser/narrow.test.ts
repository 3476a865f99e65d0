/** A phone at the lathe: lanes one below another, everything within the screen, and it can be worked with a thumb. */
import type { Page } from 'playwright';
import { afterEach, expect, test } from 'vitest';
import { elements, oneBrowser, PATIENCE, shot, strip, type Visit, visit } from '../../support/browser.ts';
import { documentOf, open, openTakeAway, panel, prove, said } from '../../support/hands.ts';
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

/** Where the strip begins and ends, with the sentence under it, and how much of the stage is in view. */
async function room(page: Page): Promise<{ strip: number; stage: number }> {
  const next = (await page.getByRole('region', { name: 'What comes next' }).boundingBox())!;
  const stage = (await page.getByRole('application').boundingBox())!;
  const foot = (await page.getByRole('contentinfo').boundingBox())!;
  const end = Math.min(page.viewportSize()!.height, foot.y);
  return {
    strip: next.y + next.height - (await strip(page).boundingBox())!.y,
    stage: Math.max(0, Math.min(stage.y + stage.height, end) - stage.y) / stage.height,
  };
}

// A width that the blank cannot give: the longest kind of sentence.
const wide = { ...toggle, girth: 9 };

test.each([
  [390, 844],
  [1024, 700],
])(
  'at %i × %i px the whole stage is in view, also when the form does not fit, and no word lies on it',
  async (width, height) => {
    now = await visit(browser(), { viewport: { width, height } });
    const { page } = now;
    await open(page, toggle);
    expect((await room(page)).stage).toBe(1);
    expect(await page.locator('.stage-above').textContent()).toMatch(/room left above .*swing|turns within/);
    expect(await page.locator('.stage-words text').count()).toBe(0);
    await shot(page, `room-${width}`);
    await open(page, { ...wide, name: 'Wide toggle' });
    await strip(page)
      .getByRole('button', { name: /^Form.*stopped/ })
      .waitFor({ timeout: PATIENCE });
    await shot(page, `room-${width}-wrong`);
    const after = await room(page);
    expect(after.stage).toBe(1);
    expect(after.strip).toBeLessThan(170);
    expect(await page.getByRole('region', { name: 'What comes next' }).textContent()).toMatch(/out of the blank/);
    expect(await strip(page).textContent()).toMatch(/First mend the form/);
  },
);

test('at 240 px the page is no wider than its window', async () => {
  now = await visit(browser(), { viewport: { width: 240, height: 700 } });
  const { page } = now;
  await elements(page).first().waitFor({ state: 'attached', timeout: PATIENCE });
  await shot(page, 'room-240');
  // The sliders come after the first paint.
  await page.getByRole('complementary').getByRole('slider').first().waitFor({ state: 'attached', timeout: PATIENCE });
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(240);
});

test('a number that cannot be is told beside its field, and the old one stays', async () => {
  now = await visit(browser(), { viewport: { width: 1024, height: 700 } });
  const { page } = now;
  await open(page, { ...toggle, girth: 1.05 } as typeof toggle);
  const field = panel(page).getByLabel('girth, number');
  for (const [typed, told] of [
    ['abc', 'abc is no number: 0.1 to 10; 1.05 stays'],
    ['1e308', '1e308 is out of limits: 0.1 to 10; 1.05 stays'],
  ] as const) {
    await field.fill(typed);
    await field.press('Enter');
    expect(await panel(page).getByRole('alert').textContent()).toBe(told);
    expect(await field.inputValue()).toBe('1.05');
    expect(await field.getAttribute('aria-invalid')).toBe('true');
  }
  await shot(page, 'out-of-limits');
  expect((await documentOf(page)).girth).toBe(1.05);
  await field.fill('1.1');
  await field.press('Enter');
  expect(await panel(page).getByRole('alert').count()).toBe(0);
  expect((await documentOf(page)).girth).toBe(1.1);
});
