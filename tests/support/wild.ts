/** Random surfaces of everything that a design may carry, and random bits: seeded, closed forms, for kernels' tests. */
import type { Bit, BitKind } from '../../shared/catalog.ts';
import { TURN, wrapHalfTurn } from '../../shared/units.ts';
import type { Break, Surface } from '../../src/profiles/field.ts';
import { fieldFrom } from './fields.ts';

/** A small generator of random numbers (a linear congruential one with the constants of Numerical Recipes, 2nd ed.). */
export function dice(seed: number): (lo: number, hi: number) => number {
  let s = seed >>> 0;
  const next = () => {
    s = (Math.imul(s, 1664525) + 1013904223) >>> 0;
    return s / 4294967296;
  };
  for (let i = 0; i < 8; i++) next();
  return (lo, hi) => lo + (hi - lo) * next();
}

export function bitOf(kind: BitKind, numbers: Partial<Bit> = {}): Bit {
  return {
    id: kind,
    label: kind,
    source: 'made for a test',
    kind,
    diameter: 6,
    tipRadius: 0,
    tipDiameter: 0,
    includedAngle_deg: 0,
    fluteLength: 22,
    reach: 30,
    shank: 6,
    stickOut: 32,
    holder: 20,
    holderLength: 20,
    teeth: 2,
    centreCutting: true,
    ...numbers,
  };
}

export const kinds: BitKind[] = ['flat', 'ball', 'bull', 'vee', 'tapered-ball'];

export function wildBit(kind: BitKind, roll: (lo: number, hi: number) => number): Bit {
  const diameter = roll(2, 9);
  switch (kind) {
    case 'flat':
      return bitOf(kind, { diameter });
    case 'ball':
      return bitOf(kind, { diameter, tipRadius: diameter / 2 });
    case 'bull':
      return bitOf(kind, { diameter, tipRadius: roll(0.1, 0.45) * diameter });
    case 'vee':
      return bitOf(kind, {
        diameter,
        includedAngle_deg: [30, 60, 90, 120][Math.floor(roll(0, 4))]!,
        tipDiameter: roll(0, 1) < 0.5 ? 0 : roll(0.1, 0.8),
      });
    case 'tapered-ball':
      return bitOf(kind, {
        diameter: roll(3, 7),
        tipRadius: [0.25, 0.5, 1][Math.floor(roll(0, 3))]!,
        includedAngle_deg: roll(6, 40),
      });
  }
}

/** What one stretch of a wild surface is cut to. */
export const wilds = ['plain', 'flutes', 'reeds', 'prism', 'facets', 'groove', 'lobes'] as const;
type Wild = (typeof wilds)[number];

/**
 * A part of a few stretches with shoulders between some of them, each stretch of its own outline (cylinder, taper,
 * bead, cove) and carving.
 */
export function wildSurface(roll: (lo: number, hi: number) => number, only?: Wild): Surface {
  const length = 40;
  const cuts = [0, roll(8, 13), roll(17, 22), roll(26, 32), length];
  const base = roll(7, 18);
  const stretches = cuts.slice(1).map((to, i) => {
    const from = cuts[i]!;
    const wild = only ?? wilds[Math.floor(roll(0, wilds.length))]!;
    const form = Math.floor(roll(0, 4));
    const r0 = base + (roll(0, 1) < 0.5 ? 0 : roll(-2.5, 2.5));
    const slope = roll(-0.5, 0.5);
    const middle = (from + to) / 2;
    const half = (to - from) / 2;
    const c = half * roll(1.05, 2);
    const sag = c - Math.sqrt(c * c - half * half);
    const low = r0 - sag < 4 ? 0 : 1;
    const outline = (x: number): number => {
      if (form === 1) return Math.max(4, r0 + slope * (x - middle));
      const arc = Math.sqrt(c * c - (x - middle) ** 2) - (c - sag);
      if (form === 2) return r0 + arc;
      if (form === 3) return r0 - low * arc;
      return r0;
    };
    const n = Math.floor(roll(3, 11));
    const twist = roll(-0.12, 0.12);
    const depth = roll(0.3, 1.2);
    const width = roll(1.2, 3);
    const pitch = roll(5, 16) * (roll(0, 1) < 0.5 ? -1 : 1);
    const vee = roll(0, 1) < 0.5;
    const carved = (x: number, theta: number): number => {
      const r = outline(x);
      const t = theta - twist * (x - from);
      const step = TURN / n;
      const off = t - Math.round(t / step) * step;
      switch (wild) {
        case 'plain':
          return r;
        case 'flutes': {
          // A circular arc of radius a whose bottom lies `depth` below the outline.
          const a = Math.max(depth * 1.2, width);
          const centre = r - depth + a;
          const reach = a * a - (centre * Math.sin(off)) ** 2;
          return reach <= 0 ? r : Math.min(r, centre * Math.cos(off) - Math.sqrt(reach));
        }
        case 'reeds':
          return r - depth * (1 - Math.cos((off / step) * Math.PI));
        case 'prism': {
          const q = theta - Math.round(theta / (TURN / 4)) * (TURN / 4);
          return Math.min(r * 1.25, (r * 0.9) / Math.cos(q));
        }
        case 'facets':
          return Math.min(r, (r * 0.97 * Math.cos(step / 2)) / Math.cos(off) + 0.02 * r);
        case 'groove': {
          const along = wrapHalfTurn(theta - (x * TURN) / pitch) * (pitch / TURN);
          const q = Math.abs(along) / (width / 2);
          if (q >= 1) return r;
          return r - depth * (vee ? 1 - q : Math.sqrt(1 - q * q));
        }
        case 'lobes':
          return r - depth * (1 - Math.cos(n * t)) * 0.5;
      }
    };
    return { from, to, wild, carved };
  });
  const at = (x: number, theta: number, side: number): number => {
    let i = 0;
    while (i < stretches.length - 1 && x > stretches[i]!.to) i++;
    // On a shoulder: the stretch before it, the one after it, or the larger of the two.
    const here = stretches[i]!;
    const next = stretches[i + 1];
    if (x !== here.to || next === undefined || side < 0) return here.carved(x, theta);
    return side > 0 ? next.carved(x, theta) : Math.max(here.carved(x, theta), next.carved(x, theta));
  };
  const field = fieldFrom({
    length,
    symmetry: 1,
    breaks: cuts.slice(1, -1).map((x): Break => ({ x, kind: 'shoulder' })),
    radius: at,
  });
  return {
    ...field,
    isRound: (x0, x1) => stretches.every((s) => s.wild === 'plain' || s.to < x0 || s.from > x1),
  };
}
