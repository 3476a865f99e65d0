/** A stage's surroundings as the stages before it leave them, and what its passes are asked about. */
import type { Bit } from '../../shared/catalog.ts';
import type { Job } from '../../src/cam/job.ts';
import type { Moves, Pass } from '../../src/cam/path.ts';
import { type StageContext, stageContext } from '../../src/cam/stages/context.ts';
import { oracle } from './oracle.ts';

/** Everything taken down to the work, but for a skin; `bit` leaves the skin above what it can reach, else it follows the work. */
export function skinned(job: Job, skin = 0.4, bit?: Bit): StageContext {
  const ctx = stageContext(job);
  const { wood, work } = ctx;
  const thetas = Float64Array.from({ length: wood.columns }, (_, j) => j * wood.dTheta);
  const low = new Float64Array(wood.columns);
  for (let i = 0; i < wood.rows; i++) {
    const x = wood.from + i * wood.dx;
    if (bit) ctx.contact(bit).along(new Float64Array(wood.columns).fill(x), thetas, low);
    for (let j = 0; j < wood.columns; j++) wood.lower(i, j, Math.max(low[j], work.radius(x, thetas[j])) + skin);
  }
  return ctx;
}

/** A generator of numbers in [0, 1) from a seed: the same in every run. */
export function random(seed: number): () => number {
  let s = seed;
  return () => {
    s = (s * 16807) % 2147483647;
    return s / 2147483647;
  };
}

export interface Place {
  x: number;
  r: number;
  theta: number;
}

/** Places on moves at feed, spread by a seed. */
export function placesOn(moves: Moves, count: number, seed: number): Place[] {
  const next = random(seed);
  const places: Place[] = [];
  while (places.length < count) {
    const i = 1 + Math.floor(next() * (moves.count - 1));
    if (moves.kind[i] === 0) continue;
    const s = next();
    const at = (v: Float64Array) => v[i - 1] + (v[i] - v[i - 1]) * s;
    places.push({ x: at(moves.x), r: at(moves.r), theta: at(moves.theta) });
  }
  return places;
}

/** Deepest that moves at feed go below what the work allows the bit, by force; negative is a gouge, mm. */
export function leastAbove(ctx: StageContext, bit: Bit, passes: readonly Pass[], count = 60, seed = 5): number {
  let least = Infinity;
  for (const pass of passes)
    for (const p of placesOn(pass.moves, count, seed))
      least = Math.min(least, p.r - oracle(ctx.work, bit, p.x, p.theta, 0, 0.1));
  return least;
}

/** How often θ goes back over all moves of passes, by more than the hair that links may round away. */
export function turnsBack(passes: readonly Pass[]): number {
  let count = 0;
  for (const { moves } of passes)
    for (let i = 1; i < moves.count; i++) if (moves.theta[i] < moves.theta[i - 1] - 1e-8) count++;
  return count;
}

/** Turns that a path spends with x standing at a place, up to `hair` mm. */
export function turnsAt(moves: Moves, x: number, hair = 1e-6): number {
  let turned = 0;
  for (let i = 1; i < moves.count; i++)
    if (moves.kind[i] === 2 && Math.abs(moves.x[i] - x) <= hair && Math.abs(moves.x[i - 1] - x) <= hair)
      turned += moves.theta[i] - moves.theta[i - 1];
  return turned / (2 * Math.PI);
}
