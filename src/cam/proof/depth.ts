/** How deep below, or high above, the part's surface a point of a ray lies, measured the shortest way and not only along the ray. */
import { TURN } from '../../../shared/units.ts';
import type { Grid } from './grid.ts';

/** Steps that a search goes aside at the most. */
const FAR = 64;

/** Distance from (0, h) to the segment (ax, ay)–(bx, by). */
function toSegment(h: number, ax: number, ay: number, bx: number, by: number): number {
  const dx = bx - ax;
  const dy = by - ay;
  const l2 = dx * dx + dy * dy;
  const f = l2 > 0 ? Math.min(1, Math.max(0, (-ax * dx + (h - ay) * dy) / l2)) : 0;
  const x = ax + f * dx;
  const y = ay + f * dy - h;
  return Math.sqrt(x * x + y * y);
}

/**
 * Distance of a point to the part's surface, looked for along x and round the part.
 * @param row @param column of the ray @param radius of the point on it, mm
 * @returns mm ≥ 0; never more than the distance along the ray
 */
export function surfaceDistance(grid: Grid, row: number, column: number, radius: number): number {
  const { part, columns: m, xs } = grid;
  const here = part[row * m + column]!;
  let best = Math.abs(radius - here);
  for (let way = -1; way <= 1; way += 2) {
    let ax = 0;
    let ay = here;
    for (let k = 1; k <= FAR; k++) {
      const i = row + way * k;
      if (i < 0 || i >= xs.length) break;
      const bx = xs[i]! - xs[row]!;
      const by = part[i * m + column]!;
      best = Math.min(best, toSegment(radius, ax, ay, bx, by));
      if (Math.abs(bx) >= best) break;
      ax = bx;
      ay = by;
    }
    ax = 0;
    ay = here;
    const arc = (TURN / m) * Math.max(radius, 0.1);
    for (let k = 1; k <= FAR; k++) {
      const j = (((column + way * k) % m) + m) % m;
      const bx = way * k * arc;
      const by = part[row * m + j]!;
      best = Math.min(best, toSegment(radius, ax, ay, bx, by));
      if (Math.abs(bx) >= best) break;
      ax = bx;
      ay = by;
    }
  }
  return best;
}
