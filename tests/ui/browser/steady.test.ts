/** Nothing moves under the hand: whatever is being saved, proven or changed, every part of the page stays where it was. */
import { expect, test } from 'vitest';
import { elements, oneBrowser, visit } from '../../support/browser.ts';
import { open, prove, slide, verdict } from '../../support/hands.ts';
import { toggle } from '../../support/small-parts.ts';

const browser = oneBrowser();
const PARTS = ['.head', '.strip', '[aria-label="What comes next"]', '.stage', '[role="listbox"]'];

test.each([1100, 390])('%i pixels wide, while it is edited, saved and proven', async (width) => {
  const { page } = await visit(browser(), { viewport: { width, height: 760 } });
  await open(page, toggle);
  await elements(page).nth(1).click();
  await verdict(page);
  // Watched by the page itself at every picture, so that no state is too short to be seen.
  await page.evaluate((parts) => {
    const seen = { verdicts: new Set<string>(), places: new Set<string>() };
    Object.assign(globalThis, { seen });
    const look = () => {
      seen.verdicts.add(document.querySelector('.pill')?.className ?? '');
      seen.places.add(
        parts
          .map((part) => {
            const box = document.querySelector(part)!.getBoundingClientRect();
            return `${part} ${Math.round(box.top + scrollY)}`;
          })
          .join(', '),
      );
      requestAnimationFrame(look);
    };
    look();
  }, PARTS);
  await slide(page, 'length', 0.12);
  await prove(page);
  const { verdicts, places } = await page.evaluate(() => {
    const { seen } = globalThis as unknown as { seen: { verdicts: Set<string>; places: Set<string> } };
    return { verdicts: [...seen.verdicts], places: [...seen.places] };
  });
  expect(verdicts.length).toBeGreaterThan(1);
  expect(places).toEqual([expect.any(String)]);
});
