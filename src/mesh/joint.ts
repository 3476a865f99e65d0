/** The ring at which two spans meet: it carries the columns of both, so that neither side leaves a gap. */
import { TURN, wrapTurn } from '../../shared/units.ts';

/** Columns of one side: angles ascending over less than a turn (any turn), and which of them are arrises. */
export interface Side {
  phi: Float64Array;
  arris: Uint8Array;
}

/** A ring's columns and where each column of the two sides is found among them. */
export interface Joint {
  /** Angles in [0, 2π), ascending. */
  phi: Float64Array;
  arris: Uint8Array;
  fromLeft: Uint32Array;
  fromRight: Uint32Array;
}

/** Arrises of the two sides nearer than this are one, radians. */
const ONE_ARRIS = 1e-6;
/** A column that is no arris gives way to a neighbour nearer than this share of its own spacing: no slivers. */
const GIVES_WAY = 0.4;

/** Index of the entry nearest to an angle on the circle. @param list ascending in [0, 2π), not empty */
function nearest(list: readonly number[], angle: number): number {
  let [lo, hi] = [0, list.length];
  while (lo < hi) {
    const mid = (lo + hi) >> 1;
    if (list[mid]! < angle) lo = mid + 1;
    else hi = mid;
  }
  const after = lo % list.length;
  const before = (lo + list.length - 1) % list.length;
  return apart(list[after]!, angle) < apart(list[before]!, angle) ? after : before;
}

const apart = (a: number, b: number): number => {
  const d = wrapTurn(a - b);
  return Math.min(d, TURN - d);
};

const inOneTurn = (ascending: Float64Array): boolean => ascending[0]! >= 0 && ascending.at(-1)! < TURN;

const identities = new Map<number, Uint32Array>();
/** 0 … n − 1: where every column of a ring is found in itself. */
export function identity(n: number): Uint32Array {
  let list = identities.get(n);
  if (!list) {
    list = Uint32Array.from({ length: n }, (_, k) => k);
    identities.set(n, list);
  }
  return list;
}

/** Columns of a ring of one side only, brought into [0, 2π). */
export function single(side: Side): Joint {
  return join(side, undefined);
}

/** Unites the columns of the spans left and right of a ring. */
export function join(left: Side, right: Side | undefined): Joint {
  if (right && left.phi === right.phi && left.arris === right.arris && inOneTurn(left.phi)) {
    const places = identity(left.phi.length);
    return { phi: left.phi, arris: left.arris, fromLeft: places, fromRight: places };
  }
  const sides = right ? [left, right] : [left];
  const list: number[] = [];
  const arrisSet = new Set<number>();
  const offer = (angle: number, gap: number): boolean => {
    if (list.length > 0 && apart(list[nearest(list, angle)]!, angle) <= gap) return false;
    let k = list.length;
    while (k > 0 && list[k - 1]! > angle) k--;
    list.splice(k, 0, angle);
    return true;
  };
  for (const s of sides)
    s.phi.forEach((p, j) => {
      const angle = wrapTurn(p);
      if (s.arris[j] && offer(angle, ONE_ARRIS)) arrisSet.add(angle);
    });
  const finerFirst = [...sides].sort((a, b) => b.phi.length - a.phi.length);
  for (const s of finerFirst) {
    const n = s.phi.length;
    for (let j = 0; j < n; j++) {
      if (s.arris[j]) continue;
      const here = s.phi[j]!;
      const back = j > 0 ? here - s.phi[j - 1]! : here + TURN - s.phi[n - 1]!;
      const ahead = j + 1 < n ? s.phi[j + 1]! - here : s.phi[0]! + TURN - here;
      offer(wrapTurn(here), GIVES_WAY * Math.min(back, ahead));
    }
  }
  const where = (s: Side) => Uint32Array.from(s.phi, (p) => nearest(list, wrapTurn(p)));
  return {
    phi: Float64Array.from(list),
    arris: Uint8Array.from(list, (a) => (arrisSet.has(a) ? 1 : 0)),
    fromLeft: where(left),
    fromRight: where(right ?? left),
  };
}
