/** The price list as a table for a spreadsheet: every line of every price, so that it can be reckoned after. */
import { moneyText } from '../../cam/price/exact.ts';
import { writeCsv } from '../csv.ts';
import type { PriceList, PriceRow } from '../price-list.ts';
import { breaksOf, LIMIT_WORDS } from './words.ts';

const COLUMNS: readonly [string, (r: PriceRow) => string | number][] = [
  ['variant', (r) => r.variant.name],
  ['folder', (r) => r.variant.slug],
  ['wood', (r) => r.job.material.label],
  ['length mm', (r) => Number(r.report.part.length.toFixed(2))],
  ['thickness mm', (r) => Number((2 * r.report.part.maxRadius).toFixed(2))],
  ['quantity', (r) => r.variant.quantity],
  ['currency', (r) => r.currency],
  ['stock mm3', (r) => Math.round(r.piece.stock)],
  ['surface mm2', (r) => Math.round(r.piece.surface)],
  ['bench s', (r) => r.piece.work.reduce((s, w) => s + Math.round(w.time_s), 0)],
  ['material', (r) => moneyText(r.cost.material)],
  ['bench', (r) => moneyText(r.cost.machine)],
  ['bit wear', (r) => moneyText(r.cost.wear)],
  ['hand', (r) => moneyText(r.cost.hand)],
  ['setting up', (r) => moneyText(r.cost.setup)],
  ['scrap', (r) => moneyText(r.cost.scrap)],
  ['overhead', (r) => moneyText(r.cost.overhead)],
  ['cost', (r) => moneyText(r.cost.cost)],
  ['margin', (r) => moneyText(r.cost.profit)],
  ['price before taxes', (r) => moneyText(r.cost.unit)],
  ['price of all', (r) => moneyText(r.cost.unit * r.variant.quantity)],
  ['profit hangs on', (r) => LIMIT_WORDS[r.limit]],
  ['profit per bench hour', (r) => optional(r.perBenchHour)],
  ['profit per person hour', (r) => optional(r.perPersonHour)],
];
const optional = (whole: number | undefined): string => (whole === undefined ? '' : moneyText(whole));

/** @returns RFC 4180 text; one line a proven variant, one column a quantity break that any of them has */
export function priceCsv(list: PriceList): string {
  const breaks = breaksOf(list.rows);
  return writeCsv(
    [...COLUMNS.map(([name]) => name), ...breaks.map((q) => `price at ${q}`)],
    list.rows.map((r) => [
      ...COLUMNS.map(([, of]) => of(r)),
      ...breaks.map((q) => optional(r.breaks.find((c) => c.quantity === q)?.unit)),
    ]),
  );
}
