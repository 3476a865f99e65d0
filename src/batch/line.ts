/** A product line: one part document, and a row for each variant of it. The contract between what makes, prices and nests them. */
import type { Problem } from '../../shared/problems.ts';
import type { Report } from '../build/report.ts';
import type { Part } from '../part/document.ts';

/** One row of the line, before it is made. */
export interface Variant {
  /** What it is called in the table; unique in the line, as its slug is. */
  readonly name: string;
  /** Name of its folder and its files: lower-case letters, digits and hyphens. */
  readonly slug: string;
  /** Pieces wanted, 1 or more. */
  readonly quantity: number;
  /** Line of the table that it came from; the variants of one sweep share it. */
  readonly row: number;
  /** What every knob stands at, by knob id, in the document’s own unit (inches in an inch document). */
  readonly knobs: Readonly<Record<string, number | string | boolean>>;
  /** The document with everything set, checked, lengths in mm. */
  readonly part: Part;
}

/** A variant that went through the pipeline. */
export interface MadeVariant {
  readonly variant: Variant;
  /** invalid: it cannot be resolved to a job; refused: by fit, solid or proof; proven: every program. */
  readonly verdict: 'proven' | 'refused' | 'invalid';
  readonly problems: readonly Problem[];
  /** There unless the part could not be planned. */
  readonly report?: Report;
  /** Half outline for drawings: x from the chuck-end face on, mm, ascending, and the outer radius there, mm; empty where there is no form. */
  readonly silhouette: readonly (readonly [number, number])[];
  /** Seconds that making it took on one core; 0 when it was taken over unchanged. Never written into a file that must be the same again. */
  readonly seconds: number;
}
