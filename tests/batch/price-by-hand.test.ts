/** The README's price of one piece: its sums are sums, and the program says the same of the template. */
import { beforeAll, expect, test } from 'vitest';
import type { PriceRow } from '../../src/batch/price-list.ts';
import { moneyText } from '../../src/cam/price/exact.ts';
import { written } from '../worked.ts';
import { pricedKnob, priceTable } from '../worked-price.ts';

const told = written('price');
const cells = told
  .split('\n')
  .filter((l) => l.startsWith('|'))
  .map((l) =>
    l
      .split('|')
      .map((c) => c.trim())
      .slice(1, -1),
  );
const fact = (name: string) => cells.find((c) => c.length === 2 && c[0] === name)![1]!;
const lines = new Map(
  cells.filter((c) => c.length === 3).map(([name, how, units]) => [name!, { how: how!, units: units! }]),
);

/** A sum with + − × ÷ and brackets, by the rules of school. */
function reckon(text: string): number {
  const tokens = text.match(/\d+(?:\.\d+)?|[+−×÷()]/g)!;
  let at = 0;
  const factor = (): number => {
    const t = tokens[at++]!;
    if (t !== '(') return Number(t);
    const inner = sum();
    at++;
    return inner;
  };
  const product = (): number => {
    let value = factor();
    while (tokens[at] === '×' || tokens[at] === '÷') value = tokens[at++] === '×' ? value * factor() : value / factor();
    return value;
  };
  const sum = (): number => {
    let value = product();
    while (tokens[at] === '+' || tokens[at] === '−')
      value = tokens[at++] === '+' ? value + product() : value - product();
    return value;
  };
  const value = sum();
  if (at !== tokens.length) throw new Error(`${text}: stopped at ${tokens[at]}`);
  return value;
}
/** To a cent, a half upward; a hair makes up for binary decimals of the test's own arithmetic. */
const toCent = (value: number) => (Math.floor(value * 100 + 0.5 + 1e-7) / 100).toFixed(2);

const NAMES = ['material', 'bench', 'bit wear', 'hand', 'setting up', 'scrap', 'overhead'] as const;

test.each([...NAMES, 'price', 'margin'])('README: %s is what its own sum comes to', (name) => {
  const { how, units } = lines.get(name)!;
  const [expression, shown] = how.split('=').map((t) => t.trim());
  const value = reckon(expression!);
  if (shown)
    expect(Math.abs(value - Number(shown)), how).toBeLessThan(0.5 * 10 ** -(shown.split('.')[1]?.length ?? 0) + 1e-9);
  expect(toCent(value)).toBe(units);
});

test('README: cost is the sum of the lines above it, and each sum uses the lines as they were rounded', () => {
  const cent = (name: string) => Math.round(100 * Number(lines.get(name)!.units));
  expect(NAMES.reduce((s, n) => s + cent(n), 0)).toBe(cent('cost'));
  expect(cent('cost') + cent('margin')).toBe(cent('price'));
  const rounded = (names: readonly string[]) => names.map((n) => lines.get(n)!.units).join(' + ');
  expect(lines.get('scrap')!.how).toContain(`(${rounded(NAMES.slice(0, 4))})`);
  expect(lines.get('overhead')!.how).toContain(`(${rounded(NAMES.slice(0, 6))})`);
});

let row: PriceRow;
beforeAll(async () => {
  row = await pricedKnob();
});

test('README: the table is what a build says, to the letter (npm run worked)', () => {
  expect(told).toBe(priceTable(row));
});

test('README: stock, surface, rates and bits are those of the template and the catalogs', () => {
  const { piece, job } = row;
  expect(fact('stock')).toBe(
    `${Math.round(piece.stock)} mm³ of black walnut at ${piece.materialPrice.toFixed(2)} a litre, waste 0.15`,
  );
  expect(fact('surface')).toBe(`${Math.round(piece.surface)} mm²`);
  expect(fact('bench')).toMatch(new RegExp(`s at ${job.bench.hourlyRate.toFixed(2)} an hour$`));
  const bits = fact('bits').split(' · ');
  row.report.programs.forEach((p, i) => {
    expect(bits[i]).toContain(`${p.bit.kind} ${p.bit.diameter} mm`);
    const { price, life_h } = piece.work[i]!.bit;
    if (!bits[i]!.includes('again')) expect(bits[i]).toContain(`${price!.toFixed(2)}, lasts ${life_h} h`);
  });
  const { price } = row.variant.part;
  expect(fact('hands')).toBe(
    `${price.labourRate.toFixed(2)} an hour; ${price.hand_min} min a piece, ${price.finish_min_dm2} min a dm², setting up ${price.setup_min} min for 40 pieces`,
  );
  expect(fact('shares')).toBe(
    `scrap ${price.scrap.toFixed(2)}, overhead ${price.overhead.toFixed(2)}, margin ${price.margin.toFixed(2)}`,
  );
  const shown = fact('bench').split(' s at')[0]!.split(' + ').map(Number);
  expect(shown).toEqual(row.report.programs.map((p) => Math.round(p.time_s)));
});

test('the program’s own lines are what the README’s sums come to', () => {
  const { cost } = row;
  const { material, machine, wear, hand, setup, scrap, overhead, unit } = cost;
  [material, machine, wear, hand, setup, scrap, overhead].forEach((whole, i) => {
    expect(moneyText(whole), NAMES[i]).toBe(toCent(reckon(lines.get(NAMES[i]!)!.how.split('=')[0]!)));
  });
  expect(moneyText(unit)).toBe(toCent(reckon(lines.get('price')!.how.split('=')[0]!)));
});
