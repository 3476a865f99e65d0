/**
 * Pitch of a round tip on carved work. There the bit touches aside of its own half plane, so a cut through the work at one
 * angle says too little: on a flank that the path crosses slantwise it would ask for a third of the true pitch.
 *
 * Two neighbouring turns are two lines on the surface that the tip's centre keeps to. From a place on one, the nearest
 * place on the other lies square to the path; the ridge between two balls of radius R whose centres A and B lie c apart is
 * R − √(R² − c²/4) − s, with s the height of the centres' surface over the middle of the chord (plane geometry of two
 * circles; on beads and coves it is the closed form of `scallopHeight`).
 */
import type { Heights } from './contact-heights.ts';

/** Step for slopes, mm. */
const STEP = 0.05;
/** How near the pitch is found, as a share of itself. */
const NEAR = 0.02;

/** Least growth of slope that counts as a notch, for each quarter of a pitch. */
const NOTCH = 0.02;

type Point = readonly [number, number, number];

/** The tip's centre in the part frame turned by θ₀: x, along the arc, up. */
function centre(tip: number, x: number, angle: number, z: number): Point {
  return [x, (z + tip) * Math.sin(angle), (z + tip) * Math.cos(angle)];
}

/**
 * Largest pitch at a place whose ridge stays within the scallop.
 * @param tip radius of the round end, mm @param scallop wanted ridge, mm @param least and @param most bounds of the pitch, mm
 * @param skipNotches leave out ridges over a notch of the tip's run: there the bit touches on both sides of a hollow that it
 *   does not fit into, and a smaller bit follows
 * @returns mm
 */
export function obliquePitch(
  contact: Heights,
  tip: number,
  x: number,
  theta: number,
  scallop: number,
  least: number,
  most: number,
  skipNotches: boolean,
): number {
  const z = contact.lowest(x, theta);
  const r = Math.max(0.5, z + tip);
  const turn = STEP / r;
  const along = (contact.lowest(x + STEP, theta) - contact.lowest(x - STEP, theta)) / (2 * STEP);
  const around = (contact.lowest(x, theta + turn) - contact.lowest(x, theta - turn)) / (2 * STEP);
  const a = centre(tip, x, 0, z);
  // The foot of the perpendicular on the next turn, which is shifted by (p, 0, along·p) and runs as (0, 1, around).
  const back = (-along * around) / (1 + around * around) / r;
  const ridge = (p: number): number => {
    const angle = back * p;
    const b = centre(tip, x + p, angle, contact.lowest(x + p, theta + angle));
    const c = centre(tip, x + p / 2, angle / 2, contact.lowest(x + p / 2, theta + angle / 2));
    const [ux, uy, uz] = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
    const chord2 = ux * ux + uy * uy + uz * uz;
    if (chord2 >= 4 * tip * tip) return Infinity;
    const [mx, my, mz] = [c[0] - (a[0] + b[0]) / 2, c[1] - (a[1] + b[1]) / 2, c[2] - (a[2] + b[2]) / 2];
    // Of the way from the chord's middle to the surface only the part square to the chord counts.
    const on = (mx * ux + my * uy + mz * uz) / chord2;
    const off = Math.hypot(mx - on * ux, my - on * uy, mz - on * uz);
    const outward = (my - on * uy) * Math.sin(angle / 2) + (mz - on * uz) * Math.cos(angle / 2);
    return tip - Math.sqrt(tip * tip - chord2 / 4) - Math.sign(outward) * off;
  };
  // A hollow that is merely round bends evenly from turn to turn; a notch does it all in one place.
  const notched = (p: number): boolean => {
    const z = [0, 1, 2, 3, 4].map((k) => contact.lowest(x + (p * k) / 4, theta + (back * p * k) / 4));
    const bends = [1, 2, 3].map((k) => z[k - 1] - 2 * z[k] + z[k + 1]).sort((u, v) => u - v);
    return bends[2] > NOTCH * p && bends[2] > 3 * Math.abs(bends[1]);
  };
  const fits = (p: number) => ridge(p) <= scallop || (skipNotches && notched(p));
  if (fits(most)) return most;
  if (!fits(least)) return least;
  let lo = least;
  let hi = most;
  while (hi - lo > NEAR * lo) {
    const p = (lo + hi) / 2;
    if (fits(p)) lo = p;
    else hi = p;
  }
  return lo;
}
