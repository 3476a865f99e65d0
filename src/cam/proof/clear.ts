/** What the whole tool may not touch: bit, shank and holder as upright cylinders, against wood and against what holds it. */
import type { Bit } from '../../../shared/catalog.ts';
import { LIMIT_SLACK, RAPID_BRUSH } from '../../../shared/tolerances.ts';
import { TURN } from '../../../shared/units.ts';
import type { KeepOut } from '../blank.ts';
import { rowFrom } from './grid.ts';
import type { Cutter } from './remove.ts';
import type { Shape } from './shape.ts';
import type { Place } from './walk.ts';
import type { Wood } from './wood.ts';

/** An upright cylinder of the tool, open upward. */
export interface Stem {
  readonly what: 'bit' | 'shank' | 'holder';
  readonly radius: number;
  /** Height of its lower end above the tip, mm. */
  readonly from: number;
}

/** Bit, shank (where it is thicker than the bit) and holder. @param bit catalog row */
export function stemsOf(bit: Bit): Stem[] {
  const stems: Stem[] = [{ what: 'bit', radius: bit.diameter / 2, from: 0 }];
  if (bit.shank > bit.diameter && bit.reach < bit.stickOut)
    stems.push({ what: 'shank', radius: bit.shank / 2, from: bit.reach });
  stems.push({ what: 'holder', radius: bit.holder / 2, from: bit.stickOut });
  return stems;
}

/** How far a stem dips below what it must not touch, and by which. */
export interface Contact {
  readonly stem: Stem;
  readonly what: string;
  readonly depth: number;
  readonly x: number;
}

/**
 * A motion against solids of revolution about the rotary axis (chuck, tailstock). Such a solid's highest line lies right under the tool,
 * so only x and height count.
 * @param box whether the axes of the motion may run in any order (a rapid's may)
 */
export function keepOutContact(
  stems: readonly Stem[],
  keepOut: readonly KeepOut[],
  from: Place,
  to: Place,
  box: boolean,
): Contact | undefined {
  let worst: Contact | undefined;
  for (const solid of keepOut)
    for (const stem of stems) {
      const a = solid.from - stem.radius + LIMIT_SLACK;
      const b = solid.to + stem.radius - LIMIT_SLACK;
      // Share of the motion spent beside the solid.
      let f0 = 0;
      let f1 = 1;
      const dx = to.x - from.x;
      if (dx === 0) {
        if (from.x <= a || from.x >= b) continue;
      } else {
        const at = (x: number) => (x - from.x) / dx;
        f0 = Math.max(0, Math.min(at(a), at(b)));
        f1 = Math.min(1, Math.max(at(a), at(b)));
        if (f0 >= f1) continue;
      }
      const r = (f: number) => from.r + (to.r - from.r) * f;
      const lowest = box ? Math.min(from.r, to.r) : Math.min(r(f0), r(f1));
      const depth = solid.radius - (lowest + stem.from);
      if (depth > LIMIT_SLACK && depth > (worst?.depth ?? 0))
        worst = { stem, what: solid.what, depth, x: from.x + dx * (r(f0) < r(f1) ? f0 : f1) };
    }
  return worst;
}

/** Deepest dip of a stem's lower face into wood that is still there, at one place. @returns mm, 0 for none */
export function stemDip(wood: Wood, stem: Stem, place: Place): number {
  const { grid, outer } = wood;
  const { xs, columns: m } = grid;
  const face = place.r + stem.from;
  const R = stem.radius;
  const step = TURN / m;
  let dip = 0;
  for (let i = rowFrom(grid, place.x - R); i < xs.length && xs[i]! <= place.x + R; i++) {
    const top = wood.rowTop[i]!;
    if (top <= face + dip) continue;
    const c = Math.sqrt(Math.max(0, R * R - (xs[i]! - place.x) ** 2));
    const half =
      face > 0 ? Math.min(Math.acos(Math.min(1, face / top)), c < face ? Math.asin(c / face) : TURN / 4) : TURN / 4;
    const centre = place.theta / step;
    const last = Math.min(Math.floor(centre + half / step), Math.ceil(centre - half / step) + m - 1);
    for (let o = Math.ceil(centre - half / step); o <= last; o++) {
      const s = outer[i * m + (((o % m) + m) % m)]!;
      const delta = (o - centre) * step;
      const up = s * Math.cos(delta);
      if (up - face > dip && Math.abs(s * Math.sin(delta)) <= c) dip = up - face;
    }
  }
  return dip;
}

/** Whether a stem may dip into wood anywhere between two places; a bound, so that most motions need no closer look. */
export function mayDip(wood: Wood, stem: Stem, from: Place, to: Place): boolean {
  const face = Math.min(from.r, to.r) + stem.from;
  const x0 = Math.min(from.x, to.x) - stem.radius;
  const x1 = Math.max(from.x, to.x) + stem.radius;
  if (wood.topAlong(x0, x1) <= face) return false;
  wood.tightenAlong(x0, x1);
  if (wood.topAlong(x0, x1) <= face) return false;
  const aside = face > stem.radius ? Math.asin(stem.radius / face) : TURN / 4;
  const mid = (from.theta + to.theta) / 2;
  const half = Math.abs(to.theta - from.theta) / 2 + aside;
  return half >= TURN / 2 || wood.topWithin(x0, x1, mid, half) > face;
}

/** What a rapid would meet. */
export interface Rammed {
  readonly depth: number;
  readonly x: number;
  readonly theta: number;
  readonly stem: Stem;
}

/**
 * A rapid against the wood. Its axes may run in any order, so the whole box between its ends is looked at, at its lowest height; a tool is
 * open upward, so lifting out of a place where it stood meets nothing.
 */
export function rapidContact(
  wood: Wood,
  cutter: Cutter,
  shape: Shape,
  stems: readonly Stem[],
  from: Place,
  to: Place,
): Rammed | undefined {
  const still = from.x === to.x && from.theta === to.theta;
  if (still && to.r >= from.r) return undefined;
  let worst: Rammed | undefined;
  const low = Math.min(from.r, to.r);
  const corner = (p: Place): Place => ({ x: p.x, r: low, theta: p.theta });
  const a = corner(from);
  const b = corner(to);
  for (const stem of stems) {
    if (!mayDip(wood, stem, a, b)) continue;
    const stepX = Math.max(0.3, Math.min(shape.R, 1) / 2);
    const stepT = stepX / Math.max(low + 2, 1);
    const nx = Math.max(1, Math.ceil(Math.abs(b.x - a.x) / stepX));
    // A whole turn is the same box however many turns follow.
    const sweep = Math.sign(b.theta - a.theta) * Math.min(Math.abs(b.theta - a.theta), TURN);
    const nt = Math.max(1, Math.ceil(Math.abs(sweep) / stepT));
    for (let i = b.x === a.x ? nx : 0; i <= nx; i++) {
      const x = a.x + ((b.x - a.x) * i) / nx;
      if (wood.topAlong(x - stem.radius, x + stem.radius) <= low + stem.from) continue;
      for (let k = sweep === 0 ? nt : 0; k <= nt; k++) {
        const theta = sweep === 0 ? a.theta : a.theta + (sweep * k) / nt;
        // The place where it starts has been stood at already.
        if (i === 0 && k === 0 && low === from.r) continue;
        const place = { x, r: low, theta };
        const depth =
          stem.what === 'bit' ? cutter.place(x, low, theta, 0, 0, true).thickest : stemDip(wood, stem, place);
        if (depth > RAPID_BRUSH && depth > (worst?.depth ?? 0)) worst = { depth, x, theta, stem };
      }
    }
  }
  return worst;
}
