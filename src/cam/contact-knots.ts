/** What stands out between samples of a surface: on the straight edge between two, and inside the cell of four. */
import { CONTACT_BEND, CONTACT_KNOT, CONTACT_SHARP } from '../../shared/tolerances.ts';
import { TURN } from '../../shared/units.ts';

/**
 * Highest point of a function with one hill on [a, b], by golden section until what lies between can't matter.
 * @param fa @param fb its values at the ends @returns where
 */
function hill(f: (t: number) => number, a: number, fa: number, b: number, fb: number): number {
  const g = (Math.sqrt(5) - 1) / 2;
  let p = b - g * (b - a);
  let q = a + g * (b - a);
  let fp = f(p);
  let fq = f(q);
  for (let k = 0; k < 20 && Math.max(fp, fq) - Math.min(fa, fb) > CONTACT_KNOT; k++) {
    if (fp > fq) {
      b = q;
      fb = fq;
      q = p;
      fq = fp;
      p = b - g * (b - a);
      fp = f(p);
    } else {
      a = p;
      fa = fp;
      p = q;
      fp = fq;
      q = a + g * (b - a);
      fq = f(q);
    }
  }
  return fp > fq ? p : q;
}

/**
 * The point that stands out most above a straight edge between two samples, if the bends at its ends hint at one.
 * @param bendA @param bendB convex bends at the ends, mm; Infinity where unknown
 * @param above height above the straight edge at t in [0, 1], mm @returns where
 */
export function standing(bendA: number, bendB: number, above: (t: number) => number): number | undefined {
  let t: number;
  if (Math.min(bendA, bendB) >= CONTACT_BEND) {
    // With straight sides an arris on the edge bends both ends.
    if (bendA + bendB === Infinity && above(0.5) < CONTACT_KNOT) return undefined;
    t = hill(above, 0, 0, 1, 0);
  } else if (Math.max(bendA, bendB) >= CONTACT_SHARP) {
    // A lip over a hollow bends one end only and may stand close to it: halve the way towards that end.
    const at = bendA > bendB ? (q: number) => above(q) : (q: number) => above(1 - q);
    let q = 0.5;
    let best = 0;
    let before = 0;
    let after = 0;
    let last = at(1);
    let top = 0;
    for (let k = 0; k < 6; k++, q /= 2) {
      const v = at(q);
      if (top > 0 && before === 0 && q < top) before = v;
      if (v > best) {
        best = v;
        after = last;
        top = q;
        before = 0;
      }
      last = v;
    }
    if (top === 0) return undefined;
    t = hill(at, top / 2, before, Math.min(1, top * 2), after);
    if (at(t) < best) t = top;
    if (bendA <= bendB) t = 1 - t;
  } else return undefined;
  return above(t) > CONTACT_KNOT ? t : undefined;
}

/**
 * What stands out most in the unit square: a net, then steps in turning directions, since ridges lead to a corner.
 * @param above height, mm @returns where
 */
export function corner(above: (s: number, t: number) => number): [number, number] {
  let s = 0.5;
  let t = 0.5;
  let best = above(s, t);
  const ask = (s2: number, t2: number): boolean => {
    const v = above(s2, t2);
    if (v <= best) return false;
    best = v;
    s = s2;
    t = t2;
    return true;
  };
  for (let i = 0; i < 7; i++) for (let j = 0; j < 7; j++) ask((i + 0.5) / 7, (j + 0.5) / 7);
  let h = 0.1;
  for (let k = 0; k < 50 && h > 0.001; k++) {
    let gained = false;
    const [s0, t0] = [s, t];
    for (let q = 0; q < 6; q++) {
      const angle = k + (q * TURN) / 6;
      const s2 = Math.min(1, Math.max(0, s0 + h * Math.cos(angle)));
      const t2 = Math.min(1, Math.max(0, t0 + h * Math.sin(angle)));
      if (ask(s2, t2)) gained = true;
    }
    if (!gained) h *= 0.7;
  }
  return [s, t];
}
