/** A visitor of the page in a real Chromium, who notes everything that must not happen there. */
import { mkdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { type Browser, type BrowserContext, type BrowserContextOptions, chromium, type Page } from 'playwright';
import { afterAll, beforeAll, inject } from 'vitest';
import { FLAGS } from './chromium.ts';

const SHOTS = resolve(import.meta.dirname, '../ui/shots');

/** How long a state of the page is waited for, ms: two busy cores and no graphics card. */
export const PATIENCE = 60_000;

/** Opens a browser for the tests of one file. @returns what gives it, once they run */
export function oneBrowser(): () => Browser {
  let browser: Browser;
  beforeAll(async () => {
    browser = await chromium.launch({ executablePath: inject('chromium'), args: [...FLAGS] });
  });
  afterAll(() => browser?.close());
  return () => browser;
}

/** What a visitor noted, to be compared with nothing. */
export interface Noted {
  /** Addresses that the page or its workers asked for outside its own origin. */
  foreign: string[];
  /** Errors in the console, faults that nobody caught, violations of the policy. */
  wrong: string[];
  /** All that was asked for, data and blob addresses aside. */
  asked: string[];
}

/** Notes all that happens in a context from now on. @param origin of the page */
export async function watch(context: BrowserContext, origin: string): Promise<Noted> {
  const noted: Noted = { foreign: [], wrong: [], asked: [] };
  context.on('request', (request) => {
    const url = request.url();
    if (/^(data|blob):/.test(url)) return;
    noted.asked.push(url);
    if (new URL(url).origin !== origin) noted.foreign.push(url);
  });
  context.on('console', (message) => {
    if (message.type() === 'error') noted.wrong.push(`console: ${message.text()}`);
  });
  context.on('weberror', (fault) => noted.wrong.push(`uncaught: ${fault.error().message}`));
  await context.addInitScript(() => {
    document.addEventListener('securitypolicyviolation', ({ violatedDirective, blockedURI, sourceFile }) => {
      console.error(`policy: ${violatedDirective} broken by ${blockedURI} ${sourceFile}`);
    });
  });
  return noted;
}

export interface Visit {
  context: BrowserContext;
  page: Page;
  noted: Noted;
}

/** The readiness strip. */
export const strip = (page: Page) => page.getByRole('navigation', { name: 'Readiness' });

/** The elements in the Form lane. */
export const elements = (page: Page) => page.getByRole('listbox', { name: 'Elements' }).getByRole('option');

/** Waits until the page has drawn its strip, and the lanes their elements. */
export async function drawn(page: Page): Promise<void> {
  await strip(page).waitFor({ timeout: PATIENCE });
  await elements(page).first().waitFor({ state: 'attached', timeout: PATIENCE });
}

/** A part as the browser keeps it between visits. */
export interface Kept {
  name: string;
  raw: { name: string; form: { [key: string]: unknown }[] };
}

/** @returns all parts that the page has written into the browser's database */
export const kept = (page: Page): Promise<Kept[]> =>
  page.evaluate(
    () =>
      new Promise<Kept[]>((done, fail) => {
        const opening = indexedDB.open('cavetto');
        opening.onerror = () => fail(opening.error);
        opening.onsuccess = () => {
          const database = opening.result;
          const names = [...database.objectStoreNames];
          const reading = names.includes('documents')
            ? database.transaction('documents').objectStore('documents').getAll()
            : undefined;
          database.close();
          if (!reading) done([]);
          else {
            reading.onerror = () => fail(reading.error);
            reading.onsuccess = () => done(reading.result);
          }
        };
      }),
  );

/** A new visitor with nothing kept from before. @param address of the page */
export async function visit(
  browser: Browser,
  options: BrowserContextOptions = {},
  address: string = inject('address'),
): Promise<Visit> {
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, ...options });
  const noted = await watch(context, new URL(address).origin);
  const page = await context.newPage();
  await page.goto(address);
  await drawn(page);
  return { context, page, noted };
}

/** Takes a picture for people to look at. @param name of the state */
export async function shot(page: Page, name: string): Promise<void> {
  mkdirSync(SHOTS, { recursive: true });
  await page.screenshot({ path: join(SHOTS, `${name}.png`) });
}
