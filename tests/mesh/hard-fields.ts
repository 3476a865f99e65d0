/** Fields that try a mesh: moving, crossing and vanishing arrises, shoulders that cross, lobes, nothing round. */
import { TURN, wrapHalfTurn, wrapTurn } from '../../shared/units.ts';
import type { Field } from '../../src/profiles/field.ts';
import { fieldFrom, fluted } from '../support/fields.ts';

interface Family {
  /** Starts. */
  n: number;
  /** mm a turn, negative for the left hand. */
  pitch: number;
  /** Half width at the surface, radians. */
  half: number;
  depth: number;
}

const gcd = (a: number, b: number): number => (b === 0 ? a : gcd(b, a % b));

/** Vee grooves winding round a cylinder; two families cross. */
export function grooved(r: number, length: number, families: Family[]): Field {
  const radius = (x: number, theta: number) =>
    families.reduce((least, f) => {
      const off = Math.abs(wrapHalfTurn((theta - (TURN * x) / f.pitch) * f.n) / f.n);
      return Math.min(least, off < f.half ? r - f.depth * (1 - off / f.half) : r);
    }, r);
  const middles = (f: Family, x: number) =>
    Array.from({ length: f.n }, (_, k) => (TURN * x) / f.pitch + (k * TURN) / f.n);
  const creases = (x: number) => {
    const found: number[] = [];
    for (const f of families)
      for (const m of middles(f, x))
        for (const [off, own] of [
          [-f.half, r],
          [0, r - f.depth],
          [f.half, r],
        ] as const)
          if (Math.abs(radius(x, m + off) - own) < 1e-9) found.push(wrapTurn(m + off));
    const [f, g] = families;
    // Where the walls of two crossing grooves meet.
    if (f && g)
      for (const a of middles(f, x))
        for (const b of middles(g, x)) {
          const d = wrapHalfTurn(b - a);
          if (Math.abs(d) >= f.half + g.half) continue;
          const deep = (t: number, fam: Family, m: number) =>
            fam.depth * Math.max(0, 1 - Math.abs(wrapHalfTurn(t - m)) / fam.half);
          const over = (t: number) => deep(t, f, a) - deep(t, g, b);
          const cuts = [-f.half, 0, f.half, d - g.half, d, d + g.half].map((o) => a + o).sort((p, q) => p - q);
          for (let k = 0; k + 1 < cuts.length; k++) {
            const [p, q] = [over(cuts[k]!), over(cuts[k + 1]!)];
            const t = cuts[k]! + ((cuts[k + 1]! - cuts[k]!) * p) / (p - q);
            if (p * q < -1e-15 && radius(x, t) < r - 1e-9) found.push(wrapTurn(t));
          }
        }
    return found.sort((a, b) => a - b);
  };
  return fieldFrom({ length, radius, creases, symmetry: families.map((f) => f.n).reduce(gcd) });
}

/** Three smooth lobes that wind once in 100 mm: no arris anywhere. */
export const lobes = (): Field =>
  fieldFrom({
    length: 60,
    symmetry: 3,
    turning: (x) => (TURN * x) / 100,
    radius: (x, t) => 15 + 3 * Math.cos(3 * (t - (TURN * x) / 100)),
  });

/** Off the axis, wavy, without any repeat. */
export const lump = (): Field =>
  fieldFrom({
    length: 60,
    symmetry: 1,
    radius: (x, t) => 15 + 2 * Math.cos(t) + 0.5 * Math.sin(5 * t + x / 10) + x * 0.05,
  });

/** A square that steps to a circle larger than its flats and smaller than its corners. */
export const squareToRound = (half: number, r: number): Field =>
  fieldFrom({
    length: 60,
    symmetry: 4,
    breaks: [{ x: 30, kind: 'shoulder' }],
    creases: (x) => (x <= 30 ? [1, 3, 5, 7].map((k) => (k * TURN) / 8) : []),
    radius: (x, t, side) => {
      const square = half / Math.max(Math.abs(Math.cos(t)), Math.abs(Math.sin(t)));
      if (x !== 30) return x < 30 ? square : r;
      return side < 0 ? square : side > 0 ? r : Math.max(square, r);
    },
  });

/** Flutes that start and end at once: the shoulder is there in the flutes and not on the lands. */
export function abruptFlutes(): Field {
  const whole = fluted(100, 20, 8, 2.5, 4);
  return fieldFrom({
    length: 100,
    symmetry: 8,
    breaks: [
      { x: 30, kind: 'shoulder' },
      { x: 70, kind: 'shoulder' },
    ],
    creases: (x) => (x >= 30 && x <= 70 ? whole.creases(x) : []),
    radius: (x, t, side) => {
      const after = x > 30 || (x === 30 && side > 0);
      const before = x < 70 || (x === 70 && side < 0);
      return after && before ? whole.radius(x, t) : 20;
    },
  });
}

/** Flutes whose depth runs out: their arrises draw together and vanish. */
export function runOutFlutes(): Field {
  const deep = (x: number) => 2 * Math.min(1, Math.max(0, (x - 20) / 20), Math.max(0, (80 - x) / 20));
  const half = (D: number) => Math.acos((400 + D * D - 16) / (40 * D));
  return fieldFrom({
    length: 100,
    symmetry: 6,
    breaks: [
      { x: 20, kind: 'edge' },
      { x: 80, kind: 'edge' },
    ],
    creases: (x) => {
      if (deep(x) <= 0) return [];
      const h = half(24 - deep(x));
      return Array.from({ length: 6 }, (_, k) => [(k * TURN) / 6 - h, (k * TURN) / 6 + h])
        .flat()
        .map(wrapTurn)
        .sort((a, b) => a - b);
    },
    radius: (x, t) => {
      if (deep(x) <= 0) return 20;
      const D = 24 - deep(x);
      const off = wrapHalfTurn(t * 6) / 6;
      return Math.abs(off) >= half(D) ? 20 : D * Math.cos(off) - Math.sqrt(16 - (D * Math.sin(off)) ** 2);
    },
  });
}

/** Two balls in a row with a deep crease between them, radii 1 at the ends. */
export const balls = (): Field =>
  fieldFrom({
    length: 40,
    breaks: [{ x: 20, kind: 'crease' }],
    radius: (x) => 1 + Math.sqrt(Math.max(0, 100 - (x < 20 ? x - 10 : x - 30) ** 2)),
  });

/** All of them, named. */
export const hardFields = (): [string, Field][] => [
  ['a winding vee groove', grooved(15, 40, [{ n: 2, pitch: 20, half: 0.15, depth: 2 }])],
  [
    'crossed grooves',
    grooved(15, 12, [
      { n: 12, pitch: 60, half: 0.12, depth: 1 },
      { n: 12, pitch: -60, half: 0.12, depth: 1 },
    ]),
  ],
  [
    'unlike crossed grooves',
    grooved(15, 8, [
      { n: 3, pitch: 30, half: 0.12, depth: 1 },
      { n: 5, pitch: -50, half: 0.2, depth: 1.5 },
    ]),
  ],
  // Turns by 2.4 of its repeats in 2 mm: to widely spaced looks it seems to creep.
  ['a tight thread of six starts', grooved(15, 6, [{ n: 6, pitch: 5, half: 0.12, depth: 1 }])],
  ['winding lobes', lobes()],
  ['a lump', lump()],
  ['a square that steps to a round', squareToRound(20, 24)],
  ['flutes that start at once', abruptFlutes()],
  ['flutes that run out', runOutFlutes()],
  ['two balls', balls()],
  ['twisted flutes', fluted(100, 20, 12, 2.5, 4, 0.5)],
];
