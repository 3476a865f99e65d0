/** Inch documents: every length, and every speed in length a minute, is written in inches and held in millimetres. */
import type { z } from 'zod';
import { inches, MM_PER_INCH } from '../../shared/units.ts';
import { mapNumbers } from './walk.ts';

const LENGTHS = ['mm', 'mm/min'];
/** Rounds off the last bits, so that 1.75 in is 44.45 mm and comes back as 1.75; a billionth of a millimetre is no length. */
const tidy = (v: number, decimals: number): number => (Number.isFinite(v) ? Number(v.toFixed(decimals)) : v);

/** Whether numbers of this unit change between mm and inch documents. */
export const isLength = (unit: string): boolean => LENGTHS.includes(unit);

/** An inch document in mm. @param schema of the document @param value raw document @returns a copy, lengths in mm */
export const lengthsToMm = (schema: z.ZodType, value: unknown): unknown =>
  mapNumbers(schema, value, (n, unit) => (isLength(unit) ? tidy(n * MM_PER_INCH, 9) : n));

/** A document in mm as an inch document. @returns a copy, lengths in inches */
export const lengthsToInches = (schema: z.ZodType, value: unknown): unknown =>
  mapNumbers(schema, value, (n, unit) => (isLength(unit) ? tidy(inches(n), 12) : n));

/** A length as the document writes it. @param mm length @param inch whether in inches @returns at most four decimals */
export const shown = (mm: number, inch: boolean): number => Number((inch ? inches(mm) : mm).toFixed(4));
