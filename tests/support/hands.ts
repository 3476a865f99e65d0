/** What a person's hands do on the page: press, drag, choose, wait for what the page says. Nothing is reached past the screen. */
import { readFileSync } from 'node:fs';
import { inflateRawSync } from 'node:zlib';
import { unzipSync } from 'fflate';
import type { Locator, Page } from 'playwright';
import { expect } from 'vitest';
import { elements, PATIENCE } from './browser.ts';

const banner = (page: Page) => page.getByRole('banner');

/** The panel of sliders. */
export const panel = (page: Page) => page.getByRole('complementary', { name: /^Sliders/ });

/** Takes a template out of the drawer. @param name as the drawer shows it */
export async function startFrom(page: Page, name: string): Promise<void> {
  await banner(page).getByRole('button', { name: 'Drawer' }).click();
  await page
    .getByRole('dialog')
    .getByRole('button', { name: new RegExp(`^${name}`) })
    .click();
  await expect.poll(() => page.getByLabel('Name of the part').inputValue(), { timeout: PATIENCE }).toBe(name);
}

/** Opens a document by the drawer's own button for files. */
export async function openFile(page: Page, name: string, text: string): Promise<void> {
  await banner(page).getByRole('button', { name: 'Drawer' }).click();
  await page
    .getByLabel('Part document')
    .setInputFiles({ name, mimeType: 'application/json', buffer: Buffer.from(text) });
}

/** Opens a document and waits until it is on the bench. */
export async function open(page: Page, part: { name: string }): Promise<void> {
  await openFile(page, 'part.json', JSON.stringify(part));
  await expect.poll(() => page.getByLabel('Name of the part').inputValue(), { timeout: PATIENCE }).toBe(part.name);
  await elements(page).first().waitFor({ state: 'attached', timeout: PATIENCE });
}

async function middle(of: Locator): Promise<{ x: number; y: number }> {
  await of.scrollIntoViewIfNeeded();
  const box = (await of.boundingBox())!;
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
}

/** Presses on something, carries it along and lets go. @param by CSS px */
export async function drag(page: Page, what: Locator, by: { x?: number; y?: number }): Promise<void> {
  const from = await middle(what);
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  await page.mouse.move(from.x + (by.x ?? 0), from.y + (by.y ?? 0), { steps: 3 });
  await page.mouse.up();
}

/** Takes a slider's knob to a place of its way. @param name its label @param share of the way, 0…1 */
export async function slide(page: Page, name: string, share: number): Promise<void> {
  const knob = panel(page).getByRole('slider', { name, exact: true });
  const { y } = await middle(knob);
  const box = (await knob.boundingBox())!;
  const stands = await knob.evaluate((e) => {
    const { value, min, max } = e as HTMLInputElement;
    return (Number(value) - Number(min)) / (Number(max) - Number(min));
  });
  // The knob is as wide as the track is high above its ends: its middle never comes nearer to them than half of that.
  const half = 9;
  const at = (s: number) => box.x + half + s * (box.width - 2 * half);
  await page.mouse.move(at(stands), y);
  await page.mouse.down();
  await page.mouse.move(at(share), y, { steps: 3 });
  await page.mouse.up();
}

/** What a slider of the panel says to a screen reader: number and unit. */
export const said = (page: Page, name: string): Promise<string | null> =>
  panel(page).getByRole('slider', { name, exact: true }).getAttribute('aria-valuetext');

/** Goes to a step of the readiness strip. */
export const goTo = (page: Page, step: string): Promise<void> =>
  page
    .getByRole('navigation', { name: /^Readiness/ })
    .getByRole('button', { name: new RegExp(`^${step}`) })
    .click();

/** Adds a carving from the drawn tray. @param kind as the tray names it */
export async function carve(page: Page, kind: string): Promise<void> {
  await page.getByRole('button', { name: 'Add a carving' }).click();
  await page.getByRole('group', { name: 'Carvings' }).getByRole('button', { name: kind, exact: true }).click();
}

/** Proves the part as it stands, unless it has begun to prove itself. @returns the first word of the verdict */
export async function prove(page: Page): Promise<string> {
  const button = banner(page).getByRole('button', { name: /^Prove/ });
  await button.click({ timeout: 3000 }).catch(async (fault: unknown) => {
    // Between the look and the press it may have begun, or even ended, by itself.
    if (await button.count()) throw fault;
  });
  return verdict(page);
}

/** Waits for the verdict. @param patience ms @returns its first word */
export async function verdict(page: Page, patience = PATIENCE): Promise<string> {
  const pill = banner(page).getByText(/^(Proven|Refused) ·/);
  await pill.waitFor({ timeout: patience });
  return (await pill.textContent())!.split(' ')[0]!;
}

/** Presses something that hands over a file. @returns its name and its bytes */
export async function takes(page: Page, press: () => Promise<void>): Promise<{ name: string; bytes: Uint8Array }> {
  const coming = page.waitForEvent('download', { timeout: PATIENCE });
  await press();
  const came = await coming;
  return { name: came.suggestedFilename(), bytes: readFileSync(await came.path()) };
}

/** Opens the dialog that hands files over. */
export const openTakeAway = (page: Page): Promise<void> =>
  banner(page).getByRole('button', { name: 'Take away', exact: true }).click();

/** Takes all files as one zip from the open dialog. @returns its entries by name, without the folder they lie in */
export async function takeZip(page: Page): Promise<Map<string, Uint8Array>> {
  const { bytes } = await takes(page, () => page.getByRole('button', { name: 'Take all as one zip' }).click());
  return new Map(Object.entries(unzipSync(bytes)).map(([name, content]) => [name.replace(/^.*\//, ''), content]));
}

/** Waits until the page has stored what was done. */
export const stored = (page: Page): Promise<void> =>
  banner(page).getByText('saved', { exact: true }).waitFor({ timeout: PATIENCE });

/** The whole document, as the link says it that the page gives to be copied. */
export async function documentOf(page: Page): Promise<Record<string, unknown>> {
  await page.keyboard.press('l');
  const link = await page.getByRole('dialog').getByRole('textbox', { name: 'Link' }).inputValue();
  await page.keyboard.press('Escape');
  await page.getByRole('dialog').waitFor({ state: 'detached' });
  return inLink(link);
}

/** @param link as the page writes it @returns the document in it, unpacked by Node's own inflate (RFC 1951, RFC 4648 §5) */
export const inLink = (link: string): Record<string, unknown> =>
  JSON.parse(inflateRawSync(Buffer.from(new URL(link).hash.replace('#part=', ''), 'base64url')).toString());
