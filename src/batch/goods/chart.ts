/** Variants compared: price against hours, the disc's area the margin; rays of the same price an hour lie behind them. */

import { TURN } from '../../../shared/units.ts';
import { moneyText } from '../../cam/price/exact.ts';
import { plain, safe } from '../../cam/sheet/html.ts';
import type { PriceRow } from '../price-list.ts';

const n = (v: number): string => plain(v, 2);
const W = 178;
const H = 104;
const BOX = { left: 17, right: 22, top: 10, bottom: 15 } as const;
const LARGEST = 6.5;
const SMALLEST = 1.6;

/** Round steps, four to eight of them, from at or below the smallest value to at or above the largest; from 0 unless the values lie close together. */
export function stepsOver(values: readonly number[]): number[] {
  const high = Math.max(...values, 0);
  const low = Math.min(...values) > high / 2 ? Math.min(...values) : 0;
  if (!(high > 0)) return [0, 1];
  const rough = Math.max(high - low, high / 20) / 5;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 2.5, 5, 10].map((k) => k * power).find((s) => s >= rough * (1 - 1e-9))!;
  const first = Math.floor(low / step + 1e-9);
  const last = Math.max(first + 1, Math.ceil(high / step - 1e-9));
  return Array.from({ length: last - first + 1 }, (_, i) => (first + i) * step);
}

/** @param rows of one currency; each gets its number in the list @returns an SVG element */
export function compareChart(rows: readonly PriceRow[]): string {
  const at = rows.map((r) => ({
    hours: (r.cost.bench_s + r.cost.person_s) / 3600,
    price: r.cost.unit / 100,
    margin: r.cost.profit / 100,
  }));
  const xs = stepsOver(at.map((p) => p.hours));
  const ys = stepsOver(at.map((p) => p.price));
  const ends: Ends = { h: [xs[0]!, xs.at(-1)!], p: [ys[0]!, ys.at(-1)!] };
  const [x1, y1] = [W - BOX.right, H - BOX.bottom];
  const X = (h: number) => BOX.left + ((h - ends.h[0]) / (ends.h[1] - ends.h[0])) * (x1 - BOX.left);
  const Y = (p: number) => y1 - ((p - ends.p[0]) / (ends.p[1] - ends.p[0])) * (y1 - BOX.top);
  const most = Math.max(...at.map((p) => p.margin), 0.01);
  const radius = (m: number) => Math.max(SMALLEST, LARGEST * Math.sqrt(Math.max(0, m) / most));
  const word = (x: number, y: number, t: string, anchor = 'middle', more = '') =>
    `<text x="${n(x)}" y="${n(y)}" text-anchor="${anchor}" ${more}>${safe(t)}</text>`;
  // Large discs first, so that small ones lie on top; numbers above them all.
  const order = at.map((_, i) => i).sort((a, b) => at[b]!.margin - at[a]!.margin || a - b);
  const numbers = apart(at.map((p) => [X(p.hours), Y(p.price)]));
  const currency = rows[0]!.currency;
  const soft = 'fill-opacity="0.75"';
  return `<svg viewBox="0 0 ${W} ${H}" role="img" aria-label="Price against hours; the disc’s area is the margin">
<path d="${ys.map((p) => `M${BOX.left} ${n(Y(p))}H${x1}`).join('')}${xs.map((h) => `M${n(X(h))} ${BOX.top}V${y1}`).join('')}" stroke="var(--line)" stroke-width="0.25" fill="none"/>
${xs.map((h) => word(X(h), y1 + 4.6, plain(h, 3))).join('')}${ys.map((p) => word(BOX.left - 1.6, Y(p) + 1.2, plain(p, 3), 'end')).join('')}
${word((x1 + BOX.left) / 2, y1 + 10.4, 'hours for one piece: bench and hands together', 'middle', soft)}
${word(0, 3.2, `price of one piece, ${currency}`, 'start', soft)}
${raysOf(ends)
  .map(({ rate, from, to }) => {
    const [x, y] = [X(to[0]), Y(to[1])];
    const up = y < BOX.top + 1e-6;
    return `<path d="M${n(X(from[0]))} ${n(Y(from[1]))}L${n(x)} ${n(y)}" stroke="var(--faint)" stroke-width="0.2" stroke-dasharray="0.8 1.4"/>${word(up ? x : x1 + 1.5, up ? BOX.top - 1.4 : y + 1.1, `${plain(rate, 2)} an hour`, up ? 'middle' : 'start', soft)}`;
  })
  .join('')}
${order
  .map((i) => {
    const p = at[i]!;
    return `<circle cx="${n(X(p.hours))}" cy="${n(Y(p.price))}" r="${n(radius(p.margin))}" fill="var(--act)" fill-opacity="0.35" stroke="var(--act)" stroke-width="0.4"><title>${safe(rows[i]!.variant.name)}: ${moneyText(rows[i]!.cost.unit)} ${safe(currency)}, ${plain(p.hours, 2)} h, margin ${moneyText(rows[i]!.cost.profit)}</title></circle>`;
  })
  .join('\n')}
${numbers.map(([x, y], i) => word(x, y + 1.1, String(i + 1), 'middle', 'font-weight="600"')).join('')}
</svg>`;
}

/** How near two numbers may stand, in the chart's units. */
const NEAR_X = 4.4;
const NEAR_Y = 3.2;
/** Where a number goes that finds its place taken: ever wider round it. */
const AROUND = [0, 4.6, 6.5, 8.4, 10.3, 12.2].flatMap((r) =>
  Array.from({ length: r ? 12 : 1 }, (_, k) => [r * Math.cos((k * TURN) / 12), r * Math.sin((k * TURN) / 12)] as const),
);

/** Moves numbers off each other, the earlier keep their places. */
function apart(wanted: readonly (readonly [number, number])[]): [number, number][] {
  const placed: [number, number][] = [];
  for (const [x, y] of wanted) {
    const free = AROUND.map(([dx, dy]): [number, number] => [x + dx, y + dy]).find((p) =>
      placed.every((q) => Math.abs(p[0] - q[0]) >= NEAR_X || Math.abs(p[1] - q[1]) >= NEAR_Y),
    );
    placed.push(free ?? [x, y]);
  }
  return placed;
}

interface Ends {
  h: readonly [number, number];
  p: readonly [number, number];
}

/** Round prices an hour whose lines cross the chart: where each comes in and where it leaves. */
function raysOf({ h, p }: Ends): { rate: number; from: [number, number]; to: [number, number] }[] {
  const diagonal = p[1] / h[1];
  const power = 10 ** Math.floor(Math.log10(diagonal));
  return [0.1, 0.2, 0.5, 1, 2, 5, 10, 20]
    .map((k) => k * power)
    .filter((rate) => rate > diagonal / 3 && rate < diagonal * 3)
    .flatMap((rate) => {
      const first = Math.max(h[0], p[0] / rate);
      const last = Math.min(h[1], p[1] / rate);
      return last > first
        ? [{ rate, from: [first, first * rate] as [number, number], to: [last, last * rate] as [number, number] }]
        : [];
    });
}
