/** A browser that dies in the middle of the work. */
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Browser, chromium, type Page } from 'playwright';
import { afterAll, afterEach, expect, inject, test } from 'vitest';
import { drawn, elements, kept, PATIENCE } from '../../support/browser.ts';
import { FLAGS } from '../../support/chromium.ts';

const profile = mkdtempSync(join(tmpdir(), 'cavetto-profile-'));
let running: { child: ChildProcess; gone: Promise<void> } | undefined;

/** Starts a browser of its own on the profile, in a process group of its own so that it can be killed whole. */
async function begin(): Promise<{ browser: Browser; page: Page }> {
  const child = spawn(
    inject('chromium'),
    [...FLAGS, '--headless=new', '--remote-debugging-port=0', `--user-data-dir=${profile}`, 'about:blank'],
    { stdio: ['ignore', 'ignore', 'pipe'], detached: true },
  );
  running = { child, gone: new Promise((done) => child.once('close', () => done())) };
  const address = await new Promise<string>((done, fail) => {
    let said = '';
    child.stderr!.setEncoding('utf8').on('data', (words: string) => {
      said += words;
      const at = said.match(/DevTools listening on (ws:\S+)/);
      if (at) done(at[1]!);
    });
    child.once('close', () => fail(new Error(`the browser ended early: ${said}`)));
  });
  const browser = await chromium.connectOverCDP(address);
  const page = await browser.contexts()[0]!.newPage();
  await page.goto(inject('address'));
  await drawn(page);
  return { browser, page };
}

async function kill(): Promise<void> {
  if (!running) return;
  const { child, gone } = running;
  running = undefined;
  process.kill(-child.pid!, 'SIGKILL');
  await gone;
}
afterEach(kill);
afterAll(() => rmSync(profile, { recursive: true, force: true, maxRetries: 5 }));

test('a part that was being shaped is in the drawer as it was', async () => {
  const first = await begin();
  await first.page.getByLabel('Name of the part').fill('Half made post');
  await elements(first.page).first().click();
  const grip = first.page.getByRole('slider', { name: 'length', exact: true }).first();
  await grip.focus();
  const before = (await grip.getAttribute('aria-valuetext'))!;
  await first.page.keyboard.press('Shift+ArrowRight');
  await expect.poll(() => grip.getAttribute('aria-valuetext'), { timeout: PATIENCE }).not.toBe(before);
  const after = (await grip.getAttribute('aria-valuetext'))!;
  // Stored a moment after the hand rests, as the page itself says.
  await first.page.getByText('saved', { exact: true }).waitFor({ timeout: PATIENCE });
  await kill();

  const { page, browser } = await begin();
  expect((await kept(page)).map((part) => part.name)).toContain('Half made post');
  await page.getByRole('button', { name: 'Drawer' }).click();
  await page.getByRole('dialog').getByRole('button', { name: 'Half made post', exact: true }).click();
  await expect
    .poll(() => page.getByLabel('Name of the part').inputValue(), { timeout: PATIENCE })
    .toBe('Half made post');
  await elements(page).first().click();
  const again = page.getByRole('slider', { name: 'length', exact: true }).first();
  expect(await again.getAttribute('aria-valuetext')).toBe(after);
  await page.getByRole('button', { name: /^Undo/ }).click();
  await expect.poll(() => again.getAttribute('aria-valuetext'), { timeout: PATIENCE }).toBe(before);
  await browser.close();
});
