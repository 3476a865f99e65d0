/** Files dropped on the page that are no part documents, and one that is. */
import type { Page } from 'playwright';
import { afterEach, expect, test } from 'vitest';
import { elements, oneBrowser, PATIENCE, shot, type Visit, visit } from '../../support/browser.ts';
import { documentOf, open, said, slide } from '../../support/hands.ts';
import { peg, toggle } from '../../support/small-parts.ts';

const browser = oneBrowser();
let now: Visit | undefined;
afterEach(async () => {
  await now?.context.close();
  now = undefined;
});

/** Lets a file fall on the lanes. @param repeats the text so often, made in the page: large ones need not cross to it */
async function drop(page: Page, name: string, text: string, repeats = 1): Promise<void> {
  const files = await page.evaluateHandle(
    ([n, t, times]) => {
      const data = new DataTransfer();
      data.items.add(new File([t.repeat(times)], n));
      return data;
    },
    [name, text, repeats] as const,
  );
  await page.getByRole('main').dispatchEvent('drop', { dataTransfer: files });
}

const many = Array.from({ length: 20_000 }, () => ({ element: 'cylinder', length: 1, start: 10 }));

/** Name, content, and what the one sentence must tell: the file, and the place in it. */
const broken: [string, string, RegExp][] = [
  ['letter.txt', 'Dear Sir,\nthe boathouse', /letter\.txt is not a part document: line 1, column 1/],
  [
    'torn.json',
    JSON.stringify(toggle, null, 2).slice(0, 90),
    /torn\.json is not a part document: line \d+, column \d+/,
  ],
  ['list.json', '[1, 2]', /list\.json cannot be opened: .*a part document is a group in braces/i],
  ['empty.json', JSON.stringify({ ...peg, form: [] }), /empty\.json cannot be opened: form/i],
  [
    'odd.json',
    JSON.stringify({ ...toggle, form: [toggle.form[0], { element: 'bead', length: -4 }] }),
    /odd\.json cannot be opened: .*(form\[1\]\.length|2nd element.*length)/i,
  ],
  ['later.json', JSON.stringify({ ...peg, cavetto: 99 }), /later\.json cannot be opened: .*version 99/i],
  ['long.json', JSON.stringify({ ...peg, form: many }), /long\.json cannot be opened: form.*20000 entries/i],
];

test('each broken file is told in one sentence, the bench stays as it was and goes on working', async () => {
  now = await visit(browser());
  const { page, noted } = now;
  await open(page, toggle);
  const before = await documentOf(page);
  const notice = page.getByRole('status').filter({ hasText: /\.(json|txt)/ });
  for (const [name, content, sentence] of broken) {
    await drop(page, name, content);
    await notice.filter({ hasText: sentence }).waitFor({ timeout: PATIENCE });
  }
  await shot(page, 'error');
  await drop(page, 'huge.json', '[[[[[[[[[[', 600_000);
  await notice.filter({ hasText: /huge\.json is too large/ }).waitFor({ timeout: PATIENCE });
  expect(await documentOf(page)).toEqual(before);

  await page.getByRole('button', { name: 'Good', exact: true }).click();
  expect(await notice.count()).toBe(0);
  await elements(page).first().click();
  await slide(page, 'length', 0.7);
  expect(await said(page, 'length')).not.toBe('8 mm');
  await drop(page, 'whole.json', JSON.stringify(peg));
  await expect.poll(() => page.getByLabel('Name of the part').inputValue(), { timeout: PATIENCE }).toBe(peg.name);
  expect(noted).toMatchObject({ foreign: [], wrong: [] });
});
