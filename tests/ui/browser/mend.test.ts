/** What does not fit is mended from the strip: one click makes the change that was tried, one undo takes it back. */
import { expect, test } from 'vitest';
import { oneBrowser, PATIENCE, visit } from '../../support/browser.ts';
import { documentOf, open } from '../../support/hands.ts';

const browser = oneBrowser();

const peg = {
  name: 'Cleat peg',
  form: [{ element: 'cylinder', length: 16, start: 16 }],
  blank: { section: 'square', width: 20 },
  bench: 'small',
};

test(
  'three jaws on a square: the strip offers a tenon, a click puts it into the document, undo takes it out',
  async () => {
    const { page } = await visit(browser());
    await open(page, peg);
    const strip = page.getByRole('navigation', { name: /Readiness/ });
    const mend = page.getByRole('button', { name: /a round tenon of 10 mm/ });
    await mend.waitFor();
    expect(
      await strip
        .getByRole('listitem')
        .filter({ hasText: /3 jaws/ })
        .getAttribute('data-state'),
    ).toBe('stopped');
    await mend.click();
    await mend.waitFor({ state: 'detached' });
    expect((await documentOf(page)).holding).toEqual({ tenon: { diameter: 10 } });
    await page.keyboard.press('Control+z');
    await mend.waitFor();
    expect((await documentOf(page)).holding).toBeUndefined();
  },
  PATIENCE,
);
