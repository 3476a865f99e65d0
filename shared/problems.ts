/**
 * Errors are data. One closed list of codes; kernels return problems, shells print them.
 * `throw` is left for a programmer's own error.
 */

export type Severity = 'refuse' | 'warn' | 'note';

/** Codes of what may be wrong with a document, a fit or a plan (before any program text exists). */
export type ProblemCode =
  // the document
  | 'not-json'
  | 'wrong-shape'
  | 'unknown-key'
  | 'out-of-limits'
  | 'unknown-name'
  | 'unreadable'
  | 'knob'
  // the table of a line
  | 'table-text'
  | 'table-column'
  | 'table-cell'
  | 'table-name'
  // the form and its carvings
  | 'elements-too-long'
  | 'elements-too-short'
  | 'element-shape'
  | 'form-too-thin'
  | 'carving-range'
  | 'carving-too-deep'
  // blank, bench, bits
  | 'blank-too-small'
  | 'blank-too-large'
  | 'blank-too-long'
  | 'swing'
  | 'room-above'
  | 'travel'
  | 'jaws'
  | 'stub-too-thin'
  | 'bit-too-short'
  | 'bit-too-thick'
  | 'bit-wrong-kind'
  | 'spindle-power'
  | 'spindle-speed'
  | 'rotary-torque'
  | 'rotary-speed'
  | 'rotary-precision'
  | 'bends'
  | 'slender'
  | 'neck-shears'
  | 'hums'
  | 'off-centre'
  | 'asked-feeds'
  | 'hazard'
  | 'local-code'
  // programs beside the cutting ones
  | 'restart'
  | 'first-run'
  // the solid and its files
  | 'solid-broken'
  | 'solid-volume'
  | 'mesh-file';

/** A value at a place of the document, in mm where it is a length; null takes the place out, so that its default holds. */
export interface Edit {
  /** As in `Problem.path`. */
  path: string;
  value: unknown;
}

/** A change of the document that would mend a problem: all its edits together. */
export interface Change {
  /** What it does, in a few words that follow on "or": `a blank 40 mm wide`. */
  say: string;
  set: readonly Edit[];
}

/** The number behind a problem and the bound that it breaks. */
export interface Measure {
  got: number;
  bound: number;
  unit: 'mm' | 'mm/min' | 'rpm' | 'W' | 'Nm' | 'N' | 'times' | 'Hz' | 'counts';
}

/** One thing that is wrong: where, what, and what is allowed. */
export interface Problem {
  code: ProblemCode;
  severity: Severity;
  /** Path in the document, e.g. `form[3].length`; empty for the whole document. */
  path: string;
  /** One plain sentence without a trailing stop: what is wrong. */
  message: string;
  /** What is allowed, or the change that would mend it. */
  allowed?: string;
  /** Where on the part it is worst, mm from the chuck end of the form. */
  x?: number;
  measure?: Measure;
  /** Changes that would mend it, the least first. */
  changes?: readonly Change[];
}

/** Codes of what the proof can find in a program's text. */
export type FindingCode =
  | 'gouge'
  | 'rest-reachable'
  | 'rest-unreachable'
  | 'rapid-in-wood'
  | 'shank-contact'
  | 'holder-contact'
  | 'keep-out'
  | 'bed-contact'
  | 'travel-limit'
  | 'speed-limit'
  | 'plunge'
  | 'step-down'
  | 'spindle-off'
  | 'spindle-range'
  | 'feed-missing'
  | 'feed-range'
  | 'line-forbidden'
  | 'rotary-reverses'
  | 'rotary-precision'
  | 'units'
  | 'wrong-bit'
  | 'start-not-lifted'
  | 'unfinished-corner'
  | 'neck-too-thin';

/** One finding of the proof: a row of the report's `proof.findings`, and what to change. */
export interface Finding {
  code: FindingCode;
  severity: Severity;
  file: string;
  /** 1-based line in the file; 0 where the finding is about the whole file. */
  line: number;
  x: number;
  theta_deg: number;
  /** One plain sentence: what is wrong and by how much. */
  message: string;
  /** What to change. */
  fix: string;
}

/** The line that a shell prints for a problem. @returns `path: what is wrong (allowed: …)` */
export const problemLine = (p: Problem): string =>
  `${p.path || 'document'}: ${p.message}${p.allowed ? ` (${p.allowed})` : ''}`;
