/** The one ruler that stage and lanes share: millimetres of the part frame to pixels, ticks, zoom and pan. */

export interface Ruler {
  /** Visible range, mm. */
  from: number;
  to: number;
  /** Width in CSS pixels. */
  width: number;
}

/** @param x mm @returns px from the left edge of the shared column */
export const toPixel = (ruler: Ruler, x: number): number => ((x - ruler.from) / (ruler.to - ruler.from)) * ruler.width;

/** @param pixel px from the left edge @returns mm */
export const toMm = (ruler: Ruler, pixel: number): number =>
  ruler.from + (pixel / ruler.width) * (ruler.to - ruler.from);

/** Narrowest and widest range that may be shown, mm. */
const NARROWEST = 4;
const WIDEST = 6000;

/**
 * Zooms about a fixed place.
 * @param x mm, stays where it is @param factor above 1 shows less @returns the new range
 */
export function zoomed(range: { from: number; to: number }, x: number, factor: number): { from: number; to: number } {
  const span = Math.min(WIDEST, Math.max(NARROWEST, (range.to - range.from) / factor));
  const share = (x - range.from) / (range.to - range.from);
  return { from: x - share * span, to: x + (1 - share) * span };
}

/** @param by mm, positive shows what lies farther toward the tailstock */
export const panned = (range: { from: number; to: number }, by: number): { from: number; to: number } => ({
  from: range.from + by,
  to: range.to + by,
});

export interface Tick {
  x: number;
  /** Numbered ticks are the long ones. */
  text: string | undefined;
}

/**
 * Ticks of the ruler, few enough to be read.
 * @param unit length of the unit shown, mm: 1, or that of an inch @returns ascending in x; x in mm
 */
export function ticks(ruler: Ruler, unit: number): Tick[] {
  const perPixel = (ruler.to - ruler.from) / Math.max(1, ruler.width);
  const wanted = (80 * perPixel) / unit;
  const power = 10 ** Math.floor(Math.log10(wanted));
  const long = [1, 2, 5, 10].map((m) => m * power).find((s) => s >= wanted) ?? 10 * power;
  const short = long / (Math.round(long / power) === 2 ? 4 : 5);
  const list: Tick[] = [];
  const first = Math.ceil(ruler.from / unit / short);
  for (let k = first; k * short * unit <= ruler.to; k++) {
    const value = k * short;
    const isLong = Math.abs(value / long - Math.round(value / long)) < 1e-6;
    list.push({ x: value * unit, text: isLong ? String(Number(value.toFixed(6))) : undefined });
  }
  return list;
}
