/** A line's folder: prices, pages, labels, pictures; one small part made once, priced in many ways. */
import { crc32, inflateSync } from 'node:zlib';
import Papa from 'papaparse';
import { beforeAll, describe, expect, test } from 'vitest';
import { stepsOver } from '../../src/batch/goods/chart.ts';
import { labelsOf } from '../../src/batch/goods/labels.ts';
import { pictureOf } from '../../src/batch/goods/picture.ts';
import { thickText } from '../../src/batch/goods/words.ts';
import { goodsFiles } from '../../src/batch/goods.ts';
import type { MadeVariant } from '../../src/batch/line.ts';
import { priceList } from '../../src/batch/price-list.ts';
import { type Built, build } from '../../src/build.ts';
import { checkPart, type Part } from '../../src/part.ts';
import { resolvePart } from '../../src/resolve.ts';

const peg = {
  name: 'Peg',
  form: [
    { element: 'cylinder', length: 14, start: 16 },
    { element: 'bead', length: 6, start: 12 },
  ],
  blank: { section: 'square', width: 22 },
  plan: { scallop: 0.1 },
};
const partOf = (raw: Record<string, unknown> = {}): Part => {
  const read = checkPart({ ...peg, ...raw });
  if (!('part' in read)) throw new Error(JSON.stringify(read.problems));
  return read.part;
};

let built: Built;
beforeAll(async () => {
  built = await build(partOf(), { solid: 'none' });
});
const silhouette: [number, number][] = [
  [0, 8],
  [14, 8],
  [14, 6],
  [17, 9],
  [20, 6],
];
const made = (name: string, slug: string, quantity: number, raw: Record<string, unknown> = {}): MadeVariant => ({
  variant: { name, slug, quantity, row: 2, knobs: {}, part: partOf(raw) },
  verdict: 'proven',
  problems: [],
  report: built.report!,
  silhouette,
  seconds: 1,
});
const refused = (): MadeVariant => ({
  variant: { name: 'Too <thick>', slug: 'too-thick', quantity: 3, row: 9, knobs: {}, part: partOf() },
  verdict: 'refused',
  problems: [
    {
      code: 'blank-too-small',
      severity: 'refuse',
      path: 'form[0]',
      message: 'stands out of the <blank>',
      allowed: '22 mm & more',
    },
    { code: 'hazard', severity: 'note', path: '', message: 'wood dust' },
  ],
  report: {
    ...built.report!,
    proof: {
      ...built.report!.proof,
      findings: [
        { code: 'gouge', severity: 'refuse', file: 'too-thick-1.nc', line: 88, x: 1, theta_deg: 0, message: 'gouges' },
      ],
    },
  },
  silhouette,
  seconds: 0,
});
const small = () => [made('Peg, short', 'peg-short', 4), made('=HYPERLINK("http://x")', 'peg-2', 40), refused()];

describe('a price list', () => {
  test('has no price for what is not proven', () => {
    const list = priceList(small());
    expect(list.rows.map((r) => r.variant.slug)).toEqual(['peg-short', 'peg-2']);
    expect(priceList([refused()]).rows).toEqual([]);
  });

  test('tells the quantity breaks of the document in order, each dearer than the next', () => {
    const { rows } = priceList([made('a', 'a', 1, { price: { breaks: [50, 5, 1, 5] } })]);
    expect(rows[0]!.breaks.map((c) => c.quantity)).toEqual([1, 5, 50]);
    expect(rows[0]!.breaks.map((c) => c.unit)).toEqual([...rows[0]!.breaks.map((c) => c.unit)].sort((p, q) => q - p));
    expect(rows[0]!.breaks[0]).toEqual(rows[0]!.cost);
  });

  test('what the profit hangs on is the largest of wood, bench and hands', () => {
    const bench = (hourlyRate: number) => ({ ...resolvePart(partOf()).job!.bench, hourlyRate });
    const material = (price: number) => ({ ...peg.blank, material: { ...resolvePart(partOf()).job!.material, price } });
    const of = (raw: Record<string, unknown>) => priceList([made('a', 'a', 1, raw)]).rows[0]!;
    expect(of({ price: { labourRate: 900 } }).limit).toBe('hands');
    expect(of({ bench: bench(900), price: { labourRate: 1 } }).limit).toBe('time');
    expect(of({ blank: material(9000), price: { labourRate: 1 } }).limit).toBe('wood');
    const { shares } = of({});
    expect(shares.wood + shares.time + shares.hands).toBeCloseTo(1, 12);
  });

  test('profit an hour is profit over hours; a bench that is never used has none', () => {
    const row = priceList([made('a', 'a', 7)]).rows[0]!;
    expect(row.perBenchHour! / 100).toBeCloseTo(row.cost.profit / 100 / (row.cost.bench_s / 3600), 2);
    expect(row.perPersonHour! / 100).toBeCloseTo(row.cost.profit / 100 / (row.cost.person_s / 3600), 2);
    const idle = priceList([made('a', 'a', 1, { price: { hand_min: 0, finish_min_dm2: 0, setup_min: 0 } })]).rows[0]!;
    expect(idle.perPersonHour).toBeUndefined();
  });

  test('with a cut list a piece pays its share of the stick and no share of waste', () => {
    const row = priceList([made('a', 'a', 1)], new Map([['a', 1_000_000]])).rows[0]!;
    expect(row.cost.material).toBe(Math.round(100 * row.piece.materialPrice));
  });

  test('totals count every piece, apart by currency', () => {
    const list = priceList([
      made('a', 'a', 3),
      made('b', 'b', 2, { price: { currency: 'shells' } }),
      made('c', 'c', 5),
    ]);
    expect(list.totals.map((t) => [t.currency, t.pieces])).toEqual([
      ['units', 8],
      ['shells', 2],
    ]);
    const [a, , c] = list.rows;
    expect(list.totals[0]!.price).toBe(3 * a!.cost.unit + 5 * c!.cost.unit);
    for (const t of list.totals) expect(t.cost + t.profit).toBe(t.price);
  });

  test('a report of another document is a fault, not a price', () => {
    const other = made('a', 'a', 1, { bits: { finishing: 'ball-10' } });
    expect(() => priceList([other])).toThrow(/not in its document/);
  });
});

