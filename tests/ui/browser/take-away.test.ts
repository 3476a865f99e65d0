/** Programs that go out. */
import { readFileSync } from 'node:fs';
import { unzipSync } from 'fflate';
import { afterEach, expect, test } from 'vitest';
import { build } from '../../../src/build.ts';
import { checkPart } from '../../../src/part.ts';
import { oneBrowser, PATIENCE, shot, type Visit, visit } from '../../support/browser.ts';
import { open, prove } from '../../support/hands.ts';
import { peg } from '../../support/small-parts.ts';

const browser = oneBrowser();
let now: Visit | undefined;
afterEach(async () => {
  await now?.context.close();
  now = undefined;
});

test('a proven part leaves as one zip whose programs are, byte for byte, those that Node writes', async () => {
  now = await visit(browser());
  const { page, noted } = now;
  await open(page, peg);
  expect(await prove(page)).toBe('Proven');
  await shot(page, 'proven');
  await page.getByRole('banner').getByRole('button', { name: 'Take away', exact: true }).click();
  const coming = page.waitForEvent('download', { timeout: PATIENCE });
  await page.getByRole('button', { name: 'Take all as one zip' }).click();
  const zip = unzipSync(readFileSync(await (await coming).path()));

  const checked = checkPart(peg);
  if (!('part' in checked)) throw new Error(checked.problems[0]!.message);
  const here = await build(checked.part);
  expect(here.verdict).toBe('proven');
  expect(here.programs.length).toBeGreaterThan(0);
  const text = (name: string) => new TextDecoder().decode(zip[`dowel-peg/${name}`]);
  for (const program of here.programs) expect(text(program.file), program.file).toBe(program.text);
  const programs = (names: Iterable<string>) => [...names].filter((name) => name.endsWith('.nc')).sort();
  const runs = [...here.firstRuns!, ...here.programs].map((p) => `dowel-peg/${p.file}`);
  expect(programs(Object.keys(zip))).toEqual(programs(runs));
  for (const [name, content] of here.files)
    expect(Buffer.from(zip[`dowel-peg/${name}`]!).equals(Buffer.from(content as string)), name).toBe(true);

  // After a stop: the same program that the command line would add.
  const restart = build(checked.part, { fromPass: 3, solid: 'none' });
  await page.getByLabel('After a stop, go on from restart').fill('3');
  const added = page.waitForEvent('download', { timeout: PATIENCE });
  await page.getByRole('button', { name: 'Take the program from there' }).click();
  const download = await added;
  const { file, text: wanted } = (await restart).restart!;
  expect(download.suggestedFilename()).toBe(file);
  expect(readFileSync(await download.path(), 'utf8')).toBe(wanted);
  await page.getByText(`${file} is proven.`).waitFor({ timeout: PATIENCE });
  await page.getByLabel('After a stop, go on from restart').fill('9999');
  await page.getByRole('button', { name: 'Take the program from there' }).click();
  await page.getByText(/There is no pass 9999: 1 to \d+/).waitFor({ timeout: PATIENCE });
  await page.getByLabel('After a stop, go on from restart').fill('3.5');
  expect(await page.getByText(/There is no pass 9999/).count()).toBe(0);
  await page.getByRole('button', { name: 'Take the program from there' }).click();
  await page.getByText(/3\.5 is no whole number: 1 to \d+/).waitFor({ timeout: PATIENCE });
  await shot(page, 'take-away-restart');
  expect(noted).toMatchObject({ foreign: [], wrong: [] });
});
