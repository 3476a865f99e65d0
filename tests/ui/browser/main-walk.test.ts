/** The whole way, as a maker goes it: from a template to a twisted part, proven, watched, and taken away. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import type { Report } from '../../../src/build/report.ts';
import { elements, oneBrowser, PATIENCE, shot, strip, visit } from '../../support/browser.ts';
import { cavetto, scratch } from '../../support/command.ts';
import { carve, drag, goTo, openTakeAway, panel, prove, said, slide, startFrom, takeZip } from '../../support/hands.ts';
import { inked } from '../../support/pixels.ts';
import { readSolid } from '../../support/stl-read.ts';

const browser = oneBrowser();
const folder = scratch();
afterAll(folder.remove);

/** An STL has single-precision corners, a relative hair of 6e-8 each; the volume of a whole part loses less than this by them. */
const VOLUME_TOLERANCE = 1e-5;

test('a template is shaped, carved, put into a square blank, proven, played and taken away', async () => {
  const { context, page, noted } = await visit(browser());
  await startFrom(page, 'File handle');

  // Three sliders.
  await slide(page, 'overall length', 0.1);
  expect(await said(page, 'overall length')).toMatch(/^(4\d|5\d) mm$/);
  await elements(page).nth(1).click();
  await slide(page, 'end', 0.45);
  await goTo(page, 'Cutting');
  await slide(page, 'scallop', 0.1);
  expect(await page.getByRole('button', { name: /^Undo/ }).textContent()).toBe('Undo 3');

  // An edge: the cove takes from the swell behind it, the ends stay where they are.
  await elements(page).nth(3).click();
  const edge = page.getByRole('slider', { name: /^where it begins/ });
  await expect.poll(() => edge.getAttribute('aria-valuetext')).toBe('30 mm');
  await drag(page, edge, { x: -30 });
  const moved = Number.parseFloat((await edge.getAttribute('aria-valuetext'))!);
  expect(moved).toBeGreaterThan(20);
  expect(moved).toBeLessThan(30);
  await shot(page, 'editing');

  // Flutes on the swell, and twisted.
  await carve(page, 'flutes');
  await elements(page).nth(3).click();
  await carve(page, 'twist');
  await slide(page, 'turns', 0.1);
  expect(await page.getByRole('listbox', { name: 'Carvings' }).getByRole('option').count()).toBe(2);

  // A square blank, on a bench whose chuck holds one.
  await goTo(page, 'Blank');
  await panel(page).getByLabel('section', { exact: true }).selectOption('square');
  await goTo(page, 'Bench');
  await panel(page).getByLabel('bench', { exact: true }).selectOption({ label: 'Slip bench (middle)' });
  await strip(page)
    .getByRole('button', { name: /^Blank : done.*32 square/ })
    .waitFor();

  expect(await prove(page)).toBe('Proven');

  // Watched: the wood goes, and what is told goes with it.
  const stage = page.getByRole('application', { name: /^The part in its blank/ });
  const looker = await context.newPage();
  const bar = page.getByRole('slider', { name: 'Time of the cutting' });
  const now = page.getByRole('region', { name: /^The cutting/ }).getByRole('status');
  await bar.waitFor({ timeout: PATIENCE });
  await bar.press('Home');
  await expect.poll(() => now.textContent()).toMatch(/rpm|spindle/);
  const told = [await now.textContent()];
  const wood = [await inked(stage, 'wood', looker)];
  const box = (await bar.boundingBox())!;
  for (const [name, share] of [
    ['middle', 0.5],
    ['end', 0.999],
  ] as const) {
    await page.mouse.click(box.x + share * box.width, box.y + box.height / 2);
    const least = 0.97 * wood.at(-1)!;
    await expect.poll(() => inked(stage, 'wood', looker), { timeout: PATIENCE }).toBeLessThan(least);
    wood.push(await inked(stage, 'wood', looker));
    told.push(await now.textContent());
    await shot(page, `playing-${name}`);
  }
  expect(new Set(told).size).toBe(3);
  // From where there is something left to play.
  await page.mouse.click(box.x + 0.2 * box.width, box.y + box.height / 2);
  await page.getByRole('button', { name: 'Play', exact: true }).click();
  await page.getByRole('button', { name: 'Pause', exact: true }).waitFor();
  await page.getByRole('button', { name: 'Show the finished part' }).click();

  // Taken away: what the command line makes of the document in the zip is, byte for byte, what lies beside it.
  await openTakeAway(page);
  const zip = await takeZip(page);
  const document = folder.file('taken.part.json', new TextDecoder().decode(zip.get('file-handle.part.json')));
  const made = await cavetto(['make', document, '--out', folder.dir, '--quiet']);
  expect(made).toMatchObject({ code: 0, err: '' });
  const written = folder.all().filter((name) => name.startsWith('file-handle/'));
  expect(written.filter((name) => name.endsWith('.nc')).length).toBeGreaterThan(1);
  for (const name of written) {
    const bytes = zip.get(name.replace('file-handle/', ''));
    expect(bytes, name).toBeDefined();
    expect(Buffer.compare(bytes!, readFileSync(join(folder.dir, name))), name).toBe(0);
  }
  expect([...zip.keys()].filter((name) => name.endsWith('.nc')).length).toBe(
    written.filter((name) => name.endsWith('.nc')).length,
  );

  const report = JSON.parse(new TextDecoder().decode(zip.get('file-handle.report.json'))) as Report;
  const solid = readSolid(zip.get('file-handle.stl')!);
  expect(solid.open).toBe(0);
  expect(Math.abs(solid.volume - report.part.volume) / report.part.volume).toBeLessThan(VOLUME_TOLERANCE);
  expect(solid.to[0] - solid.from[0]).toBeCloseTo(report.part.length, 3);
  expect(noted).toMatchObject({ foreign: [], wrong: [] });
  await context.close();
});
