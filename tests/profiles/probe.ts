/** Ways to look at a field that share nothing with how it is made: sections, dense samples, jumps found by zooming in. */
import { TURN } from '../../shared/units.ts';
import { fieldOf } from '../../src/profiles/build-field.ts';
import type { Design } from '../../src/profiles/design.ts';
import type { Field, Side } from '../../src/profiles/field.ts';
import type { Section } from '../../src/profiles/section.ts';

/** A square blank, a flat facing θ = 0. */
export const squareSection = (side: number): Section => ({
  radius: (t) => side / 2 / Math.max(Math.abs(Math.cos(t)), Math.abs(Math.sin(t))),
  inner: side / 2,
  outer: (side / 2) * Math.SQRT2,
  symmetry: 4,
  corners: [1, 3, 5, 7].map((k) => (k * TURN) / 8),
});

/** A rectangular blank: w along y (θ = ±90°), h along z. */
export const rectangleSection = (w: number, h: number): Section => {
  const corner = Math.atan2(w, h);
  return {
    radius: (t) => Math.min(h / 2 / Math.abs(Math.cos(t)), w / 2 / Math.abs(Math.sin(t))),
    inner: Math.min(w, h) / 2,
    outer: Math.hypot(w, h) / 2,
    symmetry: 2,
    corners: [corner, Math.PI - corner, Math.PI + corner, TURN - corner],
  };
};

/** The field of a design that must be sound. */
export function made(design: Design, section: Section = squareSection(50)): Field {
  const { field, problems } = fieldOf(design, section);
  if (!field) throw new Error(problems.map((p) => `${p.path}: ${p.message}`).join('\n'));
  return field;
}

/** Numbers in [0, 1) from a fixed seed. */
export function random(seed: number): () => number {
  let s = seed >>> 0;
  return () => {
    s = (Math.imul(s, 1664525) + 1013904223) >>> 0;
    return s / 2 ** 32;
  };
}

/** Smallest and largest of dense samples over [x0, x1], both sides of shoulders inside or on its ends. */
export function sampledBounds(field: Field, x0: number, x1: number, steps = 60, angles = 720): [number, number] {
  const thetas = Float64Array.from({ length: angles }, (_, j) => (j * TURN) / angles);
  const out = new Float64Array(angles);
  let [low, high] = [Infinity, -Infinity];
  const look = (x: number, side: Side) => {
    field.ring(x, thetas, out, side);
    for (const r of out) {
      low = Math.min(low, r);
      high = Math.max(high, r);
    }
    for (const theta of field.creases(x, side)) {
      const r = field.radius(x, theta, side);
      low = Math.min(low, r);
      high = Math.max(high, r);
    }
  };
  const xs = Array.from({ length: steps + 1 }, (_, i) => x0 + ((x1 - x0) * i) / steps);
  for (const b of field.breaks) if (b.x >= x0 && b.x <= x1) xs.push(b.x);
  for (const x of xs) for (const side of [-1, 1] as const) look(x, side);
  return [low, high];
}

/**
 * The largest jump of slope inside (a, b): the cell of the greatest second difference, zoomed into until a smooth curve
 * would show none. @returns the jump and where it is
 */
export function slopeJump(f: (t: number) => number, a: number, b: number): { at: number; jump: number } {
  const bend = (t: number, h: number) => Math.abs(f(t + h) - 2 * f(t) + f(t - h)) / h;
  let best = { at: a, jump: 0 };
  // Several of the most bent cells: the most bent need not be the one that stays bent.
  const cells = 300;
  const h = (b - a) / cells;
  const tops = Array.from({ length: cells - 1 }, (_, i) => a + (i + 1) * h)
    .map((t) => ({ t, bend: bend(t, h) }))
    .sort((p, q) => q.bend - p.bend)
    .slice(0, 12);
  for (const top of tops) {
    let { t } = top;
    let step = h;
    for (let zoom = 0; zoom < 5; zoom++) {
      const fine = step / 8;
      const around = Array.from({ length: 15 }, (_, i) => t + (i - 7) * fine).filter(
        (u) => u - fine > a && u + fine < b,
      );
      if (!around.length) break;
      t = around.reduce((m, u) => (bend(u, fine) > bend(m, fine) ? u : m));
      step = fine;
    }
    const jump = bend(t, step);
    if (jump > best.jump) best = { at: t, jump };
  }
  return best;
}

/** Lengths among an element's or a carving's parameters, wherever they stand. */
export const lengthKeys = new Set(
  'length start end rise depth belly run diameter width across from to inset pitch ease projection'.split(' '),
);
/** A design of another size: every length in it times k. A reading's `at` is a length, a spline's is not. */
export function scaled<T>(value: T, k: number, inReading = false): T {
  if (Array.isArray(value)) return value.map((v) => scaled(v, k, inReading)) as T;
  if (value === null || typeof value !== 'object') return value;
  return Object.fromEntries(
    Object.entries(value).map(([key, v]) => [
      key,
      typeof v === 'number'
        ? lengthKeys.has(key) || (key === 'at' && inReading)
          ? v * k
          : v
        : scaled(v, k, key === 'readings'),
    ]),
  ) as T;
}
