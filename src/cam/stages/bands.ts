/** Which places the tracks along the form's guides pass: what stands elsewhere is for other passes to clear. */
import { TURN, wrapHalfTurn } from '../../../shared/units.ts';
import type { Guide, Surface } from '../../profiles/field.ts';

/** Tracks reach this far beyond the feature's edges, as a share of the bit's radius, so that its arrises are met. */
const BEYOND = 0.25;
/** Where the line bends, the bands of its segments gape on the outside by less than this share of a segment. */
const GAPE = 0.1;

/** How far beside a guide its outermost tracks may lie. @param radius of the bit, mm @returns mm */
export const bandOf = (guide: Guide, radius: number): number => guide.width / 2 + BEYOND * radius;

/**
 * The places that tracks of a bit along the guides pass.
 * @param radius of the bit, mm
 * @returns whether the tip at x mm and θ radians stands in the band of a guide, square to its run
 */
export function bandsOf(work: Pick<Surface, 'radius'>, guides: readonly Guide[], radius: number) {
  // By millimetres along x, so that a place is held against the segments beside it only.
  const bins = new Map<number, { guide: Guide; k: number }[]>();
  for (const guide of guides) {
    const wide = bandOf(guide, radius);
    for (let k = 0; 2 * k + 3 < guide.line.length; k++) {
      const [a, b] = [guide.line[2 * k]!, guide.line[2 * k + 2]!];
      for (let bin = Math.floor(Math.min(a, b) - wide); bin <= Math.max(a, b) + wide; bin++) {
        const held = bins.get(bin);
        if (held) held.push({ guide, k });
        else bins.set(bin, [{ guide, k }]);
      }
    }
  }
  return (x: number, theta: number): boolean => {
    const near = bins.get(Math.floor(x));
    if (!near) return false;
    const r = work.radius(x, theta);
    return near.some(({ guide, k }) => {
      const scale = Math.max(1, r + guide.depth);
      const dx = guide.line[2 * k + 2]! - guide.line[2 * k]!;
      const arc = (guide.line[2 * k + 3]! - guide.line[2 * k + 1]!) * scale;
      const px = x - guide.line[2 * k]!;
      const pa = wrapHalfTurn((theta - guide.line[2 * k + 1]!) % TURN) * scale;
      const long = dx * dx + arc * arc;
      if (long === 0) return false;
      const s = (px * dx + pa * arc) / long;
      return s >= -GAPE && s <= 1 + GAPE && Math.abs(px * arc - pa * dx) <= bandOf(guide, radius) * Math.sqrt(long);
    });
  };
}
