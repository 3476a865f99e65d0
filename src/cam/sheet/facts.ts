/** What the setup sheet is told. Plain data. */
import type { Problem } from '../../../shared/problems.ts';
import type { FirstRun } from '../first-runs.ts';
import type { Job, Tool } from '../job.ts';
import type { Price } from '../price.ts';
import type { Extents } from '../program-lines.ts';
import type { Strength } from '../strength.ts';

export interface SheetProgram {
  readonly file: string;
  readonly tools: readonly Tool[];
  readonly stages: readonly { readonly stage: string; readonly passes: number }[];
  /** Numbers of its first and last pass over the whole job. */
  readonly restarts: { readonly from: number; readonly to: number };
  readonly extents: Extents;
  readonly blocks: number;
  readonly time_s: number;
}

export interface SheetFacts {
  readonly job: Job;
  readonly about: string;
  readonly notes: string;
  /** Whether the part guards or carries people. */
  readonly guard: boolean;
  /** Whether lengths are told in inches as well. */
  readonly inch: boolean;
  /** How many parts are sawn for. */
  readonly parts: number;
  readonly firstRuns: readonly (Pick<FirstRun, 'name' | 'time_s'> & { readonly file: string })[];
  readonly programs: readonly SheetProgram[];
  /** What fit and plan want said. */
  readonly problems: readonly Problem[];
  readonly proof: {
    readonly verdict: string;
    readonly deepestGouge: number;
    readonly restP99: number;
    readonly tolerance: number;
  };
  /** What the proof wants said, one sentence each. */
  readonly findings: readonly string[];
  readonly strength: Strength;
  readonly price: Price;
}
