/** Takes a bit along one motion in steps so fine that no ridge between two places matters, finer where the part is near. */
import { PROOF_NEAR, PROOF_RIDGE, PROOF_RIDGE_FAR } from '../../../shared/tolerances.ts';
import type { Bite, Cutter } from './remove.ts';
import type { Shape } from './shape.ts';

/** A place of the tip: mm, mm, radians. */
export interface Place {
  x: number;
  r: number;
  theta: number;
}

/** Steps of a pointed bit, mm: its groove's bottom is a row of points. */
const POINT_STEP = 0.06;
/** Rise in one step of a bit that touches slopes with its rim, mm: there the error grows with the step, not with its square. */
const RIM_RISE = 0.01;
/** Depth of wood above the tip that counts when an angle is turned into a way along the surface, mm. */
const WOOD_ABOVE = 2;

/** Step along the surface that leaves ridges of the wanted height under a round end: √(8·R·ε), the chord rule. */
function stepOf(shape: Shape, ridge: number): number {
  if (shape.kind === 'vee') return POINT_STEP;
  if (shape.kind === 'tapered-ball') return Math.max(POINT_STEP, Math.sqrt(8 * shape.q * ridge));
  return Math.sqrt(8 * shape.R * ridge);
}

/**
 * Told after every place.
 * @param length way since the place before, mm @param drop fall of the tip since then, mm @param share of the motion that is done
 */
export type Visit = (place: Place, bite: Bite, length: number, drop: number, share: number) => void;

export class Walker {
  private readonly cutter: Cutter;
  private readonly fine: number;
  private readonly far: number;
  private readonly rim: boolean;
  private near = false;
  private readonly at: Place = { x: 0, r: 0, theta: 0 };

  /** @param coarse multiplies the steps: 1 for proof, more for a quick picture */
  constructor(cutter: Cutter, shape: Shape, coarse = 1) {
    this.cutter = cutter;
    this.fine = stepOf(shape, PROOF_RIDGE) * coarse;
    this.far = Math.max(this.fine, stepOf(shape, PROOF_RIDGE_FAR) * coarse);
    this.rim = coarse === 1 && (shape.kind === 'flat' || (shape.kind === 'bull' && shape.f > 0));
  }

  /**
   * Cuts along one motion, end included, start left out (it was the end of the motion before).
   * @param visit see there; the bite is reused
   */
  along(from: Place, to: Place, visit: Visit): void {
    const dx = to.x - from.x;
    const dr = to.r - from.r;
    const dt = to.theta - from.theta;
    const arc = (Math.max(from.r, to.r, 0) + WOOD_ABOVE) * dt;
    const way = Math.hypot(dx, arc);
    const length = Math.hypot(dx, dr, arc);
    const wayX = way > 0 ? dx / way : 0;
    const wayY = way > 0 ? arc / way : 0;
    const count = Math.max(1, Math.ceil(length / this.far));
    const finer = Math.max(
      1,
      Math.ceil(length / count / this.fine),
      this.rim ? Math.ceil(Math.abs(dr) / count / RIM_RISE) : 1,
    );
    const place = (f: number): Bite => {
      this.at.x = from.x + dx * f;
      this.at.r = from.r + dr * f;
      this.at.theta = from.theta + dt * f;
      return this.cutter.place(this.at.x, this.at.r, this.at.theta, wayX, wayY, false);
    };
    for (let n = 1; n <= count; n++) {
      if (this.near && finer > 1) {
        let least = Infinity;
        for (let k = 1; k <= finer; k++) {
          const f = (n - 1 + k / finer) / count;
          const bite = place(f);
          least = Math.min(least, bite.clear);
          visit(this.at, bite, length / count / finer, -dr / count / finer, f);
        }
        this.near = least < PROOF_NEAR;
        continue;
      }
      const f = n / count;
      const bite = place(f);
      const near = bite.clear < PROOF_NEAR;
      visit(this.at, bite, length / count, -dr / count, f);
      if (near && finer > 1)
        for (let k = 1; k < finer; k++) {
          const g = (n - 1 + k / finer) / count;
          const between = place(g);
          visit(this.at, between, 0, 0, g);
        }
      this.near = near;
    }
  }
}
