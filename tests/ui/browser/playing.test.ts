/** The cutting played where there is no graphics card: the clock goes on, and a hand is answered. */
import { afterEach, expect, test } from 'vitest';
import { oneBrowser, PATIENCE, type Visit, visit } from '../../support/browser.ts';
import { prove, startFrom } from '../../support/hands.ts';

const browser = oneBrowser();
let now: Visit | undefined;
afterEach(async () => {
  await now?.context.close();
  now = undefined;
});

/** `1:02:05` → s */
const seconds = (text: string | null) =>
  (text ?? '')
    .split(' ')[0]!
    .split(':')
    .reduce((sum, n) => 60 * sum + Number(n), 0);

test('eight seconds into a playing the clock has gone on, asks for one frame at a time, and Pause answers', async () => {
  now = await visit(browser(), { viewport: { width: 1440, height: 900 } });
  const { page, noted } = now;
  await startFrom(page, 'Drawer knob');
  expect(await prove(page)).toBe('Proven');
  const player = page.getByRole('region', { name: 'The cutting, played' });
  const time = player.locator('.player-time');
  await time.waitFor({ timeout: PATIENCE });
  // At the speed that it comes with, which plays a whole job within a minute: faster ones would be at the end by then.
  // Frames that are waited for at one time: a clock that asks for two a frame has thousands of them in a second.
  await page.evaluate(() => {
    const waiting = new Set<number>();
    const count = { most: 0 };
    Object.assign(window, { frames: count });
    const ask = window.requestAnimationFrame.bind(window);
    const cancel = window.cancelAnimationFrame.bind(window);
    window.requestAnimationFrame = (run) => {
      const id = ask((t) => {
        waiting.delete(id);
        run(t);
      });
      count.most = Math.max(count.most, waiting.add(id).size);
      return id;
    };
    window.cancelAnimationFrame = (id) => {
      waiting.delete(id);
      cancel(id);
    };
  });
  await player.getByRole('button', { name: 'Play', exact: true }).click();
  const times: number[] = [];
  for (let n = 0; n < 5; n++) {
    times.push(seconds(await time.textContent({ timeout: PATIENCE })));
    if (n < 4) await page.waitForTimeout(2000);
  }
  for (let n = 1; n < times.length; n++) expect(times[n], `${times}`).toBeGreaterThan(times[n - 1]!);
  await player.getByRole('button', { name: 'Pause', exact: true }).click({ timeout: PATIENCE });
  await player.getByRole('button', { name: 'Play', exact: true }).waitFor({ timeout: PATIENCE });
  const most = await page.evaluate(() => (window as unknown as { frames: { most: number } }).frames.most);
  expect(most).toBeGreaterThan(0);
  expect(most).toBeLessThan(20);
  // Paused, it stands.
  const stands = await time.textContent();
  await page.waitForTimeout(1000);
  expect(await time.textContent()).toBe(stands);
  expect(seconds(stands)).toBeGreaterThanOrEqual(times.at(-1)!);
  expect(noted.wrong).toEqual([]);
});
