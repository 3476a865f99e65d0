/** The solid of a part as files: built, checked, measured. */
import type { Problem } from '../../shared/problems.ts';
import { checkSolid } from '../mesh/check.ts';
import type { KernelOptions } from '../mesh/kernel.ts';
import { type Measures, measure } from '../mesh/measure.ts';
import { type SolidOptions, solidOf } from '../mesh/solid.ts';
import { writeStl } from '../mesh/stl.ts';
import { write3mf } from '../mesh/threemf.ts';
import type { Part } from '../part/document.ts';
import type { Field } from '../profiles/field.ts';

/** Plain data, so that it may come from another thread. */
export interface SolidFiles {
  readonly stl: Uint8Array;
  readonly threemf: Uint8Array;
  readonly measures: Measures;
  /** Empty for a sound solid. */
  readonly problems: readonly Problem[];
}

/** Makes the solid of a part; the other thread's version gets its field from the part itself. */
export type SolidMaker = (part: Part, field: Field) => Promise<SolidFiles>;

/** What the solid has beside its form, as the mesh layer takes it. */
export function solidOptions(part: Part, field: Field): SolidOptions {
  const { tolerance, tenons, bore } = part.solid;
  const ends = (['chuck', 'tail'] as const).flatMap((end) => (tenons[end] ? [{ end, ...tenons[end] }] : []));
  const whole = field.length + ends.reduce((sum, t) => sum + t.length, 0);
  return {
    tolerance,
    tenons: ends,
    ...(bore
      ? {
          bore:
            bore.from === 'through'
              ? { end: 'chuck' as const, diameter: bore.diameter, depth: whole }
              : { end: bore.from, diameter: bore.diameter, depth: bore.depth! },
        }
      : {}),
  };
}

/** @param kernel where the solid kernel's file lies, in a page @returns what makes the solid in this thread */
export const solidHere =
  (kernel: KernelOptions = {}): SolidMaker =>
  async (part, field) => {
    const options = { ...solidOptions(part, field), ...kernel };
    const solid = await solidOf(field, options);
    try {
      const problems = checkSolid(solid, field, options);
      const mesh = solid.mesh();
      return { stl: writeStl(mesh), threemf: write3mf(mesh), measures: measure(solid), problems };
    } finally {
      solid.free();
    }
  };
