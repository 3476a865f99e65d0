/** A whole document between inches and mm: its lengths, and the limits of knobs that set lengths. */
import { partSchema } from './document.ts';
import { lengthsToInches, lengthsToMm, toInches, toMm } from './inch.ts';
import { withKnobLengths } from './knobs.ts';

/** @param document raw, in inches @returns a copy in mm */
export const documentToMm = (document: unknown): unknown =>
  withKnobLengths(partSchema, lengthsToMm(partSchema, document), toMm);

/** @param document in mm @returns a copy in inches */
export const documentToInches = (document: unknown): unknown =>
  withKnobLengths(partSchema, lengthsToInches(partSchema, document), toInches);
