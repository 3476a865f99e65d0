/** What the Strength lane draws: give and safety along the part, as paths on the shared ruler. Pure. */
import { NECK_SAFETY, SAFE, type Station, type StationDetail } from '../../cam/strength.ts';

/** Strength over stress: enough for knots and impacts, less than that, less than wood can be trusted with. */
export type Grade = 'firm' | 'spare' | 'weak';
export const gradeOf = (safetyFactor: number): Grade =>
  safetyFactor >= NECK_SAFETY ? 'firm' : safetyFactor >= SAFE ? 'spare' : 'weak';

/** The station at x, numbers between two of them in proportion. @param x mm @returns undefined outside the bar */
export function stationAt(stations: readonly StationDetail[], x: number): StationDetail | undefined {
  const i = stations.findIndex((s) => s.x >= x);
  const after = stations[i];
  if (!after || (i === 0 && after.x > x)) return undefined;
  const before = stations[Math.max(0, i - 1)]!;
  const t = after.x > before.x ? (x - before.x) / (after.x - before.x) : 1;
  const between = (a: number, b: number) =>
    Number.isFinite(a) && Number.isFinite(b) ? a + (b - a) * t : Math.min(a, b);
  const near = t < 0.5 ? before : after;
  return {
    ...near,
    x,
    deflection: between(before.deflection, after.deflection),
    twist: between(before.twist, after.twist),
    safetyFactor: between(before.safetyFactor, after.safetyFactor),
    finishing: between(before.finishing, after.finishing),
  };
}

export interface Upward {
  /** px of no give, and px of the largest that is drawn. */
  base: number;
  top: number;
  /** Give at the top, mm. */
  most: number;
}

/**
 * Where a give stands: upward by its square root, so that a hundredth that shows on the work can be seen beside the third
 * of a millimetre that roughing may give.
 */
export const giveY = (up: Upward, give: number): number =>
  up.base - Math.sqrt(Math.min(1, Math.max(0, give) / up.most)) * (up.base - up.top);

/** An open line. @param give picks the number of a station, mm @param across mm → px */
export const givePath = (
  stations: readonly StationDetail[],
  give: (s: StationDetail) => number,
  across: (x: number) => number,
  up: Upward,
): string =>
  stations.map((s, i) => `${i ? 'L' : 'M'}${across(s.x).toFixed(1)} ${giveY(up, give(s)).toFixed(1)}`).join('');

/** Stretches of one grade each, in order; a cell between two stations has the lower of their grades. x in mm. */
export function gradeStretches(stations: readonly Station[]): { grade: Grade; from: number; to: number }[] {
  const list: { grade: Grade; from: number; to: number }[] = [];
  for (let i = 1; i < stations.length; i++) {
    const [a, b] = [stations[i - 1]!, stations[i]!];
    const grade = gradeOf(Math.min(a.safetyFactor, b.safetyFactor));
    const last = list.at(-1);
    if (last?.grade === grade) last.to = b.x;
    else list.push({ grade, from: a.x, to: b.x });
  }
  return list;
}
