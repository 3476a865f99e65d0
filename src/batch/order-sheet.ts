/** The run list and the cut list as tables and as one page to hang at the bench. */
import { plain, safe } from '../cam/sheet/html.ts';
import { writeCsv } from './csv.ts';
import { grid, page, right } from './goods/page.ts';
import { counted } from './goods/words.ts';
import type { RunList } from './order.ts';
import type { LineSticks } from './stick-line.ts';

const MINUTES_AN_HOUR = 60;

/** Clock from the day's start, e.g. `3:05`. */
const clock = (min: number): string => {
  const whole = Math.round(min);
  return `${Math.floor(whole / MINUTES_AN_HOUR)}:${String(whole % MINUTES_AN_HOUR).padStart(2, '0')}`;
};

/** @returns the run list as CSV, one row a mounting */
export function runListCsv(lists: readonly RunList[]): string {
  const header = [
    'bench',
    'day',
    'from_min',
    'to_min',
    'name',
    'number',
    'of',
    'pieces',
    'blank',
    'bits',
    'bit_changes',
    'set_jaws',
    'machine_min',
  ];
  const rows = lists.flatMap((list) =>
    list.lines.map((l) => [
      list.bench,
      l.day,
      tidy(l.from_min),
      tidy(l.to_min),
      l.run.name,
      l.number,
      l.run.quantity,
      l.run.pieces,
      l.run.blank,
      l.run.bits.join(' > '),
      l.bitChanges,
      l.jaws ? 'yes' : 'no',
      tidy(l.run.machine_min),
    ]),
  );
  return writeCsv(header, rows);
}

const tidy = (v: number): number => Number(v.toFixed(2));

/** @returns the cut list as CSV, one row a piece on a stick, from the chuck on */
export function cutListCsv({ sticks }: LineSticks): string {
  const header = [
    'stick',
    'times',
    'stock',
    'stock_mm',
    'stick_mm',
    'neck_mm',
    'place',
    'piece',
    'slug',
    'from_mm',
    'to_mm',
    'turned',
  ];
  const rows = sticks.flatMap((s) =>
    s.pieces.map((p, k) => [
      s.name,
      s.times,
      s.stock,
      tidy(s.stockLength),
      tidy(s.length),
      s.neck ? tidy(s.neck.diameter) : '',
      k + 1,
      p.name,
      p.slug,
      tidy(p.from),
      tidy(p.to),
      p.turned ? 'yes' : 'no',
    ]),
  );
  return writeCsv(header, rows);
}

/** @param title what the line is called @returns a whole page */
export function runListHtml(title: string, lists: readonly RunList[]): string {
  const body = lists.map((list) => {
    const days = list.days.map((d) => {
      const rows = list.lines
        .filter((l) => l.day === d.day)
        .map((l) => [
          right(`${clock(l.from_min)} to ${clock(l.to_min)}`),
          `${safe(l.run.name)}${l.run.quantity > 1 ? `, ${l.number} of ${l.run.quantity}` : ''}`,
          safe(l.run.blank) + (l.jaws ? ' <b>set jaws</b>' : ''),
          safe(l.run.bits.join(', ')),
          right(String(l.bitChanges)),
          right(plain(l.run.machine_min, 1)),
        ]);
      return `<h3>Day ${d.day}: ${clock(d.minutes)} hours, ${counted(d.sticks, 'mounting')}, ${counted(d.pieces, 'piece')}, ${counted(d.bitChanges, 'change of bit', 'changes of bit')}, jaws set ${d.jaws === 1 ? 'once' : `${d.jaws} times`}</h3>
${grid([right('time'), 'run', 'blank', 'bits', right('changes'), right('machine min')], rows)}`;
    });
    return `<h2>${safe(list.bench)}</h2>
<p>Changing bits and setting jaws takes ${plain(list.setup_min, 0)} min; no order of these runs takes less than ${plain(list.bound_min, 0)} min. Times count from the start of the day; machine hours ${clock(list.days.reduce((s, d) => s + d.machine_min, 0))}, for the pieces as ordered: what is spoiled comes on top.</p>
${days.join('\n')}`;
  });
  return page(`${title}: run list`, `<h1>${safe(title)}: run list</h1>\n${body.join('\n')}`);
}

/** @param title what the line is called @returns a whole page */
export function cutListHtml(title: string, line: LineSticks): string {
  const groups = !line.groups.length
    ? ''
    : grid(
        ['blank', right('stock m'), right('pieces m'), right('at least m'), 'is it the least'],
        line.groups.map((g) => [
          safe(g.blank),
          right(plain(g.stockLength / 1000, 3)),
          right(plain(g.pieceLength / 1000, 3)),
          right(plain(g.bound / 1000, 3)),
          g.optimal ? 'yes' : `within ${plain(100 * (g.bound > 0 ? g.stockLength / g.bound - 1 : 0), 2)} %`,
        ]),
      );
  const sticks = line.sticks.map(
    (s) => `<h2>${safe(s.name)}${s.times > 1 ? `, ${s.times} times` : ''}</h2>
<p>From ${safe(s.stock)} (${plain(s.stockLength, 1)} mm) saw ${plain(s.length, 1)} mm.${s.neck && s.pieces.length > 1 ? ` Necks of ${plain(s.neck.diameter, 1)} mm, ${plain(s.neck.width, 1)} mm wide, between the pieces.` : ''}</p>
${grid(
  [right('place'), 'piece', right('from mm'), right('to mm'), 'way round'],
  s.pieces.map((p, k) => [
    right(String(k + 1)),
    safe(p.name),
    right(plain(p.from, 1)),
    right(plain(p.to, 1)),
    p.turned ? 'turned end for end' : 'as drawn',
  ]),
)}`,
  );
  const left = line.left.length
    ? `<h2>Not cut</h2>${grid(
        ['variant', right('pieces'), 'why'],
        line.left.map((l) => [
          safe(l.slug),
          right(String(l.quantity)),
          safe(`${l.problem.message} (${l.problem.allowed ?? ''})`),
        ]),
      )}`
    : '';
  return page(`${title}: cut list`, `<h1>${safe(title)}: cut list</h1>\n${groups}\n${sticks.join('\n')}\n${left}`);
}
