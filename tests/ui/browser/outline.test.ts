/** An old part on the bench: its caliper readings, and its photograph. */
import type { Page } from 'playwright';
import { afterEach, expect, test } from 'vitest';
import { kept, oneBrowser, PATIENCE, shot, type Visit, visit } from '../../support/browser.ts';
import { open, stored } from '../../support/hands.ts';

const browser = oneBrowser();
let now: Visit | undefined;
afterEach(async () => {
  await now?.context.close();
  now = undefined;
});

const dialog = (page: Page) => page.getByRole('dialog', { name: 'From an old part' });
const formKept = async (page: Page, name: string) => (await kept(page)).find((k) => k.name === name)!.raw.form;

test('elements are fitted to a table of readings, in one step of undo, and the deviation is drawn along x', async () => {
  now = await visit(browser());
  const { page, noted } = now;
  const part = {
    name: 'Old rung',
    form: [
      { element: 'cylinder', length: 30, start: 26 },
      { element: 'taper', length: 60, start: 30, end: 30 },
    ],
  };
  await open(page, part);
  await page.keyboard.press('r');
  // A rung that was turned to 24, and from 28 to 20: what the elements must become.
  const table = [
    [0, 24],
    [15, 24],
    [29.9, 24],
    [30.1, 28],
    [60, 24],
    [90, 20],
  ];
  await dialog(page)
    .getByLabel('Table of readings')
    .fill(`where\tacross\n${table.map(([x, d]) => `${x}\t${d} mm`).join('\n')}`);
  await dialog(page)
    .getByText(/^6 readings, 1 line left out; the form lies/)
    .waitFor();
  expect(await dialog(page).locator('.deviation').count()).toBe(6);
  await dialog(page).getByRole('button', { name: 'Fit the form’s elements to it' }).click();
  await dialog(page)
    .getByText(/Fitted: the form lay .* off on the whole, now/)
    .waitFor({ timeout: PATIENCE });
  await shot(page, 'outline-table');
  await dialog(page).getByRole('button', { name: 'Close' }).click();
  await stored(page);
  const [rung, taper] = await formKept(page, part.name);
  expect(rung).toEqual({ element: 'cylinder', length: 30, start: 24 });
  expect(taper).toEqual({ element: 'taper', length: 60, start: 28, end: 20 });
  await page.getByRole('button', { name: 'Undo 1' }).click();
  await stored(page);
  await expect.poll(() => formKept(page, part.name), { timeout: PATIENCE }).toEqual(part.form);
  expect(noted.wrong).toEqual([]);
});

/** The part in the photograph, mm, and how it lies in it. */
const OLD = { length: 180, perMm: 4, left: 80, middle: 150, tilt: 0.05, width: 900, height: 300 };
const radiusAt = (x: number) => (x < 40 ? 18 : x < 120 ? 12 + 6 * Math.sin((Math.PI * (x - 40)) / 80) : 12);

/** Draws the photograph in the browser. @returns a PNG */
async function photograph(page: Page): Promise<Buffer> {
  const outline = Array.from({ length: 721 }, (_, i) => {
    const x = (i * OLD.length) / 720;
    return [x, radiusAt(x)] as const;
  });
  const data = await page.evaluate(
    ([o, points]) => {
      const canvas = document.createElement('canvas');
      canvas.width = o.width;
      canvas.height = o.height;
      const ink = canvas.getContext('2d')!;
      ink.fillStyle = '#e9e4da';
      ink.fillRect(0, 0, o.width, o.height);
      ink.translate(o.left, o.middle);
      ink.rotate(o.tilt);
      ink.scale(o.perMm, o.perMm);
      ink.fillStyle = '#7a5230';
      ink.beginPath();
      for (const [x, r] of points) ink.lineTo(x, -r);
      for (const [x, r] of points.toReversed()) ink.lineTo(x, r);
      ink.fill();
      return canvas.toDataURL('image/png').split(',')[1]!;
    },
    [OLD, outline] as const,
  );
  return Buffer.from(data, 'base64');
}

/** Half a pixel of the picture for both edges, and a fifth more for marks set by hand, mm. */
const WITHIN = 0.6 / OLD.perMm;

test('a photograph, scaled by two points and straightened, gives the diameters back', async () => {
  now = await visit(browser());
  const { page, noted } = now;
  await open(page, { name: 'Leg', form: [{ element: 'cylinder', length: 180, start: 30 }] } as { name: string });
  await page.keyboard.press('r');
  const picture = await photograph(page);
  await dialog(page)
    .getByLabel('Photograph', { exact: true })
    .setInputFiles({ name: 'leg.png', mimeType: 'image/png', buffer: picture });
  const drawing = dialog(page).locator('.photo-marks');
  await drawing.scrollIntoViewIfNeeded();
  // Two points that a person can find, at 10 and at 170 mm, pressed a little off the axis.
  for (const [x, off] of [
    [10, 7],
    [170, -5],
  ] as const) {
    const [c, s] = [Math.cos(OLD.tilt), Math.sin(OLD.tilt)];
    const px = OLD.left + x * OLD.perMm * c - off * s;
    const py = OLD.middle + x * OLD.perMm * s + off * c;
    const at = await drawing.evaluate(
      (svg, [u, v]) => {
        const { x: sx, y: sy } = new DOMPoint(u, v).matrixTransform((svg as unknown as SVGSVGElement).getScreenCTM()!);
        return { sx, sy };
      },
      [px, py] as const,
    );
    await page.mouse.click(at.sx, at.sy);
  }
  for (const [mark, mm] of [
    ['first mark at', '10'],
    ['second mark at', '170 mm'],
  ] as const) {
    await dialog(page).getByLabel(mark).fill(mm);
    await dialog(page).getByLabel(mark).blur();
  }
  await dialog(page).getByRole('button', { name: 'Straighten by its outline' }).click();
  await dialog(page).getByText('The marks lie on the middle of the outline now').waitFor({ timeout: PATIENCE });
  await dialog(page).getByRole('button', { name: 'Read its outline' }).click();
  await dialog(page)
    .getByText(/readings stand in the table above/)
    .waitFor({ timeout: PATIENCE });
  await shot(page, 'outline-photograph');
  const readings = (await dialog(page).getByLabel('Table of readings').inputValue())
    .split('\n')
    .map((line) => line.split('\t').map(Number) as [number, number]);
  expect(readings.length).toBeGreaterThan(12);
  expect(readings.length).toBeLessThanOrEqual(120);
  // The shoulder at 40 lies between two stations.
  for (const [x, diameter] of readings)
    if (Math.abs(x - 40) > 1) expect(Math.abs(diameter - 2 * radiusAt(x)), `at ${x} mm`).toBeLessThan(WITHIN);
  expect([readings[0]![0], readings.at(-1)![0]]).toEqual([10, 170]);
  // The form on the bench, a cylinder of 30, is held against them where the picture lies on it: 36 at 10 mm, 24 at 170.
  await dialog(page)
    .getByText(/readings; the form lies .* at most 6\.\d* mm/)
    .waitFor();
  await dialog(page).getByRole('button', { name: 'Make it the whole form' }).click();
  await stored(page);
  const [measured] = await formKept(page, 'Leg');
  expect(measured).toMatchObject({ element: 'measured' });
  expect((measured!.readings as unknown[]).length).toBe(readings.length);
  // The picture stays behind the Form lane, to be looked at and followed.
  expect(await page.locator('.form-drawing image').count()).toBe(1);
  expect(noted.wrong).toEqual([]);
});
