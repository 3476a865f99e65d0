/**
 * The bit against one ray, in closed form. The ray starts on the rotary axis, u mm along it from the bit, and leaves at
 * an angle δ from the bit's own direction; its point at distance t lies at (u, t·sin δ) beside the bit's axis and at
 * height t·cos δ above the rotary centre. The bit is everything above its lower surface within its cutting radius.
 * Independent of the planner's own bit shapes on purpose.
 */
import type { Bit, BitKind } from '../../../shared/catalog.ts';
import { radians } from '../../../shared/units.ts';

/** Numbers of a bit that the ray formulas want. */
export interface Shape {
  readonly kind: BitKind;
  /** Cutting radius, mm. */
  readonly R: number;
  /** Ball, corner or tip radius, mm; 0 for flat and vee. */
  readonly q: number;
  /** Radius of the flat in the middle of the end: R − q of a bull-nose, half the tip flat of a vee; 0 elsewhere. */
  readonly f: number;
  /** Rise of the cone per mm away from the axis (cot of the half angle); 0 where there is no cone. */
  readonly k: number;
  /** Distance from the axis at which ball goes over into cone; 0 where there is no such place. */
  readonly join: number;
  /** Height above the tip at which the (drawn-out) cone would meet the axis; 0 where there is none. */
  readonly apex: number;
  /** Height of the lower surface above the tip at the cutting radius, mm. */
  readonly rim: number;
}

/** @param bit a catalog row @returns its shape */
export function shapeOf(bit: Bit): Shape {
  const R = bit.diameter / 2;
  const half = radians(bit.includedAngle_deg / 2);
  const base = { kind: bit.kind, R, q: 0, f: 0, k: 0, join: 0, apex: 0, rim: 0 };
  switch (bit.kind) {
    case 'flat':
      return base;
    case 'ball':
      return { ...base, q: R, rim: R };
    case 'bull':
      return { ...base, q: bit.tipRadius, f: R - bit.tipRadius, rim: bit.tipRadius };
    case 'vee': {
      const f = bit.tipDiameter / 2;
      const k = 1 / Math.tan(half);
      return { ...base, f, k, apex: -k * f, rim: Math.max(0, R - f) * k };
    }
    case 'tapered-ball': {
      const q = bit.tipRadius;
      const k = 1 / Math.tan(half);
      const join = Math.min(R, q * Math.cos(half));
      const apex = q * (1 - Math.sin(half)) - q * Math.cos(half) * k;
      return { ...base, q, k, join, apex, rim: R > join ? apex + k * R : q - Math.sqrt(q * q - R * R) };
    }
  }
}

/**
 * Height of the lower surface above the tip (table in every shop handbook: sphere, torus, cone).
 * @param s shape @param d distance from the bit's axis, mm @returns mm; Infinity beyond the cutting radius
 */
export function rise(s: Shape, d: number): number {
  if (d > s.R) return Infinity;
  switch (s.kind) {
    case 'flat':
      return 0;
    case 'ball':
      return s.R - Math.sqrt(Math.max(0, s.R * s.R - d * d));
    case 'bull': {
      const o = d - s.f;
      return o <= 0 ? 0 : s.q - Math.sqrt(Math.max(0, s.q * s.q - o * o));
    }
    case 'vee':
      return d <= s.f ? 0 : (d - s.f) * s.k;
    case 'tapered-ball':
      return d <= s.join ? s.q - Math.sqrt(Math.max(0, s.q * s.q - d * d)) : s.apex + s.k * d;
  }
}

/**
 * Where a ray enters a ball whose centre stands at height c over the rotary axis.
 * @param q its radius @param u @param c @param sin @param cos of δ @returns t, or Infinity for a miss
 */
function enterBall(q: number, u: number, c: number, sin: number, cos: number): number {
  const D = q * q - u * u - c * c * sin * sin;
  return D < 0 ? Infinity : c * cos - Math.sqrt(D);
}

/**
 * Where a ray enters the upward cone z = a + k·d: the nearer root, on the upper nappe, of (t·cos δ − a)² = k²(u² + t²·sin² δ).
 * @returns t, or Infinity; `from` is the least distance from the axis at which the cone is the bit's surface, `to` the most
 */
