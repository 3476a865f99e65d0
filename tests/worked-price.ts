/** The README's price of one piece: the template's drawer knob, forty of them, every number taken from a build. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { type PriceRow, priceList } from '../src/batch/price-list.ts';
import { build } from '../src/build.ts';
import { moneyText } from '../src/cam/price/exact.ts';
import { parsePart } from '../src/part.ts';

const KNOB = resolve(import.meta.dirname, '../templates/drawer-knob.part.json');
const PIECES = 40;
const n = (v: number, decimals = 5) => String(Number(v.toFixed(decimals)));
const two = (v: number) => v.toFixed(2);

/** @returns the row of the price list that the table tells */
export async function pricedKnob(): Promise<PriceRow> {
  const read = parsePart(readFileSync(KNOB, 'utf8'));
  if (!('part' in read)) throw new Error('the template is wrong');
  const { verdict, problems, report } = await build(read.part, { solid: 'none' });
  const variant = { name: 'Drawer knob', slug: 'drawer-knob', quantity: PIECES, row: 2, knobs: {}, part: read.part };
  const row = priceList([{ variant, verdict, problems, report: report!, silhouette: [], seconds: 0 }]).rows[0];
  if (!row) throw new Error(`the drawer knob is ${verdict}`);
  return row;
}

/** @returns Markdown: what the price hangs on, and each of its lines by hand */
export function priceTable({ piece, job, report, cost, variant }: PriceRow): string {
  const { price } = variant.part;
  const seconds = piece.work.map((w) => Math.round(w.time_s));
  const names = report.programs.map(({ bit }) => `${bit.kind} ${bit.diameter} mm`);
  const bits = piece.work.map(({ bit }, i) =>
    names.indexOf(names[i]!) < i ? `${names[i]} again` : `${names[i]}: ${two(bit.price!)}, lasts ${bit.life_h} h`,
  );
  const lives = new Set(piece.work.map((w) => w.bit.life_h));
  if (lives.size !== 1) throw new Error('the bits have lives of their own: the sum of their wear wants another shape');
  const life = [...lives][0]!;
  const litres = Math.round(piece.stock) / 1e6;
  const dm2 = Math.round(piece.surface) / 1e4;
  const bench = seconds.reduce((a, b) => a + b, 0);
  const own = [cost.material, cost.machine, cost.wear, cost.hand];
  const m = (whole: number) => moneyText(whole);
  const sum = (parts: readonly number[]) => parts.map(m).join(' + ');
  const total = (parts: readonly number[]) => parts.reduce((a, b) => a + b, 0) / 100;
  const made = [...own, cost.setup, cost.scrap];
  const worn = piece.work.reduce((a, w, i) => a + seconds[i]! * w.bit.price!, 0) / 3600 / life;
  const by = (text: string, value: number) =>
    `${text} = ${Math.abs(value * 100 - Math.round(value * 100)) < 1e-6 ? two(value) : n(value)}`;
  const rows: [string, string, number][] = [
    [
      'material',
      by(
        `${n(litres, 6)} × ${two(piece.materialPrice)} × ${two(1 + price.waste)}`,
        litres * piece.materialPrice * (1 + price.waste),
      ),
      cost.material,
    ],
    ['bench', by(`${bench} ÷ 3600 × ${two(piece.benchRate)}`, (bench / 3600) * piece.benchRate), cost.machine],
    [
      'bit wear',
      by(`(${piece.work.map((w, i) => `${seconds[i]} × ${two(w.bit.price!)}`).join(' + ')}) ÷ 3600 ÷ ${life}`, worn),
      cost.wear,
    ],
    [
      'hand',
      by(
        `(${price.hand_min} + ${price.finish_min_dm2} × ${n(dm2, 4)}) ÷ 60 × ${two(price.labourRate)}`,
        ((price.hand_min + price.finish_min_dm2 * dm2) / 60) * price.labourRate,
      ),
      cost.hand,
    ],
    [
      'setting up',
      by(
        `${price.setup_min} ÷ 60 × ${two(price.labourRate)} ÷ ${PIECES}`,
        ((price.setup_min / 60) * price.labourRate) / PIECES,
      ),
      cost.setup,
    ],
    [
      'scrap',
      by(
        `(${sum(own)}) × ${two(price.scrap)} ÷ ${two(1 - price.scrap)}`,
        (total(own) * price.scrap) / (1 - price.scrap),
      ),
      cost.scrap,
    ],
    ['overhead', by(`(${sum(made)}) × ${two(price.overhead)}`, total(made) * price.overhead), cost.overhead],
    ['cost', 'the sum of the lines above', cost.cost],
    ['price', by(`${m(cost.cost)} ÷ ${two(1 - price.margin)}`, cost.cost / 100 / (1 - price.margin)), cost.unit],
    ['margin', `${m(cost.unit)} − ${m(cost.cost)}`, cost.profit],
  ];
  const facts: [string, string][] = [
    [
      'stock',
      `${Math.round(piece.stock)} mm³ of ${job.material.label.toLowerCase()} at ${two(piece.materialPrice)} a litre, waste ${two(price.waste)}`,
    ],
    ['surface', `${Math.round(piece.surface)} mm²`],
    ['bench', `${seconds.join(' + ')} s at ${two(job.bench.hourlyRate)} an hour`],
    ['bits', bits.join(' · ')],
    [
      'hands',
      `${two(price.labourRate)} an hour; ${price.hand_min} min a piece, ${price.finish_min_dm2} min a dm², setting up ${price.setup_min} min for ${PIECES} pieces`,
    ],
    ['shares', `scrap ${two(price.scrap)}, overhead ${two(price.overhead)}, margin ${two(price.margin)}`],
  ];
  return [
    '| what | from the document, the catalogs and the report |',
    '|---|---|',
    ...facts.map(([what, text]) => `| ${what} | ${text} |`),
    '',
    '| line | by hand | units |',
    '|---|---|---|',
    ...rows.map(([line, how, units]) => `| ${line} | ${how} | ${m(units)} |`),
  ].join('\n');
}
