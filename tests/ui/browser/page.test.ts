/** What a first visitor sees, and what must never happen meanwhile. */
import { afterEach, describe, expect, inject, test } from 'vitest';
import sample from '../../../templates/stair-baluster.part.json' with { type: 'json' };
import { barriers } from '../../support/barriers.ts';
import { elements, oneBrowser, PATIENCE, shot, strip, type Visit, visit } from '../../support/browser.ts';
import { verdict } from '../../support/hands.ts';
import { inked } from '../../support/pixels.ts';

const browser = oneBrowser();
let now: Visit | undefined;
afterEach(async () => {
  await now?.context.close();
  now = undefined;
});
const enter = async (
  ...of: Parameters<typeof visit> extends [unknown, ...infer Rest] ? Rest : never
): Promise<Visit> => {
  now = await visit(browser(), ...of);
  return now;
};

describe('the page at rest', () => {
  test('has the sample on the bench, says how ready it is, and proves it without being asked', async () => {
    const { context, page } = await enter();
    expect(await page.getByLabel('Name of the part').inputValue()).toBe(sample.name);
    expect(await elements(page).count()).toBe(sample.form.length);
    const steps = strip(page).getByRole('button');
    expect(await steps.count()).toBe(8);
    for (const words of await steps.allTextContents()) expect(words.trim()).not.toBe('');
    expect(await verdict(page, 100_000)).toBe('Proven');
    const stage = page.getByRole('application', { name: /^The part in its blank/ });
    const looker = await context.newPage();
    await expect.poll(() => inked(stage, 'wood', looker), { timeout: PATIENCE }).toBeGreaterThan(10_000);
    await shot(page, 'at-rest');
  });

  test.each(['light', 'dark'] as const)('%s: nothing serious stands in the way of anybody', async (colorScheme) => {
    const { page } = await enter({ colorScheme });
    if (colorScheme === 'dark') await shot(page, 'dark');
    expect(await barriers(page)).toEqual([]);
  });

  test('on a narrow screen everything lies one below another and nothing sticks out', async () => {
    const { page } = await enter({ viewport: { width: 390, height: 844 } });
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
    expect(await barriers(page)).toEqual([]);
  });
});

describe('nothing leaves the machine', () => {
  test('all that is asked for comes from where the page came from, and nothing breaks its policy', async () => {
    const { page, noted } = await enter();
    await elements(page).nth(2).click();
    await page.waitForLoadState('networkidle');
    // The watch itself: these two must be noted, or it would prove nothing.
    const before = { foreign: [...noted.foreign], wrong: [...noted.wrong] };
    await page.evaluate(() => fetch('http://127.0.0.2:9/').catch(() => undefined));
    await page.evaluate(() => {
      const script = document.createElement('script');
      script.textContent = 'window.wasRun = true';
      document.head.append(script);
    });
    await expect.poll(() => noted.wrong.join('\n')).toMatch(/connect-src[\s\S]*script-src/);
    expect(await page.evaluate(() => 'wasRun' in window)).toBe(false);
    expect(before).toEqual({ foreign: [], wrong: [] });
    expect(noted.asked.filter((url) => url.endsWith('.wasm'))).not.toEqual([]);
  });

  test('a copy on a host that says nothing is as strict by its own words', async () => {
    const html = await (await fetch(inject('address'))).text();
    expect(html).toMatch(/^<!doctype html>\s*<html lang="en">\s*<head>\s*<meta http-equiv="Content-Security-Policy"/);
    expect(html).not.toMatch(/https?:\/\/|<script(?![^>]* src="\.\/)|<style|style=/);
  });
});