describe('the files of a line', () => {
  test('are all there, the index last; without a proven variant the index alone', () => {
    expect([...goodsFiles(small(), { title: 'Pegs' }).keys()]).toEqual([
      'price-list.csv',
      'price-list.html',
      'catalogue.html',
      'labels.html',
      'index.html',
    ]);
    expect([...goodsFiles([refused()], { title: 'Pegs' }).keys()]).toEqual(['index.html']);
    expect([...goodsFiles([], { title: 'Pegs', wanted: 2 }).keys()]).toEqual(['index.html']);
  });

  test('are the same again, whatever time the making took', () => {
    const slow = small().map((m) => ({ ...m, seconds: 99 }));
    expect(goodsFiles(slow, { title: 'Pegs' })).toEqual(goodsFiles(small(), { title: 'Pegs' }));
  });

  test('the table adds up to what the list says, and a name cannot become a formula', () => {
    const list = priceList(small());
    const rows = Papa.parse<Record<string, string>>(goodsFiles(small(), { title: 'Pegs' }).get('price-list.csv')!, {
      header: true,
      skipEmptyLines: true,
    }).data;
    expect(rows.map((r) => r.variant)).toEqual(['Peg, short', `'=HYPERLINK("http://x")`]);
    rows.forEach((r, i) => {
      const n = (key: string) => Math.round(100 * Number(r[key]));
      expect(
        n('material') + n('bench') + n('bit wear') + n('hand') + n('setting up') + n('scrap') + n('overhead'),
      ).toBe(n('cost'));
      expect(n('cost') + n('margin')).toBe(n('price before taxes'));
      expect(n('price before taxes')).toBe(list.rows[i]!.cost.unit);
      expect(n('price at 100')).toBe(list.rows[i]!.breaks.at(-1)!.unit);
    });
  });

  test('pages stand alone: nothing is fetched, nothing runs, and what people wrote is text', () => {
    const files = goodsFiles(small(), {
      title: 'Pegs & <b>more</b>',
      doors: [{ file: 'cut-list.csv', label: 'Cut list' }],
    });
    for (const [name, html] of files) {
      if (!name.endsWith('.html')) continue;
      expect(html, name).toMatch(/^<!doctype html>/);
      expect(html, name).toContain("default-src 'none'");
      expect(html, name).not.toMatch(/<script|<b>more|<thick>|<blank>|@import|url\(|style="|\son\w+=|javascript:/i);
      for (const [, address] of html.matchAll(/(?:src|href)="([^"]*)"/g))
        expect(address, name).toMatch(/^(data:image\/png;base64,|[a-z0-9][a-z0-9.\-/]*$)/);
    }
  });

  test('the index leads to every file and every sheet, and tells why a variant was refused, without its programs', () => {
    const files = goodsFiles(small(), {
      title: 'Pegs',
      doors: [{ file: 'cut-list.csv', label: 'Cut list' }],
      wanted: 5,
    });
    const html = files.get('index.html')!;
    for (const file of [...files.keys(), 'cut-list.csv'].filter((f) => f !== 'index.html'))
      expect(html).toContain(`href="${file}"`);
    expect(html).toContain('href="peg-short/peg-short.sheet.html"');
    expect(html).toContain('form[0]: stands out of the &lt;blank&gt; (22 mm &amp; more)');
    expect(html).toContain('too-thick-1.nc, line 88: gouges');
    expect(html).not.toContain('wood dust');
    expect(html).not.toContain('href="too-thick/');
    expect(html).toContain('<b>2</b><span>of 5 variants proven');
    expect(html).toContain('<b>2</b><span>not made yet');
  });

  test('the catalogue has a picture, a measured drawing and every price of every proven variant', () => {
    const html = goodsFiles(small(), { title: 'Pegs' }).get('catalogue.html')!;
    expect(html.match(/<article/g)).toHaveLength(2);
    expect(html.match(/src="data:image\/png;base64,/g)).toHaveLength(2);
    expect(html.match(/Silhouette with measures/g)).toHaveLength(2);
    expect(html).toContain('ø 18 mm');
    expect(html).toContain('ø 12 mm');
    for (const q of ['one', 'from 10', 'from 25', 'from 100']) expect(html.split(`<td>${q}</td>`)).toHaveLength(3);
    expect(html).not.toContain('local building code');
    expect(goodsFiles([made('a', 'a', 1, { guard: true })], { title: 'Pegs' }).get('catalogue.html')).toContain(
      'local building code',
    );
  });

  test('what keeps the corners of its stock is measured over them, what is turned has a diameter', () => {
    const mm = (v: number) => `${v.toFixed(1)} mm`;
    // A square of 40: 40 √2 over the corners.
    expect(thickText({ width: 40, height: 40 }, 20 * Math.SQRT2, mm)).toBe('56.6 mm across the corners');
    expect(thickText({ width: 40, height: 40 }, 20, mm)).toBe('ø 40.0 mm');
    expect(thickText({ width: 42, height: 36 }, 18.5, mm)).toBe('37.0 mm across the corners');
  });

  test('the index says that its hours count spoiled pieces in', () => {
    const html = goodsFiles([made('a', 'a', 1)], { title: 'Pegs' }).get('index.html')!;
    expect(html).toContain('<span>of the bench, spoiled pieces counted in</span>');
    expect(html).toContain('<b>1</b><span>piece</span>');
  });

  test('there is a label for each piece, numbered, whole leaves of 21', () => {
    const labels = labelsOf('Pegs', small());
    expect(labels).toHaveLength(44);
    expect(labels.slice(0, 4).map((l) => l.number)).toEqual(['1 of 4', '2 of 4', '3 of 4', '4 of 4']);
    expect(labels.at(-1)).toMatchObject({ slug: 'peg-2', number: '40 of 40' });
    const html = goodsFiles(small(), { title: 'Pegs' }).get('labels.html')!;
    expect(html.match(/class="leaf"/g)).toHaveLength(3);
    expect(html.match(/<i>/g)).toHaveLength(44);
  });
});

describe('a picture', () => {
  /** Reads a PNG with Node's own zlib: chunks by name, each with its check sum looked at. */
  function chunksOf(png: Uint8Array): Map<string, Uint8Array> {
    const view = new DataView(png.buffer, png.byteOffset);
    const out = new Map<string, Uint8Array>();
    for (let at = 8; at < png.length; ) {
      const length = view.getUint32(at);
      const name = String.fromCharCode(...png.subarray(at + 4, at + 8));
      expect(crc32(png.subarray(at + 4, at + 8 + length)), name).toBe(view.getUint32(at + 8 + length));
      out.set(name, png.subarray(at + 8, at + 8 + length));
      at += 12 + length;
    }
    return out;
  }

  test('is a PNG as its specification has it, with the part in it, lit from above, and the same again', () => {
    const { job } = resolvePart(partOf());
    const { png, width, height } = pictureOf(job!.field, job!.material);
    // W3C PNG specification (third edition), 5.2: the signature; 11.2.1: the header.
    expect([...png.subarray(0, 8)]).toEqual([137, 80, 78, 71, 13, 10, 26, 10]);
    const chunks = chunksOf(png);
    expect([...chunks.keys()]).toEqual(['IHDR', 'PLTE', 'tRNS', 'IDAT', 'IEND']);
    const palette = chunks.get('PLTE')!;
    const alpha = chunks.get('tRNS')!;
    const rows = inflateSync(chunks.get('IDAT')!);
    expect(rows.length).toBe(height * (width + 1));
    const at = (x: number, y: number) => rows[y * (width + 1) + 1 + x]!;
    expect(alpha[at(0, 0)]).toBe(0);
    let [high, low, seen] = [0, 0, 0];
    for (let y = 0; y < height; y++)
      for (let x = 0; x < width; x++) {
        const index = at(x, y);
        expect(index * 3).toBeLessThan(palette.length);
        if (alpha[index] !== 255) continue;
        seen++;
        const third = y < height / 3 ? 'high' : y > (2 * height) / 3 ? 'low' : '';
        if (third === 'high') high = Math.max(high, palette[3 * index]!);
        if (third === 'low') low = Math.max(low, palette[3 * index]!);
      }
    expect(seen / (width * height)).toBeGreaterThan(0.3);
    expect(high).toBeGreaterThan(low);
    expect(pictureOf(job!.field, job!.material).png).toEqual(png);
  });
});

test.each([
  [[0.2, 1.3], 0, 1.3],
  [[40, 65], 40, 65],
  [[0], 0, 1],
  [[19.9, 19.9, 20.1], 19.9, 20.1],
])('the chart’s steps are round, few and hold %j', (values, low, high) => {
  const steps = stepsOver(values);
  expect(steps[0]!).toBeLessThanOrEqual(low + 1e-9);
  expect(steps.at(-1)!).toBeGreaterThanOrEqual(high - 1e-9);
  expect(steps.length).toBeGreaterThanOrEqual(2);
  expect(steps.length).toBeLessThanOrEqual(9);
});
