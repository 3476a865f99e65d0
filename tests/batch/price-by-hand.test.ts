/** The README's price of one piece: its sums are sums, and the program says the same of the template. */
import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { beforeAll, expect, test } from 'vitest';
import { type PriceRow, priceList } from '../../src/batch/price-list.ts';
import { build } from '../../src/build.ts';
import { moneyText } from '../../src/cam/price/exact.ts';
import { parsePart } from '../../src/part.ts';

const root = resolve(import.meta.dirname, '../..');
const told = readFileSync(resolve(root, 'README.md'), 'utf8').match(/<!-- price -->([\s\S]*?)<!-- \/price -->/)![1]!;
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
  const read = parsePart(readFileSync(resolve(root, 'templates/drawer-knob.part.json'), 'utf8'));
  if (!('part' in read)) throw new Error('the template is wrong');
  const built = await build(read.part, { solid: 'none' });
  const variant = { name: 'Drawer knob', slug: 'drawer-knob', quantity: 40, row: 2, knobs: {}, part: read.part };
  const { verdict, problems, report } = built;
  row = priceList([{ variant, verdict, problems, report: report!, silhouette: [], seconds: 0 }]).rows[0]!;
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
  // A better plan changes the times a little; more than this and the README wants a new table.
  const shown = fact('bench').split(' s at')[0]!.split(' + ').map(Number);
  expect(shown.length).toBe(row.report.programs.length);
  row.report.programs.forEach((p, i) => {
    expect(Math.abs(p.time_s / shown[i]! - 1), p.file).toBeLessThan(0.1);
  });
});

test('the program’s own lines are the README’s sums with its times put in', () => {
  const times = row.report.programs.map((p) => Math.round(p.time_s));
  const bench = times.reduce((a, b) => a + b, 0);
  const shown = fact('bench').split(' s at')[0]!.split(' + ').map(Number);
  const before = shown.reduce((a, b) => a + b, 0);
  let wear = lines.get('bit wear')!.how.split('=')[0]!;
  shown.forEach((t, i) => {
    wear = wear.replace(`${t} ×`, `${times[i]} ×`);
  });
  const sums: Record<string, string> = {
    material: lines.get('material')!.how.split('=')[0]!,
    bench: lines.get('bench')!.how.split('=')[0]!.replace(String(before), String(bench)),
    'bit wear': wear,
    hand: lines.get('hand')!.how.split('=')[0]!,
    'setting up': lines.get('setting up')!.how.split('=')[0]!,
  };
  const [material, machine, worn, hand, setup] = Object.values(sums).map((s) => toCent(reckon(s))) as string[];
  const { cost } = row;
  const is = (whole: number, text: string | undefined) => expect(moneyText(whole)).toBe(text);
  is(cost.material, material);
  is(cost.machine, machine);
  is(cost.wear, worn);
  is(cost.hand, hand);
  is(cost.setup, setup);
  const scrap = toCent(reckon(`(${material} + ${machine} + ${worn} + ${hand}) × 0.05 ÷ 0.95`));
  is(cost.scrap, scrap);
  const overhead = toCent(reckon(`(${material} + ${machine} + ${worn} + ${hand} + ${setup} + ${scrap}) × 0.15`));
  is(cost.overhead, overhead);
  const all = toCent(reckon(`${material} + ${machine} + ${worn} + ${hand} + ${setup} + ${scrap} + ${overhead}`));
  is(cost.cost, all);
  is(cost.unit, toCent(reckon(`${all} ÷ 0.70`)));
});
