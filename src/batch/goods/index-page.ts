/** What a person opens first: what was made, what was refused and why, what it comes to, and where everything lies. */
import { moneyText } from '../../cam/price/exact.ts';
import { safe } from '../../cam/sheet/html.ts';
import type { MadeVariant } from '../line.ts';
import type { PriceList, PriceRow } from '../price-list.ts';
import { smallDrawing } from './drawing.ts';
import { type Cell, grid, page, right } from './page.ts';
import { counted, hoursText } from './words.ts';

/** Another file of the folder. */
export interface Door {
  readonly file: string;
  readonly label: string;
}

/** Reasons told of one refused variant; its report has all of them. */
const TOLD = 4;

/** Why a variant was not handed over, one sentence each. */
export function reasonsOf(made: MadeVariant): string[] {
  const problems = made.problems
    .filter((p) => p.severity === 'refuse')
    .map((p) => `${p.path ? `${p.path}: ` : ''}${p.message}${p.allowed ? ` (${p.allowed})` : ''}`);
  const findings = (made.report?.proof.findings ?? [])
    .filter((f) => f.severity === 'refuse')
    .map((f) => `${f.file}${f.line ? `, line ${f.line}` : ''}: ${f.message}`);
  const all = [...problems, ...findings];
  return all.length > TOLD ? [...all.slice(0, TOLD), `and ${counted(all.length - TOLD, 'more reason')}`] : all;
}

/** @param doors what else lies in the folder @param wanted variants that the table asks for, where a run was stopped before its end */
export function indexHtml(
  title: string,
  line: readonly MadeVariant[],
  list: PriceList,
  doors: readonly Door[],
  wanted = line.length,
): string {
  const priced = new Map(list.rows.map((r) => [r.variant.slug, r]));
  const proven = line.filter((m) => m.verdict === 'proven');
  const refused = line.filter((m) => m.verdict !== 'proven');
  const pieces = list.totals.reduce((s, t) => s + t.pieces, 0);
  const facts = [
    [String(proven.length), `of ${counted(wanted, 'variant')} proven`],
    ...(refused.length ? [[String(refused.length), 'refused']] : []),
    ...(line.length < wanted ? [[String(wanted - line.length), 'not made yet']] : []),
    [String(pieces), pieces === 1 ? 'piece' : 'pieces'],
    [hoursText(list.totals.reduce((s, t) => s + t.bench_s, 0)), 'of the bench, spoiled pieces counted in'],
    [hoursText(list.totals.reduce((s, t) => s + t.person_s, 0)), 'by hand, spoiled pieces and setting up counted in'],
    ...list.totals.flatMap((t) => [
      [moneyText(t.price), `${safe(t.currency)}, the price of all before taxes`],
      [moneyText(t.profit), `${safe(t.currency)} of it margin`],
    ]),
  ];
  return page(
    title,
    `<header><h1>${safe(title)}</h1>
<p><span class="state${refused.length ? ' no' : ''}">${
      refused.length
        ? `${counted(refused.length, 'variant')} refused: no program of ${refused.length === 1 ? 'it' : 'them'} is in this folder`
        : line.length
          ? 'Proven: every program of every variant'
          : 'Nothing made yet'
    }</span></p>
<ul class="facts">${facts.map(([value, words]) => `<li><b>${value}</b><span>${words}</span></li>`).join('')}</ul></header>
<ul class="doors">${doors.map((d) => `<li><a href="${safe(d.file)}">${safe(d.label)}</a></li>`).join('')}</ul>
${refused.length ? `<section><h2>Refused</h2>${refusedTable(refused)}</section>` : ''}
${proven.length ? `<section><h2>Proven</h2>${provenTable(proven, priced)}</section>` : ''}
<footer>Read the setup sheet before every job, run every program in air above the work first, a hand on the stop. Times are estimates; prices are before taxes.</footer>`,
  );
}

const refusedTable = (refused: readonly MadeVariant[]): string =>
  grid(
    ['', 'variant', right('row'), 'why'],
    refused.map((m) => [
      smallDrawing(m.silhouette),
      safe(m.variant.name),
      right(String(m.variant.row)),
      reasonsOf(m).map(safe).join('<br>') || 'no reason was told',
    ]),
  );

const provenTable = (proven: readonly MadeVariant[], priced: ReadonlyMap<string, PriceRow>): string =>
  grid(
    ['', 'variant', right('pieces'), right('each takes'), right('price each'), 'programs, in order'],
    proven.map(({ variant, report, silhouette }): Cell[] => {
      const row = priced.get(variant.slug);
      const link = (file: string, words: string) => `<a href="${variant.slug}/${safe(file)}">${safe(words)}</a>`;
      const files = [...new Set(report?.programs.map((p) => p.file) ?? [])];
      return [
        smallDrawing(silhouette),
        link(`${variant.slug}.sheet.html`, variant.name),
        right(String(variant.quantity)),
        right(hoursText(report?.time.total_s ?? 0)),
        right(row ? `${moneyText(row.cost.unit)} ${safe(row.currency)}` : ''),
        files.map((f) => link(f, f)).join('<br>'),
      ];
    }),
  );
