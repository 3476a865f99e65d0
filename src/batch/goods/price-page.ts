/** The price list to print: prices by quantity, what each is made of, what the profit hangs on, and the variants compared. */
import { moneyText } from '../../cam/price/exact.ts';
import { list as bullets, safe } from '../../cam/sheet/html.ts';
import type { PriceList, PriceRow } from '../price-list.ts';
import { compareChart } from './chart.ts';
import { grid, page, right } from './page.ts';
import { breaksOf, hoursText, LIMIT_WORDS } from './words.ts';

const RULES = [
  'Every line is worked out exactly and rounded once to a whole cent, a half upward; sums are sums of rounded lines.',
  'Material is the stock of a piece with its share of waste; where a cut list fills sticks, the true share of the stick.',
  'Bench is its time at its hourly rate; bit wear is each bit’s time over its life, times its price (rapids count as cutting).',
  'Hand is mounting and packing by the piece, sanding and finish by the surface; setting up is shared by the pieces of the run.',
  'Scrap: spoiled pieces are paid by the good ones. Overhead is a share of cost; margin is a share of the price.',
  'All prices are before taxes: whether and which sales or value-added tax comes on top is yours to settle where you sell.',
];

export function priceHtml(title: string, list: PriceList): string {
  const currencies = list.totals.map((t) => t.currency);
  return page(
    `${title}: price list`,
    `<header><h1>${safe(title)}: price list</h1>
<p class="lead">Before taxes. Costs and rates are those of the part documents.</p></header>
${currencies
  .map((c) =>
    section(
      list.rows.filter((r) => r.currency === c),
      currencies.length > 1 ? ` in ${safe(c)}` : '',
      c,
    ),
  )
  .join('\n')}
<section><h2>How it is reckoned</h2>${bullets(RULES)}</section>`,
  );
}

function section(rows: readonly PriceRow[], tail: string, currency: string): string {
  const breaks = breaksOf(rows);
  const number = (r: PriceRow) => String(rows.indexOf(r) + 1);
  const money = (whole: number | undefined) => right(whole === undefined ? '' : moneyText(whole));
  const prices = grid(
    [
      '',
      'variant',
      ...breaks.map((q) => right(q === 1 ? 'one' : `from ${q}`)),
      right('wanted'),
      right('at that'),
      right('together'),
    ],
    rows.map((r) => [
      number(r),
      safe(r.variant.name),
      ...breaks.map((q) => money(r.breaks.find((c) => c.quantity === q)?.unit)),
      right(String(r.variant.quantity)),
      money(r.cost.unit),
      money(r.cost.unit * r.variant.quantity),
    ]),
  );
  const made = grid(
    [
      '',
      'variant',
      ...['material', 'bench', 'bit wear', 'hand', 'setting up', 'scrap', 'overhead', 'cost', 'margin', 'price'].map(
        right,
      ),
    ],
    rows.map(({ cost: c, ...r }) => [
      String(rows.findIndex((o) => o.variant === r.variant) + 1),
      safe(r.variant.name),
      ...[c.material, c.machine, c.wear, c.hand, c.setup, c.scrap, c.overhead, c.cost, c.profit, c.unit].map(money),
    ]),
  );
  const hangs = grid(
    [
      '',
      'variant',
      right('bench'),
      right('hands'),
      'hangs on',
      right('wood'),
      right('time'),
      right('hands'),
      right('profit per bench hour'),
      right('per person’s hour'),
    ],
    rows.map((r) => [
      number(r),
      safe(r.variant.name),
      right(hoursText(r.cost.bench_s)),
      right(hoursText(r.cost.person_s)),
      LIMIT_WORDS[r.limit],
      ...[r.shares.wood, r.shares.time, r.shares.hands].map((s) => right(`${Math.round(100 * s)} %`)),
      money(r.perBenchHour),
      money(r.perPersonHour),
    ]),
  );
  return `<section><h2>Price of one piece, ${safe(currency)}</h2>${prices}</section>
<section><h2>What it is made of${tail}</h2><p class="lead">One piece, at the number wanted.</p>${made}</section>
<section><h2>What the profit hangs on${tail}</h2><p class="lead">Hours are for one good piece. While the bench cuts, a person is free for other work; the one of the two that you run out of first is the one whose hour counts.</p>${hangs}</section>
<section><h2>Compared${tail}</h2><figure>${compareChart(rows)}<figcaption>Higher and further left earns more for an hour; the disc’s area is the margin of one piece. Numbers as in the lists.</figcaption></figure></section>`;
}
