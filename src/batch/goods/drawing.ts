/** Drawings of a part: its silhouette with its measures on a ruler, and a small one for a table. */
import type { Job } from '../../cam/job.ts';
import { plain, safe } from '../../cam/sheet/html.ts';
import { outlineDrawing } from '../../profiles/sample.ts';
import { thickText } from './words.ts';

const n = (v: number): string => plain(v, 2);
const text = (x: number, y: number, words: string, anchor = 'middle', more = '') =>
  `<text x="${n(x)}" y="${n(y)}" text-anchor="${anchor}" ${more}>${safe(words)}</text>`;

/** Width of the drawing in its own units; a part fills it unless it is short and thick. */
const WIDE = 120;
const SIDE = 4;
const TALL = 34;
/** Widest step of the ruler's figures, so that they do not run into each other. */
const APART = 11;

/** Step of the ruler's figures: 1, 2 or 5 times a power of ten. @param perMm units of the drawing for a mm */
function stepOf(perMm: number): number {
  for (let power = 1; ; power *= 10) for (const k of [1, 2, 5]) if (k * power * perMm >= APART) return k * power;
}

/**
 * @param job of the part @param length how a length is written, from mm
 * @returns an SVG element: outline, thickest and thinnest place, overall length, ruler in mm from the chuck-end face
 */
export function measuredDrawing(
  { field, blank }: Pick<Job, 'field' | 'blank'>,
  length: (mm: number) => string,
): string {
  const k = Math.min((WIDE - 2 * SIDE) / field.length, TALL / 2 / field.maxRadius);
  const drawn = outlineDrawing(field, 0.08 / k);
  const left = (WIDE - k * field.length) / 2;
  const X = (x: number) => left + k * x;
  const thick = Math.max(...drawn.most);
  const thickAt = drawn.x[drawn.most.indexOf(thick)]!;
  const thin = Math.min(...drawn.least);
  const thinAt = drawn.x[drawn.least.indexOf(thin)]!;
  const middle = 6 + k * thick;
  const edge = (radii: Float64Array, sign: number) =>
    Array.from(drawn.x, (x, i) => `${n(X(x))},${n(middle + sign * k * radii[i]!)}`);
  const upper = edge(drawn.most, -1);
  const outline = [...upper, ...edge(drawn.most, 1).toReversed()].join(' ');
  const carved = drawn.most.some((r, i) => r - drawn.least[i]! > 1e-6);
  const ruler = middle + k * thick + 7;
  const step = stepOf(k);
  const ticks: string[] = [];
  for (let at = 0; at <= field.length + 1e-9; at += step / 5) {
    const big = Math.abs(at / step - Math.round(at / step)) < 1e-9;
    ticks.push(`M${n(X(at))} ${n(ruler)}v${big ? 2.2 : 1.1}`);
  }
  const figures = Array.from({ length: Math.floor(field.length / step + 1e-9) + 1 }, (_, i) => i * step);
  const whole = ruler + 11;
  // The word stands beside the end of its line, toward the middle of the drawing.
  const beside = (x: number): [number, string] => (X(x) > WIDE / 2 ? [-1.5, 'end'] : [1.5, 'start']);
  const [dThick, aThick] = beside(thickAt);
  const [dThin, aThin] = beside(thinAt);
  const soft = 'stroke="var(--faint)" stroke-width="0.25" fill="none"';
  return `<svg viewBox="0 0 ${WIDE} ${n(whole + 3)}" role="img" aria-label="Silhouette with measures">
<polygon points="${outline}" fill="var(--wood)" fill-opacity="0.6" stroke="var(--ink)" stroke-width="0.4" stroke-linejoin="round"/>
${
  carved
    ? `<polyline points="${edge(drawn.least, -1).join(' ')}" ${soft}/><polyline points="${edge(drawn.least, 1).join(' ')}" ${soft}/>`
    : ''
}
<path d="M${n(left - 3)} ${n(middle)}H${n(X(field.length) + 3)}" ${soft} stroke-dasharray="5 1.5 1 1.5"/>
<path d="M${n(X(thickAt))} ${n(middle - k * thick)}V3.5M${n(X(thinAt))} ${n(middle + k * thin)}V${n(ruler - 3.2)}" ${soft}/>
${text(X(thickAt) + dThick, 4.6, thickText(blank, field.maxRadius, length), aThick)}
${text(X(thinAt) + dThin, ruler - 3, `ø ${length(2 * field.minRadius)}`, aThin)}
<path d="M${n(left)} ${n(ruler)}H${n(X(field.length))}${ticks.join('')}" ${soft}/>
${figures.map((at) => text(X(at), ruler + 5.4, String(at), 'middle', 'fill-opacity="0.75"')).join('')}
<path d="M${n(left)} ${n(whole - 2)}V${n(whole + 2)}M${n(X(field.length))} ${n(whole - 2)}V${n(whole + 2)}M${n(left)} ${n(whole)}H${n(WIDE / 2 - 12)}M${n(WIDE / 2 + 12)} ${n(whole)}H${n(X(field.length))}" stroke="var(--act)" stroke-width="0.35" fill="none"/>
${text(WIDE / 2, whole + 1.2, length(field.length))}
</svg>`;
}

/** Points of a silhouette in a box of 68 × 18. @param silhouette x and radius, mm, ascending @returns for a polygon; empty where there is no form */
export function smallOutline(silhouette: readonly (readonly [number, number])[]): string {
  if (silhouette.length < 2) return '';
  const [from, to] = [silhouette[0]![0], silhouette.at(-1)![0]];
  const thick = Math.max(...silhouette.map(([, r]) => r));
  const k = Math.min(66 / Math.max(to - from, 1e-9), 16 / (2 * thick));
  const left = (68 - k * (to - from)) / 2;
  const edge = (sign: number) => silhouette.map(([x, r]) => `${n(left + k * (x - from))},${n(9 + sign * k * r)}`);
  return [...edge(-1), ...edge(1).toReversed()].join(' ');
}

/** A small SVG element of it; empty where there is no form. */
export function smallDrawing(silhouette: readonly (readonly [number, number])[]): string {
  const points = smallOutline(silhouette);
  return points
    ? `<svg class="small" viewBox="0 0 68 18" role="img" aria-label="Silhouette"><polygon points="${points}" fill="var(--wood)" stroke="var(--ink)" stroke-width="0.5" stroke-linejoin="round"/></svg>`
    : '';
}