function enterCone(k: number, a: number, u: number, sin: number, cos: number, from: number, to: number): number {
  const A = cos * cos - k * k * sin * sin;
  const B = a * cos;
  const D = a * a - k * k * u * u;
  const disc = B * B - A * D;
  if (disc < 0) return Infinity;
  const root = Math.sqrt(disc);
  let best = Infinity;
  for (let n = 0; n < 2; n++) {
    // The second root by the product of both: no cancellation where A is near 0.
    const big = B >= 0 ? B + root : B - root;
    const t = n === 0 ? big / A : D / big;
    if (!(t > 0) || t >= best || t * cos < a - 1e-9) continue;
    const d = Math.hypot(u, t * sin);
    if (d >= from - 1e-9 && d <= to + 1e-9) best = t;
  }
  return best;
}

/**
 * Where a ray enters the bit.
 * @param s shape @param tip height of the tip above the rotary centre, mm, > 0 @param u mm along x from the bit to the ray
 * @param sin @param cos of δ, cos > 0
 * @returns distance from the rotary axis, mm; Infinity for a miss
 */
export function enter(s: Shape, tip: number, u: number, sin: number, cos: number): number {
  const away = Math.abs(u);
  if (away > s.R) return Infinity;
  switch (s.kind) {
    case 'flat': {
      const t = tip / cos;
      return Math.hypot(u, t * sin) <= s.R ? t : Infinity;
    }
    case 'ball':
      return enterBall(s.R, u, tip + s.R, sin, cos);
    case 'vee': {
      const t = tip / cos;
      if (s.f > 0 && Math.hypot(u, t * sin) <= s.f) return t;
      return enterCone(s.k, tip + s.apex, u, sin, cos, s.f, s.R);
    }
    case 'bull': {
      let t = tip / cos;
      let d = Math.hypot(u, t * sin);
      if (d <= s.f) return t;
      // g(t) = t·cos δ − tip − h is concave and not above 0 here: Newton climbs to the first root from the left, or there is none.
      for (let n = 0; n < 40; n++) {
        if (d > s.R) return Infinity;
        const o = d - s.f;
        const e = Math.sqrt(Math.max(0, s.q * s.q - o * o));
        const g = t * cos - tip - (s.q - e);
        if (g >= -1e-9) return t;
        if (e === 0) return Infinity;
        const slope = cos - (o / e) * ((t * sin * sin) / d);
        if (slope <= 0) return Infinity;
        t -= g / slope;
        d = Math.hypot(u, t * sin);
      }
      return d > s.R ? Infinity : t;
    }
    case 'tapered-ball': {
      if (away <= s.join) {
        const t = enterBall(s.q, u, tip + s.q, sin, cos);
        if (t < Infinity && Math.hypot(u, t * sin) <= s.join) return t;
      }
      return s.R > s.join ? enterCone(s.k, tip + s.apex, u, sin, cos, s.join, s.R) : Infinity;
    }
  }
}

/** Whether the ray's point at distance t lies in the bit or in the column above it. */
export function inside(s: Shape, tip: number, u: number, sin: number, cos: number, t: number): boolean {
  const d = Math.hypot(u, t * sin);
  return d <= s.R && t * cos >= tip + rise(s, d);
}

/**
 * Where a ray that entered leaves the bit (with the column of its cutting radius above it): through the side wall, or for a flat-lying
 * ray through the lower surface again. The height of the lower surface along the ray is convex, so there is one way in and one out.
 * @param t0 where it entered, mm @returns mm; Infinity along the bit's own direction
 */
export function leave(s: Shape, tip: number, u: number, sin: number, cos: number, t0: number): number {
  const chord = Math.sqrt(Math.max(0, s.R * s.R - u * u));
  const wall = sin === 0 ? Infinity : chord / Math.abs(sin);
  if (wall === Infinity || wall * cos >= tip + s.rim) return wall;
  let lo = t0 + 1e-9;
  if (!inside(s, tip, u, sin, cos, lo)) return t0;
  let hi = wall;
  for (let n = 0; n < 60; n++) {
    const mid = (lo + hi) / 2;
    if (inside(s, tip, u, sin, cos, mid)) lo = mid;
    else hi = mid;
  }
  return lo;
}
