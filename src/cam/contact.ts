/**
 * The contact kernel: how low a bit's tip may go at (x, θ) without taking anything of the part,
 *
 *     z*(x, θ) = max over the surface under the bit of ( z − h(d) ),  z = r·cos δ,  y = r·sin δ,  d = hypot(x′ − x, y − y₀).
 *
 * Samples find the candidates, exact values of the field around them settle the answer.
 */
import type { Bit } from '../../shared/catalog.ts';
import { SAME_X } from '../../shared/tolerances.ts';
import { TURN } from '../../shared/units.ts';
import type { Side, Surface } from '../profiles/field.ts';
import { lowerProfile } from './bit.ts';
import { Probe } from './contact-probe.ts';

/** Answers where the tip of one bit may stand over one surface. */
export interface Contact {
  /**
   * Lowest tip radius that takes nothing of the surface; at least exact − CONTACT_BELOW and at most exact + CONTACT_ABOVE.
   * @param x place along the axis, mm @param theta angle that faces the bit, radians, any turn
   * @param y0 offset of the bit's axis from the centre plane, mm, default 0
   * @returns mm ≥ 0; 0 where no surface is under the bit
   */
  lowest(x: number, theta: number, y0?: number): number;
  /** `lowest` for many positions of one path in their order. @param xs mm @param thetas radians @param out filled with mm */
  along(xs: Float64Array, thetas: Float64Array, out: Float64Array): void;
}

/** @param options from, to: ends of the material along x, mm; default the surface's own */
export function contactFor(surface: Surface, bit: Bit, options: { from?: number; to?: number } = {}): Contact {
  const from = options.from ?? surface.from;
  const to = options.to ?? surface.to;
  const R = bit.diameter / 2;
  const height = lowerProfile(bit);
  const probe = new Probe(surface, height, R, from, to);
  const spacing = Math.min(0.25, R / 8);
  const cross = Math.max(16, Math.ceil((2 * R) / spacing));

  const lowest = (x: number, theta: number, y0 = 0): number => {
    const x0 = Math.max(from, x - R);
    const x1 = Math.min(to, x + R);
    if (x0 > x1) return 0;
    const rows: { x: number; side: Side }[] = [];
    const n = Math.max(1, Math.ceil((x1 - x0) / spacing));
    for (let i = 0; i <= n; i++) rows.push({ x: x0 + ((x1 - x0) * i) / n, side: 0 });
    for (const b of surface.breaks)
      if (b.x >= x0 - SAME_X && b.x <= x1 + SAME_X)
        for (const side of b.kind === 'shoulder' ? ([-1, 1] as const) : ([0] as const)) rows.push({ x: b.x, side });
    if (x >= x0 && x <= x1) rows.push({ x, side: 0 });
    probe.aim(x, theta, y0);
    const [lo] = surface.bounds(x0, x1);
    const seen: { v: number; x: number; t: number; side: Side }[] = [];
    for (const row of rows) {
      const c = Math.sqrt(Math.max(0, R * R - (row.x - x) ** 2));
      const angle = (y: number) => Math.asin(Math.max(-1, Math.min(1, y / Math.max(lo, 1e-9))));
      const a0 = angle(y0 - c);
      const a1 = angle(y0 + c);
      for (let j = 0; j <= cross; j++) {
        const t = theta + a0 + ((a1 - a0) * j) / cross;
        const v = probe.at(row.x, t, row.side, row.side !== 0);
        if (v > -Infinity) seen.push({ v, x: row.x, t, side: row.side });
      }
      for (const crease of surface.creases(row.x, row.side)) {
        const delta = crease - theta - Math.round((crease - theta) / TURN) * TURN;
        if (delta < a0 || delta > a1) continue;
        const v = probe.at(row.x, theta + delta, row.side, row.side !== 0);
        if (v > -Infinity) seen.push({ v, x: row.x, t: theta + delta, side: row.side });
      }
    }
    if (seen.length === 0) return 0;
    seen.sort((p, q) => q.v - p.v);
    let best = seen[0]!.v;
    const tried: typeof seen = [];
    for (const s of seen) {
      if (s.v < best - 0.5 || tried.length >= 8) break;
      const r = Math.max(1, s.v);
      if (tried.some((t) => t.side === s.side && Math.abs(t.x - s.x) + r * Math.abs(t.t - s.t) < 2 * spacing)) continue;
      tried.push(s);
      best = Math.max(best, probe.climb(s.x, s.t, s.side, spacing, 24));
    }
    return Math.max(0, best);
  };

  return {
    lowest,
    along: (xs, thetas, out) => {
      for (let i = 0; i < xs.length; i++) out[i] = lowest(xs[i]!, thetas[i]!);
    },
  };
}
