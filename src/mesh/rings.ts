/** Lays out all rings of a surface and says which columns of neighbouring rings belong together. */
import { TURN } from '../../shared/units.ts';
import type { Side, Surface } from '../profiles/field.ts';
import { type Columns, columnsOf, type Fineness } from './columns.ts';
import { identity, type Joint, join, single } from './joint.ts';
import { FINE, SCREEN, type Span, spansOf } from './spans.ts';
import { bending, stationsByChord, stationsByNumber } from './stations.ts';

/** One ring of points on the surface. */
export interface Ring {
  x: number;
  side: Side;
  /** Angles in the turned frame, ascending over less than a turn. */
  phi: Float64Array;
  /** Angle by which the frame is turned here, radians. */
  turn: number;
  arris: Uint8Array;
  /** Whether the outline may bend or jump here, so that the ring must not leave its place in the outline. */
  locked: boolean;
  /** Radii on the surface, mm. */
  r: Float64Array;
}

/** Triangles between two rings: column j of the strip is point p[j] of the lower and q[j] of the upper ring. */
export interface Strip {
  lower: number;
  upper: number;
  p: Uint32Array;
  q: Uint32Array;
  /** Whether the surface depends on x alone here; washer: both rings stand at the same x. */
  kind: 'round' | 'carved' | 'washer';
}

export interface Layout {
  rings: Ring[];
  strips: Strip[];
}

/** How fine: chords in mm along and across, or numbers. */
export type Grain = { along: number; around: number } | { rings: number; columns: number };

/** Angles at which the radii left and right of a shoulder cross, added to the columns of its two rings. */
function crossings(surface: Surface, x: number, turn: number, joint: Joint): Joint {
  const over = (phi: number) => surface.radius(x, phi + turn, 1) - surface.radius(x, phi + turn, -1);
  const n = joint.phi.length;
  const added: number[] = [];
  for (let j = 0; j < n; j++) {
    let a = joint.phi[j]!;
    let b = j + 1 < n ? joint.phi[j + 1]! : joint.phi[0]! + TURN;
    let [da, db] = [over(a), over(b)];
    if (Math.abs(da) < SAME_RADIUS || Math.abs(db) < SAME_RADIUS || da > 0 === db > 0) continue;
    for (let k = 0; k < 60 && b - a > 1e-12; k++) {
      const m = (a + b) / 2;
      const dm = over(m);
      if (dm > 0 === da > 0) [a, da] = [m, dm];
      else [b, db] = [m, dm];
    }
    added.push(((a + b) / 2) % TURN);
  }
  if (added.length === 0) return joint;
  const list = [
    ...Array.from(joint.phi, (phi, j) => ({ phi, arris: joint.arris[j]!, old: j })),
    ...added.map((phi) => ({ phi, arris: 1, old: -1 })),
  ].sort((a, b) => a.phi - b.phi);
  const moved = new Uint32Array(n);
  list.forEach((e, k) => {
    if (e.old >= 0) moved[e.old] = k;
  });
  return {
    phi: Float64Array.from(list, (e) => e.phi),
    arris: Uint8Array.from(list, (e) => e.arris),
    fromLeft: joint.fromLeft.map((k) => moved[k]!),
    fromRight: joint.fromRight.map((k) => moved[k]!),
  };
}
/** Radii left and right of a shoulder nearer than this are one point, mm. */
export const SAME_RADIUS = 1e-4;

function makeRing(
  surface: Surface,
  x: number,
  side: Side,
  at: Pick<Joint, 'phi' | 'arris'>,
  locked: boolean,
  round: boolean,
): Ring {
  const turn = surface.turning(x);
  const r = new Float64Array(at.phi.length);
  if (round) r.fill(surface.radius(x, turn, side));
  else surface.ring(x, turn === 0 ? at.phi : at.phi.map((p) => p + turn), r, side);
  return { x, side, phi: at.phi, turn, arris: at.arris, locked, r };
}

function stationsFor(surface: Surface, spans: Span[], columns: Columns[], grain: Grain): number[][] {
  if ('along' in grain) return spans.map((s, i) => stationsByChord(surface, s, columns[i]!, grain.along));
  const bent = spans.map((s) => bending(surface, s));
  const length = surface.to - surface.from;
  const shares = spans.map((s, i) => bent[i]!.sum.at(-1)! + (s.to - s.from) / length);
  const whole = shares.reduce((a, b) => a + b, 0);
  return spans.map((_, i) => {
    const steps = bent[i]!.sum.at(-1)! < 1e-9 ? 1 : Math.max(1, Math.round((grain.rings * shares[i]!) / whole));
    return stationsByNumber(bent[i]!, steps);
  });
}

/** Lays out rings and strips over the whole surface, from its lower end to its upper. */
export function layOut(surface: Surface, grain: Grain): Layout {
  const fineness: Fineness = 'around' in grain ? { chord: grain.around } : { columns: grain.columns };
  const spans = spansOf(surface, 'along' in grain ? FINE : SCREEN);
  const columns = spans.map((s) => columnsOf(surface, s, fineness));
  const stations = stationsFor(surface, spans, columns, grain);
  const shoulders = new Set(surface.breaks.filter((b) => b.kind === 'shoulder').map((b) => b.x));
  const rings: Ring[] = [];
  const strips: Strip[] = [];
  const sideOf = (i: number, x: number) => ({ phi: columns[i]!.at(x), arris: columns[i]!.arris });
  let start = single(sideOf(0, surface.from));
  rings.push(makeRing(surface, surface.from, 1, start, true, spans[0]!.round));
  for (let i = 0; i < spans.length; i++) {
    const span = spans[i]!;
    const round = span.round;
    const kind = round ? 'round' : 'carved';
    const own = identity(columns[i]!.count);
    let p = start.fromRight;
    for (const x of stations[i]!.slice(1, -1)) {
      rings.push(makeRing(surface, x, 0, sideOf(i, x), false, round));
      strips.push({ lower: rings.length - 2, upper: rings.length - 1, p, q: own, kind });
      p = own;
    }
    const x = span.to;
    const next = spans[i + 1];
    let joint = next ? join(sideOf(i, x), sideOf(i + 1, x)) : single(sideOf(i, x));
    const step = next !== undefined && shoulders.has(x);
    if (step && !(round && next.round)) joint = crossings(surface, x, surface.turning(x), joint);
    const evenHere = round && (step || !next || next.round);
    rings.push(makeRing(surface, x, step || !next ? -1 : 0, joint, span.lockedTo, evenHere));
    strips.push({ lower: rings.length - 2, upper: rings.length - 1, p, q: joint.fromLeft, kind });
    if (step) {
      rings.push(makeRing(surface, x, 1, joint, true, next.round));
      const all = identity(joint.phi.length);
      strips.push({ lower: rings.length - 2, upper: rings.length - 1, p: all, q: all, kind: 'washer' });
    }
    start = joint;
  }
  return { rings, strips };
}
