/** Pen strokes of the setup sheet's drawings: SVG whose unit is one mm of paper, so that its type has the size of the text. */
import { plain, safe } from './html.ts';

export const INK = 'stroke="var(--ink)"';
export const ACT = 'stroke="var(--act)"';

/** A number short enough for a drawing. */
const n = (v: number): string => plain(v, 2);
/** `x,y` of a point. */
export const at = (x: number, y: number): string => `${n(x)},${n(y)}`;

/** @param width @param height of the drawing on paper, mm @param label what it shows, in words */
export const svg = (width: number, height: number, label: string, inside: string): string =>
  `<svg viewBox="0 0 ${n(width)} ${n(height)}" style="width:${n(width)}mm;height:${n(height)}mm" role="img" aria-label="${safe(label)}">${inside}</svg>`;

export const line = (x1: number, y1: number, x2: number, y2: number, how: string): string =>
  `<line x1="${n(x1)}" y1="${n(y1)}" x2="${n(x2)}" y2="${n(y2)}" ${how}/>`;

export const words = (x: number, y: number, text: string, anchor = 'middle', extra = ''): string =>
  `<text x="${n(x)}" y="${n(y)}" text-anchor="${anchor}" ${extra}>${safe(text)}</text>`;

/** Rough width of a text in a drawing, mm: enough to tell whether it fits between two strokes. */
const widthOf = (text: string): number => 1.95 * text.length;

/**
 * A length between two x, drawn at y with small end strokes and its text below, or beside it where it is too short for that.
 * @param edge paper x toward which a text that does not fit runs: from it, if it lies on the left, up to it on the right
 */
export function dimension(x1: number, x2: number, y: number, text: string, edge?: number): string {
  const stroke = 'stroke="var(--faint)" stroke-width="0.3"';
  const marks =
    line(x1, y, x2, y, stroke) + line(x1, y - 1.2, x1, y + 1.2, stroke) + line(x2, y - 1.2, x2, y + 1.2, stroke);
  if (edge === undefined || x2 - x1 > widthOf(text) + 2) return marks + words((x1 + x2) / 2, y + 4.4, text);
  return marks + (edge < x1 ? words(edge, y + 4.4, text, 'start') : words(edge, y + 4.4, text, 'end'));
}
