/** Small fields written straight from their closed forms: stand-ins for designs, and oracles for kernels. */
import { TURN } from '../../shared/units.ts';
import type { Break, Field, Guide, Side } from '../../src/profiles/field.ts';

interface Shape {
  length: number;
  radius: (x: number, theta: number, side: Side) => number;
  breaks?: Break[];
  symmetry?: number;
  creases?: (x: number) => number[];
  turning?: (x: number) => number;
  guides?: Guide[];
  kept?: { from: number; to: number }[];
}

/** Wraps a plain function as a field; bounds are sampled and widened, good enough for tests. */
export function fieldFrom(s: Shape): Field {
  const symmetry = s.symmetry ?? Infinity;
  const round = symmetry === Infinity;
  const clamp = (x: number) => Math.min(s.length, Math.max(0, x));
  const radius = (x: number, theta: number, side: Side = 0) => s.radius(clamp(x), theta, side);
  const bounds = (x0: number, x1: number): [number, number] => {
    let lo = Infinity;
    let hi = -Infinity;
    const xs = Array.from({ length: 65 }, (_, i) => x0 + ((x1 - x0) * i) / 64);
    for (const b of s.breaks ?? []) if (b.x >= x0 && b.x <= x1) xs.push(b.x);
    for (const x of xs)
      for (let j = 0; j < (round ? 1 : 720); j++)
        for (const side of [-1, 1] as const) {
          const r = radius(x, (j * TURN) / 720, side);
          lo = Math.min(lo, r);
          hi = Math.max(hi, r);
        }
    const slack = (hi - lo) * 0.02 + 1e-9;
    return [lo - slack, hi + slack];
  };
  const [minRadius, maxRadius] = bounds(0, s.length);
  return {
    from: 0,
    to: s.length,
    length: s.length,
    minRadius,
    maxRadius,
    symmetry,
    breaks: s.breaks ?? [],
    guides: s.guides ?? [],
    holes: [],
    kept: s.kept ?? [],
    radius,
    ring: (x, thetas, out, side = 0) => {
      for (let j = 0; j < thetas.length; j++) out[j] = radius(x, thetas[j]!, side);
    },
    bounds,
    isRound: () => round,
    creases: (x) => s.creases?.(clamp(x)) ?? [],
    turning: (x) => s.turning?.(clamp(x)) ?? 0,
  };
}

export const cylinder = (length: number, r: number): Field => fieldFrom({ length, radius: () => r });

export const cone = (length: number, r0: number, slope: number): Field =>
  fieldFrom({ length, radius: (x) => r0 + slope * x });

/** Sphere of radius S centred in the middle, cut off by `trim` at both ends so that r stays positive. */
export const sphere = (S: number, trim: number): Field => {
  const length = 2 * (S - trim);
  return fieldFrom({ length, radius: (x) => Math.sqrt(Math.max(1e-6, S * S - (x - length / 2) ** 2)) });
};

/** A step from r1 down (or up) to r2 at x = at. */
export const step = (length: number, at: number, r1: number, r2: number): Field =>
  fieldFrom({
    length,
    breaks: [{ x: at, kind: 'shoulder' }],
    radius: (x, _theta, side) => (x < at ? r1 : x > at ? r2 : side < 0 ? r1 : side > 0 ? r2 : Math.max(r1, r2)),
  });

/** n circular-arc flutes of depth d and arc radius c in a cylinder r, turned by `turns` over the length. */
export function fluted(length: number, r: number, n: number, depth: number, c: number, turns = 0): Field {
  const centre = r - depth + c;
  const turning = (x: number) => (turns * TURN * x) / length;
  // Half the angle that one flute takes at the surface: where the arc meets the circle r.
  const half = Math.acos((r * r + centre * centre - c * c) / (2 * r * centre));
  return fieldFrom({
    length,
    symmetry: n,
    turning,
    creases: (x) =>
      Array.from({ length: n }, (_, k) => [(k * TURN) / n - half + turning(x), (k * TURN) / n + half + turning(x)])
        .flat()
        .map((a) => ((a % TURN) + TURN) % TURN)
        .sort((a, b) => a - b),
    guides: Array.from({ length: n }, (_, k) => ({
      kind: 'flute' as const,
      label: `flute ${k + 1}`,
      line: Float64Array.from({ length: 202 }, (_v, i) => {
        const x = (length * (i >> 1)) / 100;
        return i % 2 ? (k * TURN) / n + turning(x) : x;
      }),
      width: 2 * r * Math.sin(half),
      depth,
      bottomRadius: c,
    })),
    radius: (x, theta) => {
      const step = TURN / n;
      const t = theta - turning(x);
      const off = t - Math.round(t / step) * step;
      if (Math.abs(off) >= half) return r;
      return centre * Math.cos(off) - Math.sqrt(c * c - (centre * Math.sin(off)) ** 2);
    },
  });
}

/** A square prism of half side a, a flat facing θ = 0. */
export const prism = (length: number, a: number): Field =>
  fieldFrom({
    length,
    symmetry: 4,
    creases: () => [1, 3, 5, 7].map((k) => (k * TURN) / 8),
    radius: (_x, theta) => a / Math.max(Math.abs(Math.cos(theta)), Math.abs(Math.sin(theta))),
  });
