/** The cut list and the run list of a line whose variants, and sticks if it has any, are made. */
import type { Report } from '../build/report.ts';
import { sectionSize } from '../resolve/blank.ts';
import type { MadeVariant, Variant } from './line.ts';
import { orderOfWork, type Run, type Shop } from './order.ts';
import { cutListCsv, cutListHtml, runListCsv, runListHtml } from './order-sheet.ts';
import type { LineStick, LineSticks } from './stick-line.ts';

const SECONDS_A_MINUTE = 60;

/** A stick as a row of the line, so that it is made, proven and kept as every variant is. @param row for messages */
export const stickVariant = (stick: LineStick, row: number): Variant => ({
  name: stick.name,
  slug: stick.slug,
  quantity: stick.times,
  row,
  knobs: {},
  part: stick.part,
});

/** Bit of each program, from the name of its file: `<slug>-<k>-<bit>.nc`. */
const bitsOf = (slug: string, report: Report): string[] =>
  report.programs.map((p) =>
    p.file
      .slice(slug.length + 1)
      .replace(/^\d+-/, '')
      .replace(/\.nc$/, ''),
  );

const blankOf = ({ blank }: Report): string =>
  `${blank.section} ${blank.width}${blank.section === 'rectangle' ? ` × ${blank.height}` : ''}`;

function runOf(made: MadeVariant, quantity: number, pieces: number): Run[] {
  const { variant, report, verdict } = made;
  if (verdict !== 'proven' || !report || quantity < 1) return [];
  const { bench } = variant.part;
  return [
    {
      id: variant.slug,
      name: variant.name,
      bench: typeof bench === 'string' ? bench : bench.id,
      blank: blankOf(report),
      bits: bitsOf(variant.slug, report),
      machine_min: report.time.total_s / SECONDS_A_MINUTE,
      quantity,
      pieces,
    },
  ];
}

/** @param title of the line @param made its variants @param sticks its sticks with what was made of each; left out, every piece has its own blank */
export function orderFiles(
  title: string,
  made: readonly MadeVariant[],
  sticks?: { readonly line: LineSticks; readonly made: readonly MadeVariant[] },
  shop?: Shop,
): Map<string, string> {
  const runs = sticks
    ? sticks.made.flatMap((m) => {
        const stick = sticks.line.sticks.find((s) => s.slug === m.variant.slug);
        return stick ? runOf(m, stick.times, stick.pieces.length) : [];
      })
    : made.flatMap((m) => runOf(m, m.variant.quantity, 1));
  const lists = orderOfWork(runs, shop);
  const cut = sticks?.line ?? { sticks: made.flatMap(single), groups: [], left: [] };
  return new Map([
    ['cut-list.csv', cutListCsv(cut)],
    ['cut-list.html', cutListHtml(title, cut)],
    ['run-list.csv', runListCsv(lists)],
    ['run-list.html', runListHtml(title, lists)],
  ]);
}

/** A piece on a blank of its own. */
function single({ variant, report, verdict }: MadeVariant): LineStick[] {
  if (verdict !== 'proven' || !report) return [];
  const length = report.blank.to - report.blank.from;
  const { section, width, height } = sectionSize(variant.part.blank, report.part.maxRadius);
  return [
    {
      name: variant.name,
      slug: variant.slug,
      part: variant.part,
      pieces: [{ name: variant.name, slug: variant.slug, from: 0, to: report.part.length, turned: false }],
      times: variant.quantity,
      stock: `${section} ${width}${section === 'rectangle' ? ` × ${height}` : ''}`,
      stockLength: length,
      length,
      area: report.blank.volume / length,
    },
  ];
}
