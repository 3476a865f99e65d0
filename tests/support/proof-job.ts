/** A peg turned from a square, with its program written by hand: what the proof's tests start from. */
import { benches, bits, controls } from '../../shared/catalog.ts';
import { TURN } from '../../shared/units.ts';
import type { ProgramText, ProofJob } from '../../src/cam/proof/verdict.ts';
import type { Field } from '../../src/profiles/field.ts';
import { cylinder } from './fields.ts';
import { asProgram, HandMoves, type TextOptions, textOf } from './rs274-text.ts';

export const rowOf = <T extends { id: string }>(rows: readonly T[], id: string): T => {
  const found = rows.find((r) => r.id === id);
  if (!found) throw new Error(`no row ${id}`);
  return found;
};
export const bitOf = (id: string) => rowOf(bits, id);
export const controlOf = (id: string) => rowOf(controls, id);

export const LENGTH = 40;
export const RADIUS = 15;
export const SAFE = 55;
/** Where a spiral starts and ends: a little beyond the form, on the stubs. */
export const FROM = -4;
export const TO = LENGTH + 4;

/** A job around a field, blank square of `side`, chuck at −12. */
export function proofJob(with_: Partial<ProofJob> = {}, side = 34, field: Field = cylinder(LENGTH, RADIUS)): ProofJob {
  return {
    field,
    blank: { section: 'square', width: side, height: side, sides: 4, from: -30, to: field.length + 15 },
    stubs: {
      chuck: { from: -10, to: 0, radius: 6 },
      tail: { from: field.length, to: field.length + 15, radius: 5 },
    },
    keepOut: [
      { from: -60, to: -12, radius: 50, what: 'chuck' },
      { from: field.length + 15, to: field.length + 60, radius: 8, what: 'tailstock' },
    ],
    bench: rowOf(benches, 'middle'),
    control: controlOf('four-axis-inverse-time'),
    offsets: { axial: 0, radial: 0 },
    tolerance: 0.03,
    programs: [],
    ...with_,
  };
}

/** Layers going round: each ramps down over one turn at FROM, then winds along to TO, and comes back lifted. */
export function windLayers(
  moves: HandMoves,
  stage: string,
  radii: readonly number[],
  pitch: number,
  above: number,
): void {
  let last = above;
  radii.forEach((r, n) => {
    moves.comment(`stage ${stage}, pass ${n + 1} of ${radii.length}: radius ${r}`);
    moves.rapid({ r: SAFE });
    const theta = Math.ceil(moves.place.theta / TURN - 1e-9) * TURN;
    moves.rapid({ x: FROM, theta });
    moves.rapid({ r: last + 0.5 });
    moves.cut({ r: last }, 500);
    moves.turn(1, { r });
    moves.turn(1);
    moves.turn(Math.ceil((TO - FROM) / pitch), { x: TO });
    moves.turn(1);
    last = r;
  });
  moves.rapid({ r: SAFE });
}

/** A square of 34 mm (corners at 24.04) down to the finished cylinder with a flat bit. */
export function cylinderMoves(finish = RADIUS): HandMoves {
  const moves = new HandMoves();
  moves.rapid({ r: SAFE });
  moves.rapid({ x: FROM, theta: 0 });
  windLayers(moves, 'corners', [22, 20, 18, 17], 3, 24.1);
  windLayers(moves, 'roughing', [16], 3, 17);
  windLayers(moves, 'finishing', [finish], 2, 16);
  return moves;
}

export function cylinderProgram(options: Partial<TextOptions> = {}, finish = RADIUS): ProgramText {
  const o: TextOptions = { control: controlOf('four-axis-inverse-time'), bit: bitOf('flat-6'), ...options };
  return asProgram('peg-1-flat-6.nc', textOf(cylinderMoves(finish).list, o), o.bit);
}
