/** A link that carries the whole part: into a profile that never saw it, past a server that learns nothing of it. */
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterAll, expect, inject, test } from 'vitest';
import { elements, oneBrowser, PATIENCE, visit } from '../../support/browser.ts';
import { documentOf, inLink, open, slide } from '../../support/hands.ts';
import { toggle } from '../../support/small-parts.ts';

const browser = oneBrowser();
let server: Server | undefined;
afterAll(() => server?.close());

/** Hands the page on and writes down all that it is asked. @returns its address, and what it heard: method, address, body */
async function listening(): Promise<{ address: string; heard: string[] }> {
  const heard: string[] = [];
  server = createServer(async (request, response) => {
    let body = '';
    for await (const piece of request) body += String(piece);
    heard.push(`${request.method} ${request.url} ${body}`);
    const answer = await fetch(new URL(request.url!, inject('address')));
    const { headers } = answer;
    response.writeHead(answer.status, { 'content-type': headers.get('content-type') ?? 'text/plain' });
    response.end(Buffer.from(await answer.arrayBuffer()));
  });
  await new Promise<void>((done) => server!.listen(0, '127.0.0.1', done));
  return { address: `http://127.0.0.1:${(server.address() as AddressInfo).port}/`, heard };
}

test('a copied link opens the very document in a fresh profile, and no server hears of it', async () => {
  const { address, heard } = await listening();
  const sender = await visit(browser(), { permissions: ['clipboard-read', 'clipboard-write'] }, address);
  await open(sender.page, { ...toggle, name: 'Sail toggle “Möwe”, 2½ in' });
  await elements(sender.page).nth(1).click();
  await slide(sender.page, 'length', 0.8);
  const sent = await documentOf(sender.page);
  expect(sent).not.toEqual(toggle);
  await sender.page.keyboard.press('l');
  await sender.page.getByRole('dialog').getByRole('button', { name: 'Copy the link' }).click();
  await sender.page.getByRole('button', { name: 'Copied' }).waitFor();
  const link = await sender.page.evaluate(() => navigator.clipboard.readText());
  expect(inLink(link)).toEqual(sent);
  expect(link.startsWith(`${address}#part=`)).toBe(true);
  await sender.context.close();

  const receiver = await visit(browser(), {}, link);
  const { page } = receiver;
  await expect.poll(() => page.getByLabel('Name of the part').inputValue(), { timeout: PATIENCE }).toBe(sent.name);
  expect(await documentOf(page)).toEqual(sent);
  // It is the receiver's own now: the address is plain again, and nothing of the sender's history came with it.
  expect(page.url()).toBe(address);
  expect(await page.getByRole('button', { name: /^Undo/ }).isDisabled()).toBe(true);

  // Put into the address bar of the open page, a link is heard too; a damaged one is told and changes nothing.
  await page.evaluate((hash) => location.assign(hash), new URL(link).hash.slice(0, -40));
  await page
    .getByRole('status')
    .filter({ hasText: /cut short or damaged/ })
    .waitFor({ timeout: PATIENCE });
  expect(await documentOf(page)).toEqual(sent);

  expect(heard.length).toBeGreaterThan(4);
  for (const request of heard) expect(request).toMatch(/^GET \/[\w./-]* $/);
  expect(receiver.noted).toMatchObject({ foreign: [], wrong: [] });
  await receiver.context.close();
});
