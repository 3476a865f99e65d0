/** No mouse: from the first paint to the taken programs by keys alone, and wherever the focus is, it can be seen. */
import type { Page } from 'playwright';
import { afterEach, expect, test } from 'vitest';
import { KEYS } from '../../../src/ui/keys/list.ts';
import { oneBrowser, PATIENCE, shot, type Visit, visit } from '../../support/browser.ts';
import { documentOf, takes, verdict } from '../../support/hands.ts';

const browser = oneBrowser();
let now: Visit | undefined;
afterEach(async () => {
  await now?.context.close();
  now = undefined;
});

interface Focus {
  name: string;
  role: string;
  /** What is wrong with how it shows; empty if it can be seen. */
  hidden: string;
}

/** Where the focus is, and whether a person can see that it is there. */
const focus = (page: Page): Promise<Focus> =>
  page.evaluate(() => {
    const at = document.activeElement as HTMLElement;
    const labels = (at as HTMLInputElement).labels;
    const name = at.getAttribute('aria-label') || labels?.[0]?.textContent || at.textContent?.trim().slice(0, 60) || '';
    const role = at.getAttribute('role') ?? at.tagName.toLowerCase();
    if (at === document.body) return { name: '', role: 'body', hidden: '' };
    const { outlineStyle, outlineWidth } = getComputedStyle(at);
    const outlined = outlineStyle !== 'none' && Number.parseFloat(outlineWidth) >= 2;
    const box = at.getBoundingClientRect();
    const x = Math.min(innerWidth - 1, Math.max(0, box.left + box.width / 2));
    const over = document.elementFromPoint(
      x,
      Math.max(0, Math.min(box.top, innerHeight) + Math.min(box.height, 28) / 2),
    );
    const seen = over !== null && (at === over || at.contains(over) || over.contains(at));
    const inside = box.bottom > 0 && box.top < innerHeight;
    const hidden = [
      outlined ? '' : 'no outline',
      inside ? '' : 'outside the screen',
      seen ? '' : `under ${over?.getAttribute('class')}`,
    ];
    return { name, role, hidden: hidden.filter(Boolean).join(', ') };
  });

/** Presses a key until the focus is where it is wanted, and looks at every stop. @returns names of the stops */
async function until(page: Page, key: string, wanted: RegExp, most = 60): Promise<string[]> {
  const stops: string[] = [];
  while (stops.length < most) {
    await page.keyboard.press(key);
    const at = await focus(page);
    expect(at.hidden, `${at.role} ${at.name}`).toBe('');
    stops.push(at.name);
    if (wanted.test(at.name)) return stops;
  }
  throw new Error(`${wanted} was not reached by ${key}: ${stops.join(' · ')}`);
}

test('from the drawer to the taken programs without a mouse, and the focus is always to be seen', async () => {
  now = await visit(browser());
  const { page, noted } = now;
  // Along the header to the drawer, into it, and a template out of it.
  await until(page, 'Tab', /^Drawer$/);
  await page.keyboard.press('Enter');
  await page.getByRole('dialog').waitFor();
  await until(page, 'Tab', /^Chess pawn/);
  await page.keyboard.press('Enter');
  await expect.poll(() => page.getByLabel('Name of the part').inputValue()).toBe('Chess pawn');
  await expect.poll(async () => (await focus(page)).name).toBe('Drawer');
  const before = await documentOf(page);

  // Every stop of the page, there and on: passing through changes nothing.
  const stops = await until(page, 'Tab', /^Proof$/);
  expect(stops.join('\n')).toMatch(/Blank.*The part in its blank.*1st: cylinder.*Add behind.*Add a carving/s);
  await until(page, 'Tab', /, number$/);
  // Out of the field: in it letters are letters.
  await page.keyboard.press('Tab');
  expect(await documentOf(page)).toEqual(before);

  // An element by arrows, its length typed, its edge by arrows.
  await until(page, 'Shift+Tab', /^1st: cylinder/);
  for (let i = 0; i < 4; i++) await page.keyboard.press('ArrowRight');
  await expect.poll(async () => (await focus(page)).name).toMatch(/^5th: taper · 13/);
  await page.keyboard.press('Enter');
  await expect.poll(async () => (await focus(page)).name).toBe('length');
  await page.keyboard.type('15');
  await page.keyboard.press('Enter');
  await expect.poll(async () => (await focus(page)).name).toMatch(/^5th: taper · 15/);
  await until(page, 'Tab', /^length$/);
  await page.keyboard.press('Shift+ArrowLeft');
  expect((await focus(page)).hidden).toBe('');
  await until(page, 'Shift+Tab', /^5th: taper · 10/);
  await page.keyboard.press('Control+z');
  await expect.poll(async () => (await focus(page)).name).toMatch(/^5th: taper · 15/);

  // A slider of the panel.
  await until(page, 'Tab', /^start$/);
  await page.keyboard.press('ArrowRight');
  const changed = await documentOf(page);
  expect((changed.form as { start: number; length: number }[])[4]).toMatchObject({ length: 15 });
  expect((changed.form as { start: number }[])[4]!.start).toBeGreaterThan(10);

  // The sheet names every key; closing it gives the focus back.
  await page.keyboard.press('F1');
  const sheet = page.getByRole('dialog', { name: 'Keys' });
  await sheet.waitFor();
  const told = (await sheet.locator('kbd').allTextContents()).join('\n');
  for (const key of KEYS) expect(told).toContain(key.shown);
  await shot(page, 'keys');
  await page.keyboard.press('Escape');
  await expect.poll(async () => (await focus(page)).name).toBe('start');

  // Proven, played, taken.
  await page.keyboard.press('p');
  expect(await verdict(page)).toBe('Proven');
  await page.getByRole('slider', { name: 'Time of the cutting' }).waitFor({ timeout: PATIENCE });
  await until(page, 'Tab', /^Time of the cutting$/);
  await page.keyboard.press('PageUp');
  await expect.poll(() => page.getByRole('button', { name: 'Show the finished part' }).count()).toBe(1);
  await page.keyboard.press('t');
  await page.getByRole('dialog').waitFor();
  await until(page, 'Tab', /^Take all as one zip$/);
  const { name, bytes } = await takes(page, () => page.keyboard.press('Enter'));
  expect(name).toBe('chess-pawn.zip');
  expect(bytes.length).toBeGreaterThan(10_000);
  await page.keyboard.press('Escape');
  await expect.poll(async () => (await focus(page)).name).toBe('Time of the cutting');
  expect(noted).toMatchObject({ foreign: [], wrong: [] });
});
