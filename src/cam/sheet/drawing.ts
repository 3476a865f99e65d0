/** Drawings of the stock: its end with the lines that cross in the centre, and how it lies in the machine. Lengths of paper in mm. */
import { TURN } from '../../../shared/units.ts';
import { type Blank, blankRadius, innerRadius, outerRadius } from '../blank.ts';
import type { Job } from '../job.ts';
import { cornersOf } from '../work.ts';
import { type LengthText, plain } from './html.ts';
import { ACT, at, dimension, INK, line, svg, words } from './ink.ts';

/** Lines on the stock's end that cross in its centre: diagonals; of an odd polygon corner to the middle of a flat. */
function centreLines(blank: Blank): [number, number][] {
  if (blank.section === 'round') return [];
  const corners = cornersOf(blank);
  return corners
    .map((t) => [t, t + TURN / 2] as [number, number])
    .slice(0, corners.length % 2 ? undefined : corners.length / 2);
}

/**
 * Outline of the stock's end as seen from the tailstock, looking toward the chuck: +y of the part frame lies on the right.
 * @param cx @param cy place of the centre on paper @param k paper mm for one mm
 */
export function endOutline(blank: Blank, cx: number, cy: number, k: number): string {
  const point = (t: number) =>
    at(cx - k * blankRadius(blank, t) * Math.sin(t), cy - k * blankRadius(blank, t) * Math.cos(t));
  const angles = cornersOf(blank)
    .concat(blank.section === 'round' ? Array.from({ length: 120 }, (_, i) => (i * TURN) / 120) : [])
    .sort((a, b) => a - b);
  return `<polygon points="${angles.map(point).join(' ')}" fill="var(--wood)" ${INK} stroke-width="0.5"/>`;
}

/** The end of the stock: diagonals, centre, the form's largest circle, sizes. */
export function endView(job: Job, len: LengthText): string {
  const { blank, field } = job;
  const outer = outerRadius(blank);
  const [cx, cy, k] = [21, 15.5, 14.5 / outer];
  const place = (t: number): [number, number] => {
    const r = k * blankRadius(blank, t);
    return [cx - r * Math.sin(t), cy - r * Math.cos(t)];
  };
  const crossing = centreLines(blank)
    .map(([a, b]) => line(...place(a), ...place(b), `${ACT} stroke-width="0.4" stroke-dasharray="2 1"`))
    .join('');
  const round = k * Math.min(field.maxRadius, innerRadius(blank));
  return svg(
    42,
    39,
    'End of the stock: the lines cross in its centre',
    `${endOutline(blank, cx, cy, k)}<circle cx="${cx}" cy="${cy}" r="${plain(round, 2)}" fill="none" ${INK} stroke-width="0.25"/>
${blank.bore ? `<circle cx="${cx}" cy="${cy}" r="${plain((k * blank.bore) / 2, 2)}" fill="var(--paper)" ${INK} stroke-width="0.4"/>` : crossing}${line(cx - 3, cy, cx + 3, cy, `${ACT} stroke-width="0.6"`)}${line(cx, cy - 3, cx, cy + 3, `${ACT} stroke-width="0.6"`)}
${words(cx, 33.5, sizeText(blank, len))}${blank.section === 'round' ? '' : words(cx, 38, `${len(2 * outer)} across corners`)}`,
  );
}

/** `45 × 45 mm square`, the way a person asks for stock. */
export function sizeText(blank: Blank, len: LengthText): string {
  if (blank.section === 'round') return `round, ${len(blank.width)}`;
  if (blank.section === 'polygon') return `${blank.sides} flats, ${len(blank.width)}`;
  if (blank.section === 'square') return `square, ${len(blank.width)}`;
  return `${len(blank.width)} × ${len(blank.height)} high`;
}

/** Stock, form, jaws and centre from the side, chuck on the left; x to scale, a slender part drawn thicker than it is. */
export function sideView(job: Job, len: LengthText, axial: string): string {
  const { blank, field, holding } = job;
  const outer = outerRadius(blank);
  const whole = blank.to - blank.from;
  const k = 146 / whole;
  const X = (x: number) => 22 + k * (x - blank.from);
  // A long thin part would be a hair: its thickness is drawn up to four times as large as its length.
  const kr = Math.min(4 * k, 9 / outer);
  const half = kr * outer;
  const jaw = Math.max(half + 2.5, 7);
  const middle = jaw + 5.5;
  const face = X(-holding.chuckStub);
  const stations = Array.from({ length: 301 }, (_, i) => (field.length * i) / 300);
  const edge = (sign: number) =>
    stations.map((x) => at(X(x), middle + sign * kr * Math.min(outer, field.bounds(x, x)[1])));
  const below = middle + jaw + 1.8;
  const jaws = [-1, 1]
    .map((s) => {
      const y = s < 0 ? middle - jaw : middle + half;
      return `<rect x="${plain(X(blank.from), 2)}" y="${plain(y, 2)}" width="${plain(face - X(blank.from), 2)}" height="${plain(jaw - half, 2)}" fill="var(--metal)"/>`;
    })
    .join('');
  const tail = holding.tailstock
    ? `<path d="M${plain(X(blank.to) - 1.5, 2)} ${plain(middle, 2)} l7 -4 h6 v8 h-6 z" fill="var(--metal)"/>${words(X(blank.to) + 9, middle + 8.2, 'centre')}`
    : '';
  return svg(
    186,
    below + 10.8,
    'The stock in the machine, chuck on the left',
    `<rect x="8" y="${plain(middle - jaw, 2)}" width="${plain(X(blank.from) - 8, 2)}" height="${plain(2 * jaw, 2)}" fill="var(--metal)"/>${jaws}
<rect x="${plain(X(blank.from), 2)}" y="${plain(middle - half, 2)}" width="${plain(k * whole, 2)}" height="${plain(2 * half, 2)}" fill="var(--wood)" ${INK} stroke-width="0.4" stroke-dasharray="1.5 1"/>
<polygon points="${[...edge(-1), ...edge(1).reverse()].join(' ')}" fill="var(--paper)" ${INK} stroke-width="0.4"/>
${line(4, middle, X(blank.to) + 5, middle, 'stroke="var(--faint)" stroke-width="0.25" stroke-dasharray="5 1.5 1 1.5"')}
${tail}${line(X(0), 1, X(0), middle + jaw, `${ACT} stroke-width="0.7"`)}
${words(X(0) + 1.5, 3.6, `${axial}0: pencil line, the form’s face`, 'start', 'fill="var(--act)" font-weight="700"')}
${dimension(X(blank.from), face, below, `grip ${len(holding.chuckGrip)}`, 4)}
${dimension(X(0), X(field.length), below, `form ${len(field.length)}`)}
${dimension(X(blank.from), X(0), below + 5.6, `${len(holding.chuckGrip + holding.chuckStub)} from the end to the line`, 4)}
${dimension(X(field.length), X(blank.to), below + 5.6, `${len(holding.tailStub)} left over`, 186)}`,
  );
}
