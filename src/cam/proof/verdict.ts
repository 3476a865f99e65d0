/** What the proof is asked and what it answers. Plain data only: nothing here plans, writes or cuts. */
import type { Bench, Bit, Control } from '../../../shared/catalog.ts';
import type { Finding } from '../../../shared/problems.ts';
import type { Field } from '../../profiles/field.ts';
import type { Blank, KeepOut, Stubs } from '../blank.ts';

/** One program as text, with the bit that is declared for it and what that bit may do. */
export interface ProgramText {
  readonly file: string;
  readonly text: string;
  readonly bit: Bit;
  readonly stepDown: number;
  readonly rampAngle_deg: number;
  readonly plunge: number;
  /** 1-based line before which it was stopped by hand; left out, it ran to its end. */
  readonly until?: number;
  /** Bits that follow in the same file, in the order of their T numbers (T2 for the first of them); default none. */
  readonly changes?: readonly DeclaredBit[];
}

/** A bit and what it may do. */
export type DeclaredBit = Pick<ProgramText, 'bit' | 'stepDown' | 'rampAngle_deg' | 'plunge'>;

export interface ProofJob {
  readonly field: Field;
  readonly blank: Blank;
  readonly stubs: Stubs;
  readonly keepOut: readonly KeepOut[];
  readonly bench: Bench;
  readonly control: Control;
  /** Offset of each word, mm (DESIGN §3): axial = scale·x + axialOffset, radial = scale·r + radialOffset. */
  readonly offsets: { readonly axial: number; readonly radial: number };
  readonly tolerance: number;
  /** Scallop height that the plan was asked for, mm; sets what counts as unfinished. Default the project's own. */
  readonly scallop?: number;
  /**
   * Bits that the surface is left to. Wood that only some other bit could reach (a roughing bit's square corner in a
   * shoulder) does not count as forgotten. Default: every bit of the job.
   */
  readonly surfaceBits?: readonly Bit[];
  /** Run order: the wood that one leaves is the wood that the next finds. */
  readonly programs: readonly ProgramText[];
}

/** Time and wood of one stage of one program, as the control will run it (feed and limits, no accelerations). */
export interface StageTally {
  readonly file: string;
  readonly stage: string;
  readonly passes: number;
  readonly blocks: number;
  /** All motion of the stage, s. */
  readonly time_s: number;
  /** Of that, motion at cutting feed that took no wood, s. */
  readonly air_s: number;
  /** Of that, rapids between the cuts, s. */
  readonly link_s: number;
  /** mm³ taken. */
  readonly removed: number;
}

/** What is left after the last program, on a grid: index = i·thetas + j; x = xs[i], θ = 2π·j/thetas. */
export interface LeftOver {
  readonly xs: Float64Array;
  readonly thetas: number;
  /** Outermost wood minus the part's radius, mm; negative is gouged. */
  readonly rest: Float32Array;
  /** Of that, what no finishing bit can reach, mm ≥ 0. */
  readonly unreachable: Float32Array;
}

export interface Proof {
  readonly verdict: 'proven' | 'refused';
  /** Depth below the part's surface, mm ≥ 0. */
  readonly deepestGouge: number;
  /** 99th percentile of the wood left over the form, mm. */
  readonly restP99: number;
  readonly tolerance: number;
  readonly findings: readonly Finding[];
  readonly stages: readonly StageTally[];
  readonly time_s: number;
  readonly leftOver: LeftOver;
}

/** Called now and then with a share 0…1; return false to stop (the proof then throws `Stopped`). */
export type Progress = (share: number, what: string) => boolean | undefined;

/** Thrown when a progress callback asked to stop. */
export class Stopped extends Error {
  constructor() {
    super('stopped on request');
  }
}
