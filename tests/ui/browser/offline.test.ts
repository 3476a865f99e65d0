/** The page without a network, and after a new version of it was put up. */
import { resolve } from 'node:path';
import type { Page } from 'playwright';
import { expect, test } from 'vitest';
import { readPage } from '../../../src/cli/page-files.ts';
import { serve } from '../../../src/cli/serve.ts';
import { elements, oneBrowser, PATIENCE, visit } from '../../support/browser.ts';

const browser = oneBrowser();
const DIST = resolve(import.meta.dirname, '../../../dist');

/** Waits until the page is kept whole and its keeper answers for it. @returns once a reload would need no network */
const isKept = (page: Page) =>
  page.evaluate(
    () =>
      new Promise<void>((done) => {
        if (navigator.serviceWorker.controller) done();
        else navigator.serviceWorker.addEventListener('controllerchange', () => done(), { once: true });
      }),
  );

test('once loaded, it opens and builds solids with the server gone', async () => {
  const server = await serve(readPage(DIST), [0]);
  const { context, page, noted } = await visit(browser(), {}, server.address);
  await isKept(page);
  await server.close();
  await expect(fetch(server.address)).rejects.toThrow();
  const asked = page.waitForResponse((response) => response.url().endsWith('.wasm'), { timeout: PATIENCE });
  await page.reload();
  await elements(page).first().waitFor({ timeout: PATIENCE });
  expect((await asked).fromServiceWorker()).toBe(true);
  expect((await asked).status()).toBe(200);
  expect(noted.wrong).toEqual([]);
  await context.close();
});

test('a new version takes over at the load after the one that found it', async () => {
  const files = readPage(DIST);
  const text = (name: string) => new TextDecoder().decode(files.get(name));
  const server = await serve(files, [0]);
  const { context, page } = await visit(browser(), {}, server.address);
  await isKept(page);
  const [, name] = text('service-worker.js').match(/([0-9a-f]{16})/)!;
  files.set('index.html', new TextEncoder().encode(text('index.html').replace('<title>', '<title>New ')));
  files.set('service-worker.js', new TextEncoder().encode(text('service-worker.js').replace(name!, 'f'.repeat(16))));
  await page.reload();
  expect(await page.title()).toBe('Cavetto');
  // The cache is there before its worker is, so a worker at rest after that is the new one.
  const isNew = () =>
    page.evaluate(async () => {
      const names = await caches.keys();
      const { active, installing, waiting } = await navigator.serviceWorker.ready;
      return names.some((n) => n.endsWith('f'.repeat(16))) && !installing && !waiting && active?.state === 'activated';
    });
  await expect.poll(isNew, { timeout: PATIENCE }).toBe(true);
  await page.reload();
  expect(await page.title()).toBe('New Cavetto');
  await context.close();
  await server.close();
});
