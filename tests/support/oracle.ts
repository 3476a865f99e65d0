/**
 * Brute force for the contact question: a dense net of exact values over everything under the bit, then nets ever finer
 * around every place that could still win. Slow on purpose, and written from the definition alone: it shares no code
 * with the kernel, not even the bits' profiles.
 */
import type { Bit } from '../../shared/catalog.ts';
import type { Surface } from '../../src/profiles/field.ts';

/** Height of the bit's underside at distance d (≤ R), written out again from the trade's drawing of each kind. */
export function underside(bit: Bit, d: number): number {
  const R = bit.diameter / 2;
  const cot = (deg: number) => 1 / Math.tan((deg * Math.PI) / 360);
  if (bit.kind === 'flat') return 0;
  if (bit.kind === 'ball') return R - Math.sqrt(R * R - d * d);
  if (bit.kind === 'bull') {
    const c = bit.tipRadius;
    const e = d - R + c;
    return e < 0 ? 0 : c - Math.sqrt(Math.max(0, c * c - e * e));
  }
  if (bit.kind === 'vee') return Math.max(0, (d - bit.tipDiameter / 2) * cot(bit.includedAngle_deg));
  const b = (bit.includedAngle_deg * Math.PI) / 360;
  const rho = bit.tipRadius;
  // The flank as a tangent line of the tip's circle, and the circle below the point of tangency.
  return d < rho * Math.cos(b)
    ? rho - Math.sqrt(rho * rho - d * d)
    : rho - rho / Math.sin(b) + d * cot(bit.includedAngle_deg);
}

/**
 * Lowest tip height over (x, θ), found by force.
 * @param step spacing of the first net, mm @returns mm, 0 where there is nothing under the bit
 */
export function oracle(surface: Surface, bit: Bit, x: number, theta: number, y0 = 0, step = 0.05): number {
  const R = bit.diameter / 2;
  const x0 = Math.max(surface.from, x - R);
  const x1 = Math.min(surface.to, x + R);
  if (x0 > x1) return 0;
  const value = (px: number, delta: number, side: -1 | 0 | 1): number => {
    const r = surface.radius(px, theta + delta, side);
    const y = r * Math.sin(delta) - y0;
    const d2 = (px - x) * (px - x) + y * y;
    return d2 > R * R * (1 + 1e-14) ? -Infinity : r * Math.cos(delta) - underside(bit, Math.min(R, Math.sqrt(d2)));
  };
  const rows: { x: number; side: -1 | 0 | 1 }[] = [{ x, side: 0 }].filter((q) => q.x >= x0 && q.x <= x1) as [];
  const n = Math.ceil((x1 - x0) / step);
  for (let i = 0; i <= n; i++) rows.push({ x: i === n ? x1 : x0 + i * step, side: 0 });
  for (const b of surface.breaks) if (b.x >= x0 && b.x <= x1) rows.push({ x: b.x, side: -1 }, { x: b.x, side: 1 });
  let least = Infinity;
  for (const row of rows)
    for (let j = 0; j < 36; j++) least = Math.min(least, surface.radius(row.x, (j * Math.PI) / 18, row.side));
  const reach = (R + Math.abs(y0)) / (0.98 * least);
  const wide = reach >= 1 ? Math.PI / 2 : Math.asin(reach);
  const across = Math.ceil((wide * surface.maxRadius) / step);
  // On a steep flank a sample beside an arris may be this much too low.
  const steep = bit.includedAngle_deg > 0 ? 1 / Math.tan((bit.includedAngle_deg * Math.PI) / 360) : 0;
  const doubt = 0.08 + 0.6 * step * Math.min(8, steep);
  const found: { v: number; x: number; a: number; side: -1 | 0 | 1 }[] = [];
  let best = -Infinity;
  const centre = Math.asin(Math.max(-1, Math.min(1, y0 / least)));
  for (const row of rows)
    for (let j = -across - 1; j <= across; j++) {
      const a = j < -across ? centre : (j * wide) / across;
      const v = value(row.x, a, row.side);
      if (v > best) best = v;
      if (v > best - doubt) found.push({ v, x: row.x, a, side: row.side });
    }
  if (best === -Infinity) return 0;
  found.sort((p, q) => q.v - p.v);
  const places: typeof found = [];
  for (const f of found) {
    if (f.v < best - doubt || places.length >= 40) break;
    if (!places.some((p) => p.side === f.side && Math.abs(p.x - f.x) + Math.abs(p.a - f.a) * f.v < 3 * step))
      places.push(f);
  }
  for (const place of places) {
    let { x: px, a, v } = place;
    let h = 1.5 * step;
    for (let level = 0; level < 28; level++) {
      let nx = px;
      let na = a;
      const pinned = place.side !== 0;
      for (let i = pinned ? 0 : -4; i <= (pinned ? 0 : 4); i++)
        for (let j = -4; j <= 4; j++) {
          const qx = Math.min(x1, Math.max(x0, px + (i * h) / 4));
          const qa = a + (j * h) / 4 / Math.max(0.3, least);
          const q = value(qx, qa, place.side);
          if (q > v) {
            v = q;
            nx = qx;
            na = qa;
          }
        }
      // A net whose best is on its border follows it before it closes in.
      const far = Math.abs(nx - px) > 0.7 * h || Math.abs(na - a) * least > 0.7 * h;
      px = nx;
      a = na;
      h *= far ? 0.9 : 0.6;
      if (v < best - (2 + steep) * 2 * h) break;
    }
    if (v > best) best = v;
  }
  return Math.max(0, best);
}
