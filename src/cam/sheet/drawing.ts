/** Two drawings of the setup sheet: the stock's end with its centre, and the stock in the machine from the side. */
import { TURN } from '../../../shared/units.ts';
import { type Blank, blankRadius, innerRadius, outerRadius } from '../blank.ts';
import type { Job } from '../job.ts';
import { cornersOf } from '../work.ts';
import { type LengthText, plain, safe } from './html.ts';

const n = (v: number): string => plain(v, 2);
const INK = 'stroke="var(--ink)"';
const ACT = 'stroke="var(--act)"';

const line = (x1: number, y1: number, x2: number, y2: number, how: string) =>
  `<line x1="${n(x1)}" y1="${n(y1)}" x2="${n(x2)}" y2="${n(y2)}" ${how}/>`;
const words = (x: number, y: number, text: string, anchor = 'middle', extra = '') =>
  `<text x="${n(x)}" y="${n(y)}" text-anchor="${anchor}" ${extra}>${safe(text)}</text>`;

/** A length between two x, drawn at y with small end strokes. */
function measure(x1: number, x2: number, y: number, text: string): string {
  const stroke = 'stroke="var(--faint)" stroke-width="0.3"';
  return (
    line(x1, y, x2, y, stroke) +
    line(x1, y - 1.4, x1, y + 1.4, stroke) +
    line(x2, y - 1.4, x2, y + 1.4, stroke) +
    words((x1 + x2) / 2, y + 4.2, text)
  );
}

/** Lines on the stock's end that cross in its centre: diagonals; of an odd polygon corner to the middle of a flat. */
function centreLines(blank: Blank): [number, number][] {
  if (blank.section === 'round') return [];
  const corners = cornersOf(blank);
  return corners
    .map((t) => [t, t + TURN / 2] as [number, number])
    .slice(0, corners.length % 2 ? undefined : corners.length / 2);
}

/** The end of the stock as seen from the tailstock, the top of the machine up. */
export function endView(job: Job, len: LengthText): string {
  const { blank, field } = job;
  const outer = outerRadius(blank);
  const k = 22 / outer;
  // Seen from the tailstock, looking toward the chuck: +y of the part frame lies on the right.
  const at = (theta: number, r: number): [number, number] => [
    30 - k * r * Math.sin(theta),
    30 - k * r * Math.cos(theta),
  ];
  const angles = Array.from({ length: 361 }, (_, i) => (i * TURN) / 360)
    .concat(cornersOf(blank))
    .sort((a, b) => a - b);
  const outline = angles.map((t) => at(t, blankRadius(blank, t)).map(n).join(',')).join(' ');
  const crossing = centreLines(blank)
    .map(([a, b]) =>
      line(
        ...at(a, blankRadius(blank, a)),
        ...at(b, blankRadius(blank, b)),
        `${ACT} stroke-width="0.35" stroke-dasharray="2 1"`,
      ),
    )
    .join('');
  const thick = Math.min(field.maxRadius, outer);
  return `<svg viewBox="0 0 60 70" role="img" aria-label="End of the stock with its centre">
<polygon points="${outline}" fill="var(--wood)" ${INK} stroke-width="0.5"/>
<circle cx="30" cy="30" r="${n(k * Math.min(thick, innerRadius(blank)))}" fill="none" ${INK} stroke-width="0.25"/>
${crossing}
${line(27, 30, 33, 30, `${ACT} stroke-width="0.6"`)}${line(30, 27, 30, 33, `${ACT} stroke-width="0.6"`)}
<path d="M30 ${n(30 - k * blankRadius(blank, 0) - 1)} v-4 m-1.4 1.6 l1.4 -1.6 l1.4 1.6" fill="none" ${ACT} stroke-width="0.6"/>
${words(30, 64, sizeText(blank, len))}
${words(30, 69, `${len(2 * outer)} across the corners`, 'middle', 'fill-opacity="0.7"')}
</svg>`;
}

/** `45 × 45 mm square`, the way a person asks for stock. */
export function sizeText(blank: Blank, len: LengthText): string {
  if (blank.section === 'round') return `round, ${len(blank.width)}`;
  if (blank.section === 'polygon') return `${blank.sides} flats, ${len(blank.width)} across`;
  if (blank.section === 'square') return `square, ${len(blank.width)}`;
  return `${len(blank.width)} wide, ${len(blank.height)} high`;
}

/** Stock, form, jaws and centre from the side, chuck on the left; x to scale, radius to scale. */
export function sideView(job: Job, len: LengthText, axial: string): string {
  const { blank, field, holding } = job;
  const outer = outerRadius(blank);
  const whole = blank.to - blank.from;
  const k = 150 / whole;
  const X = (x: number) => 18 + k * (x - blank.from);
  // A long thin part would be a hair: its thickness is drawn up to four times as large as its length.
  const kr = Math.min(4 * k, 20 / outer);
  const face = -holding.chuckStub;
  const half = kr * outer;
  const jaw = Math.max(half + 4, 10);
  const middle = jaw + 10;
  const top: string[] = [];
  const bottom: string[] = [];
  const stations = 400;
  for (let i = 0; i <= stations; i++) {
    const x = (field.length * i) / stations;
    const r = kr * Math.min(outer, field.bounds(x, x)[1]);
    top.push(`${n(X(x))},${n(middle - r)}`);
    bottom.unshift(`${n(X(x))},${n(middle + r)}`);
  }
  const below = middle + Math.max(half, jaw) + 5;
  const tail = holding.tailstock
    ? `<path d="M${n(X(blank.to) - 2)} ${middle} l8 -4 h8 v8 h-8 z" fill="none" ${INK} stroke-width="0.5"/>`
    : '';
  return `<svg viewBox="0 0 190 ${n(below + 18)}" role="img" aria-label="The stock in the machine, chuck on the left">
<rect x="${n(X(blank.from) - 6)}" y="${n(middle - jaw)}" width="${n(X(face) - X(blank.from) + 6)}" height="${n(2 * jaw)}" fill="none" ${INK} stroke-width="0.5"/>
<rect x="${n(X(blank.from))}" y="${n(middle - half)}" width="${n(k * whole)}" height="${n(2 * half)}" fill="var(--wood)" fill-opacity="0.6" ${INK} stroke-width="0.4"/>
<polygon points="${[...top, ...bottom].join(' ')}" fill="var(--paper)" ${INK} stroke-width="0.4"/>
${line(X(blank.from) - 8, middle, X(blank.to) + 4, middle, 'stroke="var(--faint)" stroke-width="0.25" stroke-dasharray="5 1.5 1 1.5"')}
${tail}
${line(X(0), middle - half - 4, X(0), middle + half + 3, `${ACT} stroke-width="0.5"`)}
<path d="M${n(X(0))} ${n(middle - 2)} l2 2 l-2 2 l-2 -2 z" fill="var(--act)"/>
${words(X(0), middle - half - 5.5, `${axial}0`, 'middle', 'fill="var(--act)"')}
${measure(X(blank.from), X(face), below, len(holding.chuckGrip))}
${measure(X(0), X(field.length), below, len(field.length))}
${measure(X(blank.from), X(0), below + 9, len(holding.chuckGrip + holding.chuckStub))}
${measure(X(field.length), X(blank.to), below + 9, len(holding.tailStub))}
</svg>`;
}
