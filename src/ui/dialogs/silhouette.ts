/** The outline of an old part from its photograph: where, on either side of its axis, the part ends and the ground begins. Pure. */
import type { Photo } from './photo.ts';
import type { Reading } from './readings.ts';

/** RGBA, row by row from the top. */
export interface Pixels {
  data: ArrayLike<number>;
  width: number;
  height: number;
}

type Marks = Pick<Photo, 'a' | 'b'>;

/** The two edges at one place of the axis, mm along the form and mm away from the axis. */
export interface Edges {
  x: number;
  above: number;
  below: number;
}

/** Stations along the axis at the most, and px between two at the least. */
const STATIONS = 600;
const STEP_PX = 1.5;
/** A gap in the part narrower than this is a gleam, not its edge, px. */
const GLEAM_PX = 4;
/** Grey levels that are told apart. */
const LEVELS = 256;

/** The axis in the picture: where a place of the form lies. */
function axisOf({ a, b }: Marks) {
  const [dx, dy] = [b.px - a.px, b.py - a.py];
  const long = Math.hypot(dx, dy);
  const perMm = long / Math.abs(b.x - a.x);
  const sign = b.x >= a.x ? 1 : -1;
  const [ux, uy] = [dx / long, dy / long];
  return {
    perMm,
    /** @param x mm along the form @param away px from the axis, upward in a picture that lies straight */
    at: (x: number, away: number): [number, number] => {
      const along = sign * (x - a.x) * perMm;
      return [a.px + ux * along + uy * away, a.py + uy * along - ux * away];
    },
  };
}

/** Colour between the pixels around a place; undefined outside the picture. */
function colourAt({ data, width, height }: Pixels, px: number, py: number): [number, number, number] | undefined {
  const [x, y] = [px - 0.5, py - 0.5];
  const [i, j] = [Math.floor(x), Math.floor(y)];
  if (i < 0 || j < 0 || i + 1 >= width || j + 1 >= height) return undefined;
  const [s, t] = [x - i, y - j];
  const mixed = (c: number) => {
    const p = (k: number, l: number) => data[4 * (l * width + k) + c]!;
    return (p(i, j) * (1 - s) + p(i + 1, j) * s) * (1 - t) + (p(i, j + 1) * (1 - s) + p(i + 1, j + 1) * s) * t;
  };
  return [mixed(0), mixed(1), mixed(2)];
}

const median = (list: number[]): number => list.sort((a, b) => a - b)[list.length >> 1] ?? 0;

/** The level that parts two heaps of values best: the greatest variance between them (Otsu, A threshold selection method, 1979). */
export function partingLevel(values: readonly number[]): number {
  const most = values.reduce((m, v) => Math.max(m, v), 0);
  const counts = new Float64Array(LEVELS);
  for (const v of values) counts[Math.min(LEVELS - 1, Math.floor((v / (most || 1)) * LEVELS))]!++;
  const total = values.length;
  const sum = counts.reduce((s, n, k) => s + n * k, 0);
  let [below, belowSum, best, first, last] = [0, 0, -1, 0, 0];
  for (let k = 0; k < LEVELS; k++) {
    below += counts[k]!;
    belowSum += counts[k]! * k;
    if (!below || below === total) continue;
    const apart = belowSum / below - (sum - belowSum) / (total - below);
    const between = below * (total - below) * apart * apart;
    // Between two heaps every level parts them alike: the middle of those is the fairest.
    if (between > best * (1 + 1e-9)) [best, first, last] = [between, k, k];
    else if (between >= best * (1 - 1e-9)) last = k;
  }
  return ((first + last) / 2 + 1) * ((most || 1) / LEVELS);
}

/**
 * Finds the part's edges between the two marks, which lie inside it on its axis.
 * @returns stations from the chuck end on; those where the part reaches the border of the picture are left out
 */
