/** The half outline of a form, for small drawings. */
import type { Field } from '../profiles/field.ts';
import { outlineDrawing } from '../profiles/sample.ts';
import type { MadeVariant } from './line.ts';

/** How far the drawing may lie from the form, and its longest step, mm: a tenth of a printed line at a scale of 1 to 4. */
const TOLERANCE = 0.1;
const LONGEST = 25;
const tidy = (v: number): number => Number(v.toFixed(3));

/** @returns x from the chuck-end face on and the largest radius there, mm, ascending; a shoulder stands twice */
export function silhouetteOf(field: Field): MadeVariant['silhouette'] {
  const { x, most } = outlineDrawing(field, TOLERANCE, LONGEST);
  return Array.from(x, (at, i) => [tidy(at), tidy(most[i]!)] as const);
}
