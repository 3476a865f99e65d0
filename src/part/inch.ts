/** Inch documents: every length, and every speed in length a minute, is written in inches and held in millimetres. */
import type { z } from 'zod';
import { inches, MM_PER_INCH } from '../../shared/units.ts';
import { mapNumbers } from './walk.ts';

const LENGTHS = ['mm', 'mm/min'];
/** Rounds off the last bits, so that 1.75 in is 44.45 mm and comes back as 1.75; a billionth of a millimetre is no length. */
const tidy = (v: number, decimals: number): number => (Number.isFinite(v) ? Number(v.toFixed(decimals)) : v);

/** Whether numbers of this unit change between mm and inch documents. */
export const isLength = (unit: string): boolean => LENGTHS.includes(unit);

/** @param length in inches @returns mm */
export const toMm = (length: number): number => tidy(length * MM_PER_INCH, 9);
/** @param length in mm @returns inches */
export const toInches = (length: number): number => tidy(inches(length), 12);

/** Inches in mm. @param schema of the value @param value raw @returns a copy, lengths in mm */
export const lengthsToMm = (schema: z.ZodType, value: unknown): unknown =>
  mapNumbers(schema, value, (n, unit) => (isLength(unit) ? toMm(n) : n));

/** Mm in inches. @returns a copy, lengths in inches */
export const lengthsToInches = (schema: z.ZodType, value: unknown): unknown =>
  mapNumbers(schema, value, (n, unit) => (isLength(unit) ? toInches(n) : n));

/** A length as the document writes it. @param mm length @param inch whether in inches @returns at most four decimals */
export const shown = (mm: number, inch: boolean): number => Number((inch ? inches(mm) : mm).toFixed(4));
