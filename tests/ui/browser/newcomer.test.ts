/** Somebody who never saw the page and does what its strip says, sentence after sentence, until a program is proven. */
import type { Page } from 'playwright';
import { afterEach, expect, test } from 'vitest';
import { oneBrowser, PATIENCE, strip, type Visit, visit } from '../../support/browser.ts';
import { goTo, openTakeAway, panel, startFrom, takeZip } from '../../support/hands.ts';

const browser = oneBrowser();
let now: Visit | undefined;
afterEach(async () => {
  await now?.context.close();
  now = undefined;
});

/** Presses and choices that are allowed. At five seconds each, reading included, that is less than a minute of the three. */
const MOST = 8;

/** A step that is neither done nor waiting: its name, its sentence, and the button under the strip that does what it says. */
interface Asked {
  step: string;
  sentence: string;
  button: string | undefined;
}

/** @returns what the strip asks for first; undefined when all is done */
async function asks(page: Page): Promise<Asked | undefined> {
  for (const item of await strip(page).getByRole('listitem').all()) {
    const words = await item.getByRole('button').textContent();
    const [, step, sentence] = words!.match(/^([A-Z][a-z -]+?)[!·]?: (?:stopped|look)(.*)$/) ?? [];
    // What says only that another step comes first is no sentence to follow.
    if (step && !/^(Prove it first|First mend)/.test(sentence!)) {
      const next = page.getByRole('region', { name: 'What comes next' });
      expect(await next.textContent()).toContain(`${step} ${sentence}`);
      const [button] = await next.getByRole('button').allTextContents();
      return { step, sentence: sentence!, button };
    }
  }
  return undefined;
}

test('the strip’s sentences alone lead from a template, over a mistake, to proven programs', async () => {
  now = await visit(browser());
  const { page, noted } = now;
  let actions = 2;
  await startFrom(page, 'Chess pawn');
  // The mistake: a bench whose chuck cannot hold square stock.
  await goTo(page, 'Bench');
  await panel(page).getByLabel('bench', { exact: true }).selectOption({ label: 'Loft bench (small)' });
  actions += 2;
  const followed: string[] = [];
  await expect
    .poll(async () => (await asks(page))?.sentence, { timeout: PATIENCE })
    .toMatch(/3 jaws do not seat on 4 flats/);
  for (let asked = await asks(page); asked; asked = await asks(page)) {
    const { step, sentence, button } = asked;
    followed.push(sentence);
    expect(actions, followed.join('\n')).toBeLessThan(MOST);
    if (/^Press Prove/.test(sentence)) {
      await page.getByRole('banner').getByRole('button', { name: 'Prove', exact: true }).click();
      await strip(page)
        .getByRole('button', { name: /^Proof\W*(done|stopped)/ })
        .waitFor({ timeout: PATIENCE });
    } else {
      expect(button, `the sentence at ${step} says nothing that can be done: ${sentence}`).toBeDefined();
      await page.getByRole('button', { name: button!, exact: true }).click();
      await expect.poll(async () => (await asks(page))?.sentence, { timeout: PATIENCE }).not.toBe(sentence);
    }
    actions++;
  }
  expect(followed.length).toBe(2);
  await page.getByText(/^Proven ·/).waitFor({ timeout: PATIENCE });
  for (const item of await strip(page).getByRole('listitem').all()) expect(await item.textContent()).toMatch(/: done/);
  await openTakeAway(page);
  const zip = await takeZip(page);
  expect([...zip.keys()].filter((name) => /^chess-pawn-\d.*\.nc$/.test(name)).length).toBeGreaterThan(0);
  expect(noted).toMatchObject({ foreign: [], wrong: [] });
});
