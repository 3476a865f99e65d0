/** What axe-core finds in the way of people on a page. */
import axe from 'axe-core';
import type { Page } from 'playwright';

/**
 * By the rules of WCAG 2.2 A and AA and axe-core's own good practice.
 * @param within a selector; left out, the whole page @returns rule, what and where, of all that is serious or critical
 */
export async function barriers(page: Page, within?: string): Promise<string[]> {
  await page.evaluate(axe.source);
  const { violations } = await page.evaluate(
    (where) => (window as unknown as { axe: typeof axe }).axe.run(where ?? document),
    within,
  );
  return violations
    .filter(({ impact }) => impact === 'serious' || impact === 'critical')
    .map(({ id, help, nodes }) => `${id}: ${help}: ${nodes.map((n) => n.target.join(' ')).join(' | ')}`);
}
