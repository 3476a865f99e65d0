/** Outlines as SVG paths, in pixels of the shared ruler. Pure. */
import type { PlacedElement } from '../../profiles/layout.ts';
import type { OutlineDrawing } from '../../profiles/sample.ts';

/** Where a radius stands in a lane: px = base − radius · perMm. */
export interface Upright {
  base: number;
  perMm: number;
}

const px = (v: number): string => v.toFixed(2);

/** An open line. @param x, r mm @param across mm along the axis → px */
export function linePath(
  x: ArrayLike<number>,
  r: ArrayLike<number>,
  across: (x: number) => number,
  up: Upright,
): string {
  let path = '';
  for (let i = 0; i < x.length; i++) path += `${i ? 'L' : 'M'}${px(across(x[i]!))} ${px(up.base - r[i]! * up.perMm)}`;
  return path;
}

/** The half outline: an open line over the positions x, closed along the axis. */
export function closedAlongAxis(line: string, x: Float64Array, across: (x: number) => number, up: Upright): string {
  if (!x.length) return '';
  return `${line}L${px(across(x.at(-1)!))} ${px(up.base)}L${px(across(x[0]!))} ${px(up.base)}Z`;
}

/** The half outline of a drawing. */
export const halfPath = (drawn: OutlineDrawing, across: (x: number) => number, up: Upright): string =>
  closedAlongAxis(linePath(drawn.x, drawn.most, across, up), drawn.x, across, up);

/** What carvings take below the outermost surface: a band between the two. Empty where the form is round. */
export function carvedPath(drawn: OutlineDrawing, across: (x: number) => number, up: Upright): string {
  let path = '';
  let i = 0;
  const { x, most, least } = drawn;
  const deep = (k: number) => most[k]! - least[k]! > 1e-6;
  while (i < x.length) {
    if (!deep(i)) {
      i++;
      continue;
    }
    const first = Math.max(0, i - 1);
    while (i < x.length && deep(i)) i++;
    const last = Math.min(x.length - 1, i);
    const at = Array.from({ length: last - first + 1 }, (_, k) => first + k);
    const upper = at.map((k) => `${px(across(x[k]!))} ${px(up.base - most[k]! * up.perMm)}`);
    const lower = at.reverse().map((k) => `${px(across(x[k]!))} ${px(up.base - least[k]! * up.perMm)}`);
    path += `M${[...upper, ...lower].join('L')}Z`;
  }
  return path;
}

/** Positions at which one element is sampled: its knots and an even few between them. */
export function stations({ outline, from, to }: PlacedElement, between: number): number[] {
  const stops = [0, ...outline.knots, to - from];
  const list: number[] = [];
  for (let i = 1; i < stops.length; i++)
    for (let k = 0; k < between; k++) {
      // Denser toward both ends, where quadrants stand steep.
      const t = (1 - Math.cos((Math.PI * k) / between)) / 2;
      list.push(stops[i - 1]! + (stops[i]! - stops[i - 1]!) * t);
    }
  return [...list, to - from];
}