export function edgesOf(pixels: Pixels, marks: Marks): Edges[] {
  const { perMm, at } = axisOf(marks);
  const [from, to] = [Math.min(marks.a.x, marks.b.x), Math.max(marks.a.x, marks.b.x)];
  const count = Math.max(2, Math.min(STATIONS, Math.floor(((to - from) * perMm) / STEP_PX)));
  // The end faces themselves are half ground: look a pixel inside.
  const inside = Math.min((to - from) / 4, 1 / perMm);
  const xs = Array.from({ length: count }, (_, i) => from + inside + ((to - from - 2 * inside) * i) / (count - 1));
  const reach = Math.hypot(pixels.width, pixels.height);
  const line = (x: number, side: 1 | -1) => {
    const list: [number, number, number][] = [];
    for (let away = 0; away < reach; away++) {
      const colour = colourAt(pixels, ...at(x, side * away));
      if (!colour) break;
      list.push(colour);
    }
    return list;
  };
  const lines = xs.map((x) => ({ x, up: line(x, 1), down: line(x, -1) }));
  const outermost = lines.flatMap(({ up, down }) => [...up.slice(-3), ...down.slice(-3)]);
  const ground = [0, 1, 2].map((c) => median(outermost.map((colour) => colour[c]!)));
  const away = (colour: readonly number[]) =>
    Math.hypot(colour[0]! - ground[0]!, colour[1]! - ground[1]!, colour[2]! - ground[2]!);
  const strides = lines.filter((_, i) => i % 4 === 0).flatMap(({ up, down }) => [...up, ...down].map(away));
  const level = partingLevel(strides);
  /** px from the axis to where the part ends, between the last pixel in it and the first outside. */
  const edge = (list: readonly (readonly number[])[]): number | undefined => {
    let outside = 0;
    for (let k = 0; k < list.length; k++) {
      outside = away(list[k]!) < level ? outside + 1 : 0;
      if (outside <= GLEAM_PX) continue;
      const first = k - outside + 1;
      if (first === 0) return 0;
      const [inner, outer] = [away(list[first - 1]!), away(list[first]!)];
      return first - 1 + (inner - level) / (inner - outer);
    }
    return undefined;
  };
  return lines.flatMap(({ x, up, down }) => {
    const [above, below] = [edge(up), edge(down)];
    return above === undefined || below === undefined || above + below <= 0
      ? []
      : [{ x, above: above / perMm, below: below / perMm }];
  });
}

/** Marks moved across the axis so that the part lies evenly on both sides: a straight line through the middles of its edges. */
export function straightened(marks: Marks, edges: readonly Edges[]): Marks {
  const { perMm, at } = axisOf(marks);
  const n = edges.length;
  if (n < 2) return marks;
  const middle = edges.map((e) => (e.above - e.below) / 2);
  const meanX = edges.reduce((s, e) => s + e.x, 0) / n;
  const mean = middle.reduce((s, m) => s + m, 0) / n;
  const spread = edges.reduce((s, e) => s + (e.x - meanX) ** 2, 0);
  const slope = edges.reduce((s, e, i) => s + (e.x - meanX) * (middle[i]! - mean), 0) / (spread || 1);
  const moved = (p: Photo['a']) => {
    const [px, py] = at(p.x, (mean + slope * (p.x - meanX)) * perMm);
    return { ...p, px, py };
  };
  return { a: moved(marks.a), b: moved(marks.b) };
}

/** Readings that a person would keep: straight stretches need only their ends. @param within mm that a diameter may be off @param most readings */
export function thinned(readings: readonly Reading[], within: number, most: number): Reading[] {
  const keep = (from: number, to: number, tolerance: number): number[] => {
    const [a, b] = [readings[from]!, readings[to]!];
    let [worst, where] = [tolerance, -1];
    for (let i = from + 1; i < to; i++) {
      const r = readings[i]!;
      const t = b.at > a.at ? (r.at - a.at) / (b.at - a.at) : 0;
      const off = Math.abs(r.diameter - (a.diameter + (b.diameter - a.diameter) * t));
      if (off > worst) [worst, where] = [off, i];
    }
    return where < 0 ? [from] : [...keep(from, where, tolerance), ...keep(where, to, tolerance)];
  };
  if (readings.length < 3) return [...readings];
  for (let tolerance = within; ; tolerance *= 1.3) {
    const kept = [...keep(0, readings.length - 1, tolerance), readings.length - 1].map((i) => readings[i]!);
    if (kept.length <= most) return kept;
  }
}

/** @param edges of the part @returns a diameter at each station, mm */
export const diametersOf = (edges: readonly Edges[]): Reading[] =>
  edges.map(({ x, above, below }) => ({ at: x, diameter: above + below }));

/** A step between stations is finer than this part of a pixel in diameter; nothing finer is read off a picture. */
const READ_PX = 0.5;
const MOST_READINGS = 120;

/** The outline between the marks as a table of readings; the end faces stand where the marks stand. */
export function outlineOf(pixels: Pixels, marks: Marks): Reading[] {
  const { perMm } = axisOf(marks);
  const readings = diametersOf(edgesOf(pixels, marks));
  const [from, to] = [Math.min(marks.a.x, marks.b.x), Math.max(marks.a.x, marks.b.x)];
  const near = 3 / perMm;
  const placed = readings.map((r, i) => {
    if (i === 0 && r.at - from < near) return { ...r, at: from };
    return i === readings.length - 1 && to - r.at < near ? { ...r, at: to } : r;
  });
  return thinned(placed, READ_PX / perMm, MOST_READINGS);
}
