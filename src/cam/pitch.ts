/**
 * How far the finishing spiral may advance a turn, along the part.
 *
 * In the half plane of axis and radius a turn of the work sweeps the bit's own outline, so what two neighbouring turns
 * leave at one angle is the lower envelope of two outlines; its ridge is held against the surface that this bit leaves
 * when its passes lie infinitely close (the closing of the outline by the bit), measured square to that surface. The
 * positions are the contact kernel's own, so slope, curvature and every kind of bit are in it, and a wide flat end gets its
 * wide pitch on straight lengths. Per angle the neighbours at other angles are left out: the true ridge is never higher.
 */
import type { Bit } from '../../shared/catalog.ts';
import { PITCH_LEAST } from '../../shared/tolerances.ts';
import { TURN } from '../../shared/units.ts';
import type { Surface } from '../profiles/field.ts';
import { cuspRadius, profileHeight, profileOf } from './bit.ts';
import type { Heights } from './contact-heights.ts';
import { obliquePitch } from './pitch-oblique.ts';
import { crossing, scallopSpacing } from './scallop.ts';

/** Pitch over x. */
export interface PitchTable {
  /** Advance a turn at x, mm > 0. */
  at(x: number): number;
  readonly smallest: number;
  readonly largest: number;
  /** Where the wanted ridge would ask for less than the least pitch: why and how high the ridge will be; else undefined. */
  readonly capped: string | undefined;
}

/** Share of the bit's diameter (or of a flat end's width) that a pitch may take, so that neighbours surely overlap. */
const OVERLAP = 0.8;
/** Distance along x of the places looked at on carved work, mm. */
const STATION = 0.5;
/** Stations along a screw after which no new angle of its section is met: with those of each, some two hundred. */
const SCREW_STATIONS = 24;
/** Slope of the tip's run above which heights between columns are not trusted. */
const STEEP = 2;
/** The pitch changes by at most this share each turn, so that neighbouring ridges look even. */
const CHANGE = 0.1;

/** The widest pitch a bit may take anywhere, mm: a flat end must overlap itself; a round one is bound by its ridges alone. */
export function widestPitch(bit: Bit, scallop: number): number {
  const tip = cuspRadius(bit);
  const whole = OVERLAP * bit.diameter;
  if (bit.kind !== 'flat' && bit.kind !== 'bull') return whole;
  return Math.min(whole, Math.max(OVERLAP * (bit.diameter - 2 * tip), tip > 0 ? scallopSpacing(tip, scallop) : 0));
}

/** Places between two columns: the ridges of the closing itself fall with the square of it. */
const BETWEEN = 4;

/** The mean of the two parabolas around a place between columns i and i + 1: a line would lie below every bead. */
function smooth(before: number, a: number, b: number, after: number, t: number): number {
  return a + (b - a) * t - 0.25 * t * (1 - t) * (before - a - b + after);
}

/** Tip heights on columns BETWEEN times as dense: filled in smoothly, or by the kernel where the run is not smooth to `noise`. */
function densify(low: Float64Array, noise: number, exact: (place: number) => number): Float64Array {
  const n = low.length;
  const dense = new Float64Array((n - 1) * BETWEEN + 1);
  for (let i = 0; i < n; i++) dense[i * BETWEEN] = low[i];
  for (let i = 0; i < n - 1; i++) {
    const before = low[Math.max(0, i - 1)];
    const after = low[Math.min(n - 1, i + 2)];
    // The two parabolas disagree (a kink beside the cell), or bend so much that a kink may sit in it.
    const rough =
      Math.abs(before - 3 * low[i] + 3 * low[i + 1] - after) > noise ||
      Math.abs(before - low[i] - low[i + 1] + after) > 8 * noise;
    for (let k = 1; k < BETWEEN; k++)
      dense[i * BETWEEN + k] = rough ? exact(i + k / BETWEEN) : smooth(before, low[i], low[i + 1], after, k / BETWEEN);
  }
  return dense;
}

