/**
 * The surface that a bit can leave at best, and what stands above the part after it: the lower envelope of the bit over
 * all its positions (contact kernel, then erosion), on a grid.
 * What it answers is never below the true surface that the bit leaves, since it knows only the positions of its grid: on
 * top of the truth lie at most the ridges between those, about spacing²/8 times 1/R + 1/r (0.01 mm for 0.5 mm and a 6 mm ball).
 */
import type { Bit } from '../../shared/catalog.ts';
import { TURN, wrapTurn } from '../../shared/units.ts';
import type { Surface } from '../profiles/field.ts';
import { profileOf } from './bit.ts';
import type { Heights } from './contact-heights.ts';
import { rayEntry } from './ray-entry.ts';

/** A surface left on a grid. */
export interface Reach {
  /** mm, even. */
  readonly xs: Float64Array;
  /** Columns over one period of the work, θ = column·period/columns. */
  readonly columns: number;
  readonly period: number;
  /** Radius left, mm; index = row·columns + column. */
  readonly left: Float32Array;
  /** Largest of the grid points around (x, θ), mm. */
  at(x: number, theta: number): number;
}

/** Spacing of the grid, mm: along x, and round the work at its largest radius. */
const SPACING = 0.5;

/**
 * The surface that a bit leaves over [from, to] when its passes lie as close as the grid.
 * @param from mm @param to mm, from < to @param spacing of the grid, mm
 */
export function reachOf(work: Surface, contact: Heights, bit: Bit, from: number, to: number, spacing = SPACING): Reach {
  const R = bit.diameter / 2;
  const profile = profileOf(bit);
  const rows = Math.max(2, Math.ceil((to - from) / spacing) + 1);
  const dx = (to - from) / (rows - 1);
  const round = work.isRound(Math.max(work.from, from - 2 * R), Math.min(work.to, to + 2 * R));
  const period = Number.isFinite(work.symmetry) ? TURN / work.symmetry : TURN;
  const columns = round ? 1 : Math.max(8, Math.ceil((period * work.bounds(from, to)[1]) / spacing));
  const step = period / columns;
  const xs = Float64Array.from({ length: rows }, (_, i) => from + i * dx);
  const left = new Float32Array(rows * columns).fill(Infinity);
  // Positions a radius beyond both ends also reach in.
  const margin = Math.ceil(R / dx);
  const thetas = Float64Array.from({ length: columns }, (_, j) => j * step);
  const tips = new Float64Array(columns);
  for (let p = -margin; p < rows + margin; p++) {
    const px = from + p * dx;
    if (px < work.from || px > work.to) continue;
    contact.along(new Float64Array(columns).fill(px), thetas, tips);
    for (let i = Math.max(0, p - margin); i <= Math.min(rows - 1, p + margin); i++) {
      const u = Math.abs(xs[i] - px);
      if (u > R) continue;
      const c = Math.sqrt(R * R - u * u);
      for (let j = 0; j < columns; j++) {
        const r = tips[j];
        const reach = round ? 0 : Math.min(Math.floor(Math.atan2(c, r) / step), Math.floor(1.5 / step));
        for (let k = -reach; k <= reach; k++) {
          const t = rayEntry(profile, u, k * step, r);
          const at = i * columns + ((((j + k) % columns) + columns) % columns);
          if (t < left[at]) left[at] = t;
        }
      }
    }
  }
  return {
    xs,
    columns,
    period,
    left,
    at: (x, theta) => {
      const place = Math.max(0, Math.min(rows - 1, (x - from) / dx));
      const around = (wrapTurn(theta) % period) / step;
      let most = 0;
      for (const i of [Math.floor(place), Math.ceil(place)])
        for (const j of [Math.floor(around), Math.ceil(around)])
          most = Math.max(most, left[i * columns + (j % columns)]);
      return most;
    },
  };
}

/** What stands above the work after bits that have each done all they can. @returns mm ≥ 0 at (x, θ), on the coarsest of the grids */
export function restAfter(work: Surface, reaches: readonly Reach[]): (x: number, theta: number) => number {
  return (x, theta) => {
    let left = Infinity;
    for (const reach of reaches) left = Math.min(left, reach.at(x, theta));
    return Math.max(0, left - work.radius(x, theta));
  };
}
