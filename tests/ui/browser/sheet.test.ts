/** The setup sheet on paper: two pages of A4 and of Letter, nothing cut off, nothing too small to read at the machine. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Built } from '../../../src/build.ts';
import { oneBrowser } from '../../support/browser.ts';
import { buildRaw, refusals } from '../../support/built.ts';

const SHEETS = resolve(import.meta.dirname, '../shots');
/** Points of ISO 216 A4 (210 × 297 mm) and ANSI Letter (8½ × 11 in), 72 to the inch. */
const PAPERS = [
  ['A4', (210 / 25.4) * 72, (297 / 25.4) * 72],
  ['Letter', 8.5 * 72, 11 * 72],
] as const;
const coarse = { scallop: 0.15, necking: false };
const knob = [
  { element: 'cylinder', length: 12, start: 12 },
  { element: 'bead', length: 10, start: 16 },
];
const PARTS: Record<string, Record<string, unknown>> = {
  'four axes, mm': {
    name: 'Tool-rack knob',
    about: 'For the rack over the long bench in the boathouse, where the old ones have split along the grain.',
    form: knob,
    blank: { section: 'square', width: 30 },
    plan: coarse,
  },
  'rotary on Y, inch, a guard with long notes': {
    name: 'Rail knob',
    form: knob,
    blank: { section: 'polygon', sides: 8, width: 32, material: 'white-oak' },
    control: 'y-output-inch',
    plan: { scallop: 0.15 },
    trim: { radial: -0.15 },
    guard: true,
    notes: Array.from(
      { length: 12 },
      (_, i) => `Line ${i + 1} of what somebody wanted to have remembered about it.`,
    ).join('\n'),
  },
  'long and slender': {
    name: 'Sail batten for the long dinghy, the second of a set of four, whose name is long',
    form: [{ element: 'taper', length: 560, start: 20, end: 14 }],
    blank: { section: 'square', width: 24, material: 'white-ash' },
    bench: 'long',
    control: 'y-output-degrees',
    trim: { radial: 0.12 },
    plan: { scallop: 0.3, necking: false },
  },
  'many programs, hazardous': {
    name: 'Vent knob',
    form: [{ element: 'cylinder', length: 16, start: 18 }],
    carvings: [{ carving: 'flutes', over: [0, 0], inset: 3, count: 6, section: 'round', depth: 1.4, ends: 'round' }],
    blank: { section: 'round', width: 22, material: 'pvc', acknowledged: 'pvc' },
    bits: { detail: ['ball-eighth', 'tapered-one'] },
    plan: { scallop: 0.15 },
    guard: true,
    control: 'y-output-turn-100',
  },
};
const browser = oneBrowser();
const built = new Map<string, Built>();
beforeAll(async () => {
  for (const [name, raw] of Object.entries(PARTS)) built.set(name, await buildRaw(raw, { solid: 'none' }));
});
const sheetOf = (name: string) => String([...built.get(name)!.files].find(([f]) => f.endsWith('.sheet.html'))?.[1]);
async function opened(name: string) {
  const page = await browser().newPage({ viewport: { width: 760, height: 1000 } });
  await page.setContent(sheetOf(name));
  await page.emulateMedia({ media: 'print' });
  return page;
}

describe.each(Object.keys(PARTS))('%s', (name) => {
  test('is proven', () => expect(refusals(built.get(name)!)).toEqual([]));

  test.each(PAPERS)('prints on two pages of %s', async (format, width, height) => {
    const page = await opened(name);
    const pdf = await page.pdf({ format, printBackground: true });
    mkdirSync(SHEETS, { recursive: true });
    writeFileSync(`${SHEETS}/sheet ${name} ${format}.pdf`, pdf);
    const text = pdf.toString('latin1');
    expect(text.match(/\/Type\s*\/Page\b/g)).toHaveLength(2);
    const boxes = [...text.matchAll(/\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)\s*\]/g)];
    expect(boxes).toHaveLength(2);
    for (const [, w, h] of boxes) {
      expect(Math.abs(Number(w) - width)).toBeLessThan(1);
      expect(Math.abs(Number(h) - height)).toBeLessThan(1);
    }
    await page.close();
  });

  test('keeps everything within its two boxes, and nothing lies on anything else in the drawings', async () => {
    const page = await opened(name);
    const found = await page.evaluate(() => {
      const mm = (px: number) => (px / 96) * 25.4;
      const wrong: string[] = [];
      const pages = [...document.querySelectorAll('.page')];
      for (const sheet of pages) {
        const box = sheet.getBoundingClientRect();
        for (const e of sheet.querySelectorAll('*')) {
          const b = e.getBoundingClientRect();
          const out = Math.max(box.left - b.left, b.right - box.right, b.bottom - box.bottom);
          if (b.width && out > 0.5) wrong.push(`${e.tagName} ${e.textContent?.slice(0, 40)} sticks out ${mm(out)} mm`);
        }
        for (const drawing of sheet.querySelectorAll('svg')) {
          const own = drawing.getBoundingClientRect();
          const texts = [...drawing.querySelectorAll('text')].map((t) => ({
            t: t.textContent,
            b: t.getBoundingClientRect(),
          }));
          for (const [i, { t, b }] of texts.entries()) {
            if (
              b.left < own.left - 0.5 ||
              b.right > own.right + 0.5 ||
              b.bottom > own.bottom + 0.5 ||
              b.top < own.top - 2
            )
              wrong.push(`"${t}" leaves its drawing`);
            for (const other of texts.slice(i + 1))
              if (
                b.right > other.b.left + 1 &&
                other.b.right > b.left + 1 &&
                b.bottom > other.b.top + 4 &&
                other.b.bottom > b.top + 4
              )
                wrong.push(`"${t}" lies on "${other.t}"`);
          }
        }
      }
      return {
        wrong,
        pages: pages.map((p) => ({
          width: mm(p.getBoundingClientRect().width),
          height: mm(p.getBoundingClientRect().height),
        })),
      };
    });
    expect(found.wrong).toEqual([]);
    expect(found.pages).toHaveLength(2);
    for (const { width, height } of found.pages) {
      expect(width).toBeLessThanOrEqual(210 - 2 * 9);
      // Letter is the shorter paper, A4 the narrower; some air for a face that runs wider.
      expect(height).toBeLessThanOrEqual(11 * 25.4 - 2 * 9 - 4);
    }
    await page.close();
  });

  test('is set in at least 11 points where it is read at the machine, 9.5 in the small print', async () => {
    const page = await opened(name);
    const sizes = await page.evaluate(() => {
      const points = (e: Element) => (Number.parseFloat(getComputedStyle(e).fontSize) / 96) * 72;
      const least = (selector: string) => Math.min(...[...document.querySelectorAll(selector)].map(points));
      const scale = [...document.querySelectorAll('svg')].map(
        (s) => s.getBoundingClientRect().width / s.viewBox.baseVal.width,
      );
      return {
        read: least('li, h1, h2, code, .settings b, .time, .state, .guard, .runs td'),
        drawn:
          (Math.min(...scale) *
            Number.parseFloat(getComputedStyle(document.querySelector('svg text')!).fontSize) *
            72) /
          96,
        all: least('.page *:not(svg *)'),
      };
    });
    expect(sizes.read).toBeGreaterThanOrEqual(11 - 0.01);
    expect(sizes.drawn).toBeGreaterThanOrEqual(11 - 0.01);
    expect(sizes.all).toBeGreaterThanOrEqual(9.5 - 0.01);
    await page.close();
  });
});