/** Tip height at a place, in columns. */
function between(low: Float64Array, place: number): number {
  const i = Math.min(low.length - 2, Math.max(0, Math.floor(place)));
  if (i < 1 || i > low.length - 3) return low[i] + (low[i + 1] - low[i]) * (place - i);
  return smooth(low[i - 1], low[i], low[i + 1], low[i + 2], place - i);
}

/** Height of the outline that the bit leaves at a place (columns) when its passes lie (almost) infinitely close. */
function leftAt(low: Float64Array, dx: number, lower: (d: number) => number, R: number, place: number): number {
  const w = R / dx;
  const last = low.length - 1;
  const rim = lower(R);
  // Rims and tip touch to first order: their own places are looked at exactly.
  let least = between(low, place);
  if (place - w >= 0) least = Math.min(least, between(low, place - w) + rim);
  if (place + w <= last) least = Math.min(least, between(low, place + w) + rim);
  for (let k = Math.max(0, Math.ceil(place - w)); k <= Math.min(last, Math.floor(place + w)); k++) {
    const z = low[k] + lower(Math.min(R, Math.abs(k - place) * dx));
    if (z < least) least = z;
  }
  return least;
}

/** Distance from a point to the outline within ± span of it, mm. */
function distance(outline: (x: number) => number, x: number, z: number, span: number): number {
  let least = Infinity;
  let before = outline(x - span) - z;
  for (let i = -1; i <= 2; i++) {
    const after = outline(x + (i * span) / 2) - z;
    const ux = span / 2;
    const uz = after - before;
    const px = -((i - 1) * span) / 2;
    const t = Math.max(0, Math.min(1, (px * ux - before * uz) / (ux * ux + uz * uz)));
    least = Math.min(least, Math.hypot(px - t * ux, before + t * uz));
    before = after;
  }
  return least;
}

/**
 * The pitch along [from, to].
 * @param work the surface that is cut @param contact its kernel for this bit @param bit catalog row
 * @param scallop wanted height of the ridges, mm > 0 @param from start and @param to end of the stretch, mm, from < to
 * @param options walls: places (mm) at which the path stops, goes round and drops or climbs, so that no pitch spans them;
 *   skipNarrow: where the work is not round, leave out ridges over wood that this bit cannot reach anyway, because a
 *   smaller bit follows
 * @returns the table: at each x no larger than the wanted ridge allows at any of the angles looked at, changing by less
 *   than 10 % a turn, never below PITCH_LEAST
 */
