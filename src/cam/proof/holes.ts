/** Radial holes of the part: there the bit may go below the surface, within the hole's own cylinder. */
import { TURN, wrapHalfTurn } from '../../../shared/units.ts';
import type { Field, Hole } from '../../profiles/field.ts';
import { type Grid, rowFrom } from './grid.ts';
import { IN_HOLE, type Wood } from './wood.ts';

interface Bore {
  readonly hole: Hole;
  /** Distance from the rotary axis to the hole's bottom, mm. */
  readonly bottom: number;
}

export class Holes {
  private readonly grid: Grid;
  private readonly tolerance: number;
  private readonly bores: readonly Bore[];

  /** Marks the rays that pass holes. */
  constructor(field: Field, wood: Wood, tolerance: number) {
    this.grid = wood.grid;
    this.tolerance = tolerance;
    this.bores = field.holes.map((hole) => ({ hole, bottom: field.radius(hole.x, hole.theta) - hole.depth }));
    const m = this.grid.columns;
    for (const { hole, bottom } of this.bores) {
      const R = hole.diameter / 2 + tolerance;
      for (let i = rowFrom(this.grid, hole.x - R); i < this.grid.xs.length && this.grid.xs[i]! <= hole.x + R; i++)
        for (let j = 0; j < m; j++) {
          const delta = wrapHalfTurn((TURN * j) / m - hole.theta);
          if (Math.cos(delta) > 0 && Math.max(0, bottom) * Math.abs(Math.sin(delta)) <= R)
            wood.flags[i * m + j]! |= IN_HOLE;
        }
    }
  }

  /** Whether taking [from, to] from a ray stays inside a hole, apart from what lies above the part's surface anyway. */
  allow(row: number, column: number, from: number, to: number): boolean {
    const x = this.grid.xs[row]!;
    const surface = this.grid.part[row * this.grid.columns + column]!;
    const end = Math.min(to, surface);
    return this.bores.some(({ hole, bottom }) => {
      const R = hole.diameter / 2 + this.tolerance;
      const u = x - hole.x;
      const c2 = R * R - u * u;
      if (c2 < 0) return false;
      const delta = wrapHalfTurn((TURN * column) / this.grid.columns - hole.theta);
      const side = end * Math.sin(delta);
      return side * side <= c2 && from * Math.cos(delta) >= bottom - this.tolerance;
    });
  }

  /** Holes whose bottom still holds wood. @returns the hole and the wood above its bottom, mm */
  undone(wood: Wood): { hole: Hole; left: number }[] {
    const m = this.grid.columns;
    return this.bores.flatMap(({ hole, bottom }) => {
      const row = Math.min(this.grid.xs.length - 1, rowFrom(this.grid, hole.x));
      const column = ((Math.round((hole.theta / TURN) * m) % m) + m) % m;
      const left = wood.outer[row * m + column]! - bottom;
      // A drill's own point may leave a cone as high as its radius.
      return left > hole.diameter / 2 + this.tolerance ? [{ hole, left }] : [];
    });
  }
}
