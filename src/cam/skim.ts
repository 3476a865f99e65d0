/**
 * The effect of a finishing pass on the removal map, without sweeping the bit along it block by block: for the skin that a
 * spiral takes off round work this is some fifty times quicker.
 *
 * Where the work is round, a ray is cut deepest by the bit when it stands in the ray's own half plane, so at a few angles the
 * outline under the turns that pass there is enough: row by row the lower envelope of the bit's own outline. Between those
 * angles the higher of the two neighbours is kept, so the map still shows rather too much wood than too little.
 */
import type { Bit } from '../../shared/catalog.ts';
import { TURN } from '../../shared/units.ts';
import type { Surface } from '../profiles/field.ts';
import { profileHeight, profileOf } from './bit.ts';
import type { Wood } from './wood.ts';

/** Angles at which the turns are looked at. */
const ANGLES = 12;

/**
 * Lowers the map where the work is round over the bit's whole width.
 * @param x, r, theta of the path's corners, θ growing, straight between them
 */
export function skimRound(
  wood: Wood,
  work: Surface,
  bit: Bit,
  x: ArrayLike<number>,
  r: ArrayLike<number>,
  theta: ArrayLike<number>,
): void {
  const R = bit.diameter / 2;
  const profile = profileOf(bit);
  const left = new Float64Array(wood.rows * ANGLES).fill(Infinity);
  const step = TURN / ANGLES;
  for (let i = 1; i < x.length; i++) {
    const d = theta[i] - theta[i - 1];
    if (!(d > 0)) continue;
    for (let k = Math.ceil(theta[i - 1] / step - 1e-9); k * step <= theta[i] + 1e-12; k++) {
      const s = Math.min(1, Math.max(0, (k * step - theta[i - 1]) / d));
      const px = x[i - 1] + (x[i] - x[i - 1]) * s;
      const pr = r[i - 1] + (r[i] - r[i - 1]) * s;
      const angle = ((k % ANGLES) + ANGLES) % ANGLES;
      const last = Math.min(wood.rows - 1, Math.floor((px + R - wood.from) / wood.dx));
      for (let row = Math.max(0, Math.ceil((px - R - wood.from) / wood.dx)); row <= last; row++) {
        const z = pr + profileHeight(profile, Math.min(R, Math.abs(wood.from + row * wood.dx - px)));
        const at = row * ANGLES + angle;
        if (z < left[at]) left[at] = z;
      }
    }
  }
  for (let row = 0; row < wood.rows; row++) {
    const at = wood.from + row * wood.dx;
    if (!work.isRound(Math.max(work.from, at - R), Math.min(work.to, at + R))) continue;
    for (let column = 0; column < wood.columns; column++) {
      const place = (column * wood.dTheta) / step;
      const a = Math.floor(place) % ANGLES;
      const b = Math.ceil(place) % ANGLES;
      const z = Math.max(left[row * ANGLES + a], left[row * ANGLES + b]);
      if (z < Infinity) wood.lower(row, column, z);
    }
  }
}