export function pitchAlong(
  work: Surface,
  contact: Heights,
  bit: Bit,
  scallop: number,
  from: number,
  to: number,
  options: { readonly walls?: readonly number[]; readonly skipNarrow?: boolean } = {},
): PitchTable {
  const R = bit.diameter / 2;
  const profile = profileOf(bit);
  const lower = (d: number) => profileHeight(profile, d);
  const largest = Math.max(PITCH_LEAST, widestPitch(bit, scallop));
  const end = cuspRadius(bit) || R;
  const wanted = Math.max(0.05, Math.min(0.25, end / 10, largest / 4));
  const columns = Math.max(2, Math.ceil((to - from) / wanted) + 1);
  const dx = (to - from) / (columns - 1);
  const walls = [...(options.walls ?? [])].filter((w) => w > from && w < to).sort((a, b) => a - b);
  // The outline is made a radius wider than the stretch, so that the closing at its ends is the work's own.
  const margin = Math.ceil(R / dx);
  const total = columns + 2 * margin;
  const xs = Float64Array.from({ length: total }, (_, i) => from + (i - margin) * dx);

  const sector = Number.isFinite(work.symmetry) ? TURN / work.symmetry : TURN;
  const angles = Number.isFinite(work.symmetry) ? Math.max(8, Math.ceil(24 / work.symmetry)) : 1;
  const round = Uint8Array.from(xs, (x) => (work.isRound(x - R, x + R) ? 1 : 0));
  const allowed = new Float64Array(columns).fill(largest);
  /** The turn that starts between two places ends a pitch beyond them: nowhere on it may the pitch be larger. */
  const allow = (first: number, last: number, p: number) => {
    const end = Math.min(columns - 1, Math.ceil((last + p - from) / dx));
    for (let k = Math.max(0, Math.floor((first - from) / dx) - 1); k <= end; k++) if (p < allowed[k]) allowed[k] = p;
  };
  // A round end on carved work has its own measure, below.
  const tip = bit.kind === 'ball' || bit.kind === 'tapered-ball' ? cuspRadius(bit) : 0;
  let ridge = 0;
  let ridgeAt = from;
  const first = new Float64Array(total);
  for (let j = 0; j < angles; j++) {
    const theta = (sector * (j + 0.25)) / angles;
    if (tip > 0 && j > 0) break;
    const low = j === 0 ? first : first.slice();
    const open = j === 0 ? xs : xs.filter((_, i) => !round[i]);
    if (open.length === 0) break;
    const found = new Float64Array(open.length);
    contact.along(open, new Float64Array(open.length).fill(theta), found);
    for (let i = 0, k = 0; i < total; i++) if (j === 0 || !round[i]) low[i] = found[k++];
    const dense = densify(low, scallop / 4, (place) => contact.lowest(xs[0] + place * dx, theta));
    const fine = dx / BETWEEN;
    const outline = (x: number) => leftAt(dense, fine, lower, R, (x - xs[0]) / fine);
    // At a wall the bit goes round on both floors whatever the pitch, and far beside two turns (under a wide end on a slope)
    // others have been: what those leave at a place, mm.
    const rings = [...walls.flatMap((w) => [w - fine, w + fine]), from, to];
    const others = (x: number, p: number, at: number): number => {
      let least = Infinity;
      const look = (place: number) => {
        const d = Math.abs(at - place);
        if (d <= R) least = Math.min(least, between(dense, (place - xs[0]) / fine) + lower(d));
      };
      const last = Math.min(to, at + R);
      for (let k = Math.ceil((Math.max(from, at - R) - x) / p); x + k * p <= last; k++)
        if (k !== 0 && k !== 1) look(x + k * p);
      for (const ring of rings) look(ring);
      return least;
    };
    const narrow = (x: number, z: number) =>
      options.skipNarrow === true &&
      !round[Math.max(0, Math.min(total - 1, Math.round((x - xs[0]) / dx)))] &&
      z > work.radius(x, theta) + scallop;
    let guess = largest;
    for (let i = 0; i < columns; i++) {
      if (round[i + margin] ? j > 0 : tip > 0) continue;
      const x = xs[i + margin];
      const wall = walls.find((w) => w > x) ?? Infinity;
      const room = Math.min(wall - fine, to) - x;
      const ridgeOf = (p: number): number => {
        const place = (x + p - xs[0]) / fine;
        const cell = Math.min(dense.length - 2, Math.floor(place));
        // On a steep run the height between columns is asked for, not guessed.
        const steep = Math.abs(dense[cell + 1] - dense[cell]) > STEEP * fine;
        const far = steep ? contact.lowest(x + p, theta) : between(dense, place);
        const top = crossing(lower, R, low[i + margin], far, p);
        if (top.height === Infinity) return Infinity;
        const px = x + top.x;
        const under = outline(px);
        if (top.height - under <= scallop) return Math.max(0, top.height - under);
        if (narrow(px, under)) return 0;
        const high = Math.min(top.height, others(x, p, px));
        if (high - under <= scallop) return Math.max(0, high - under);
        return distance(outline, px, high, 1.05 * scallop);
      };
      const fits = (p: number) => ridgeOf(Math.min(p, room)) <= scallop;
      let p: number;
      if (room <= PITCH_LEAST || fits(largest)) p = largest;
      else if (!fits(PITCH_LEAST)) {
        p = PITCH_LEAST;
        const high = ridgeOf(Math.min(PITCH_LEAST, room));
        // Beside round work the bit may touch aside of this half plane, where no ridge can be told.
        if (round[i + margin] && high > Math.max(ridge, 1.2 * scallop)) {
          ridge = high;
          ridgeAt = x;
        }
      } else {
        let a = PITCH_LEAST;
        let b = largest;
        // The neighbour's answer is nearly this one's: try close around it first.
        if (guess < largest && fits(guess * 0.95)) a = guess * 0.95;
        if (guess * 1.05 < b && guess > a && !fits(guess * 1.05)) b = guess * 1.05;
        while (b - a > 0.01 * a) {
          const m = (a + b) / 2;
          if (fits(m)) a = m;
          else b = m;
        }
        p = a;
      }
      guess = p;
      allow(x, x, p);
    }
  }
  // Neighbouring questions, so each search may start where the last one ended; micrometres do not matter to a pitch.
  const place = [new Float64Array(1), new Float64Array(1), new Float64Array(1)] as const;
  const quick: Heights = {
    along: contact.along,
    lowest: (x, theta) => {
      place[0][0] = x;
      place[1][0] = theta;
      contact.along(...place);
      return place[2][0];
    },
  };
  const stations = Math.max(1, Math.ceil((to - from) / STATION));
  /** The screw that is looked at: where it was met, at how many stations, the least pitch found. */
  let screw = { x: Number.NaN, seen: 0, least: Infinity };
  for (let s = 0; tip > 0 && s <= stations; s++) {
    const x = from + ((to - from) * s) / stations;
    if (work.isRound(x - R, x + R)) continue;
    if (!(screw.x < x && work.isScrew?.(screw.x - R - largest, x + R + largest)))
      screw = { x, seen: 0, least: Infinity };
    // All along a screw the same section comes by, each time at other angles: enough of them have been seen.
    if (screw.seen++ >= SCREW_STATIONS) {
      if (screw.least < Infinity) allow(x - STATION / 2, x + STATION / 2, screw.least);
      continue;
    }
    const wall = walls.find((w) => w > x) ?? Infinity;
    const room = Math.min(wall - dx / BETWEEN, to) - x;
    const most = Math.min(largest, 2 * tip);
    if (room <= PITCH_LEAST) continue;
    // Only a pitch below what is allowed here already changes anything: mostly one look tells that there is none.
    const here = () => {
      let widest = 0;
      const last = Math.min(columns - 1, Math.ceil((x + STATION / 2 - from) / dx));
      for (let k = Math.max(0, Math.floor((x - STATION / 2 - from) / dx)); k <= last; k++)
        widest = Math.max(widest, allowed[k]);
      return Math.min(most, room, widest);
    };
    for (let j = 0; j < angles; j++) {
      const theta = (sector * (j + 0.5 + 0.31 * (s % 3))) / angles;
      const cap = here();
      if (cap <= PITCH_LEAST) break;
      const p = obliquePitch(quick, tip, x, theta, scallop, PITCH_LEAST, cap, options.skipNarrow === true);
      if (p >= cap) continue;
      screw.least = Math.min(screw.least, p);
      allow(x - STATION / 2, x + STATION / 2, p);
    }
  }
  for (let i = 1; i < columns; i++) allowed[i] = Math.min(allowed[i], allowed[i - 1] + CHANGE * dx);
  for (let i = columns - 2; i >= 0; i--) allowed[i] = Math.min(allowed[i], allowed[i + 1] + CHANGE * dx);

  let smallest = Infinity;
  let widest = 0;
  for (const p of allowed) {
    smallest = Math.min(smallest, p);
    widest = Math.max(widest, p);
  }
  return {
    at: (x) => {
      const place = Math.max(0, Math.min(columns - 1, (x - from) / dx));
      const i = Math.min(columns - 2, Math.floor(place));
      return allowed[i] + (allowed[i + 1] - allowed[i]) * (place - i);
    },
    smallest,
    largest: widest,
    capped:
      ridge > 0
        ? `${bit.label}: a ridge of ${scallop} mm would ask for less than ${PITCH_LEAST} mm a turn; at x ${ridgeAt.toFixed(1)} the ridge stays ${ridge.toFixed(3)} mm high`
        : undefined,
  };
}
