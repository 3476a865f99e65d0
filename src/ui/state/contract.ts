/** What the page knows, and what can be asked of it. No React here; the store is plain, its tests run in Node. */
import type { Change, Finding, Problem } from '../../../shared/problems.ts';
import type { Job } from '../../cam/job.ts';
import type { LeftOver } from '../../cam/proof/verdict.ts';
import type { Strength } from '../../cam/strength.ts';
import type { Part } from '../../part.ts';
import type { Field } from '../../profiles/field.ts';
import type { Layout } from '../../profiles/layout.ts';

/** A document as it is written: JSON data in its own units, before defaults. Edits happen here. */
export type Raw = { [key: string]: unknown };
export type Path = readonly (string | number)[];

/** What the sliders and the lanes are about. */
export type Selection =
  | { kind: 'element'; index: number }
  | { kind: 'carving'; index: number }
  | { kind: 'step'; step: StepName };

/** The steps of the readiness strip, in their order. */
export type StepName = 'bench' | 'blank' | 'form' | 'carving' | 'cutting' | 'strength' | 'proof' | 'take-away';

/** One step of the strip: what it says now, and, where something is missing, the one sentence that makes it done. */
export interface Step {
  name: StepName;
  state: 'done' | 'attention' | 'stopped' | 'waiting';
  /** A few words: `45 square maple, 760`. */
  summary: string;
  /** The sentence that says what to do; empty when done. */
  todo: string;
  /** Where clicking leads. */
  leadsTo: Selection;
  /** The least change of the document that would mend it, in the document's units; left out where none is known. */
  mend?: Change;
  /** Whether proving the part is what it asks for. */
  proves?: true;
}

/** Triangles of a solid with a normal at each vertex, part frame, transferable. */
export interface Shape {
  positions: Float32Array;
  normals: Float32Array;
  triangles: Uint32Array;
}

/** State of something that a worker makes; `serial` is that of the document it was made from. */
export type Made<T> =
  | { status: 'none' }
  | { status: 'working'; serial: number; share: number; what: string; last?: T }
  | { status: 'ready'; serial: number; value: T; seconds: number }
  | { status: 'failed'; serial: number; message: string };

export interface SolidResult {
  shape: Shape;
  volume: number;
  area: number;
  mass: number;
  centre: [number, number, number];
  problems: Problem[];
}

/** Whether the part fits its bench, and how it holds while it is cut. */
export interface FitResult {
  problems: Problem[];
  strength: Strength;
}

/** What a whole build gives the page: the same bytes that the command line writes. */
export interface BuildResult {
  verdict: 'proven' | 'refused';
  problems: Problem[];
  findings: Finding[];
  leftOver: LeftOver;
  deepestGouge: number;
  restP99: number;
  /** File name → content, as `make` writes them, solid files included. */
  files: Map<string, Uint8Array | string>;
  programs: { file: string; bit: string; rpm: number; blocks: number; time_s: number; text: string }[];
  stages: { file: string; stage: string; passes: number; time_s: number; from: number; to: number }[];
  time_s: number;
  efficiency: number;
  price: { currency: string; material: number; machine: number; labour: number; unit: number };
}

/** A document in the drawer. */
export interface Stored {
  id: string;
  name: string;
  /** ms since the epoch, of the last change. */
  changed: number;
}

export interface Workshop {
  // ---- the document
  id: string;
  raw: Raw;
  /** Grows with every change of the document, but one that comes back to the proven text has its serial again; results of another are stale. */
  serial: number;
  /** The checked part in mm, its field and layout; undefined while the document is wrong. */
  part: Part | undefined;
  field: Field | undefined;
  layout: Layout | undefined;
  job: Job | undefined;
  problems: Problem[];
  /** The last document that was right, so that the stage keeps showing something. */
  lastGood: { field: Field; layout: Layout; job: Job | undefined } | undefined;
  saved: boolean;
  undoDepth: number;
  redoDepth: number;
  drawer: Stored[];
  // ---- results
  solid: Made<SolidResult>;
  /** Follows the sliders: what is known may be a step or two behind the document. */
  fit: Made<FitResult>;
  build: Made<BuildResult>;
  steps: Step[];
  // ---- what is looked at
  selection: Selection;
  /** Visible range of the ruler, mm in the part frame. */
  range: { from: number; to: number };
  /** x under the pointer on the shared ruler, mm; undefined when it is elsewhere. */
  pointerX: number | undefined;
  /** Playhead of the cutting, s from the start of the job; undefined when not playing. */
  playAt: number | undefined;
  playing: boolean;
  /** Rotation of the stage about the axis, radians, and whether it is free to orbit. */
  turned: number;
  orbit: boolean;
  shownUnits: 'mm' | 'inch';
  theme: 'light' | 'dark' | 'system';
  /** One sentence for the person, and for a screen reader; empty when there is nothing to say. */
  notice: string;
}

export interface Actions {
  /** Puts a value at a path. Calls with the same gesture word between two `settle`s are one step of undo. */
  edit(path: Path, value: unknown, gesture?: string): void;
  /** Any change of the document through a recipe that may alter the draft; one step of undo. */
  change(recipe: (draft: Raw) => void, gesture?: string): void;
  /** Ends a gesture: the next edit is a new step of undo. */
  settle(): void;
  /** Makes a change that was offered with a problem; one step of undo. */
  mend(change: Change): void;
  undo(): void;
  redo(): void;
  select(selection: Selection): void;
  show(range: { from: number; to: number }): void;
  /** Opens text as a new document; problems are told in `notice` and `problems`, never thrown. */
  openText(text: string, name?: string): void;
  openTemplate(name: string): void;
  /** Opens a plain stick, for a part that begins from nothing. */
  openPlain(): void;
  openStored(id: string): Promise<void>;
  removeStored(id: string): Promise<void>;
  /** Stores the document on the bench now, even a sample that nobody has changed. */
  keep(): Promise<void>;
  /** Starts plan, programs and proof of the document as it is now; a newer call drops an older one. */
  prove(): void;
  stop(): void;
  set(
    patch: Partial<
      Pick<Workshop, 'pointerX' | 'playAt' | 'playing' | 'turned' | 'orbit' | 'shownUnits' | 'theme' | 'notice'>
    >,
  ): void;
}
