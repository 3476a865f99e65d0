/** Everything that planning and proof start from, resolved: names looked up, defaults filled, units internal. */
import type { Bench, Bit, Control, Material } from '../../shared/catalog.ts';
import type { Field } from '../profiles/field.ts';
import type { Blank, Holding, KeepOut, Stubs } from './blank.ts';
import type { Offsets } from './control.ts';
import type { Ease } from './ease.ts';

/** What may be asked of each stage; from the document's `plan`, filled with defaults. */
export interface PlanOptions {
  /** auto: the quicker by estimated time on this bench. */
  readonly corners: 'auto' | 'along' | 'around';
  readonly roughing: 'auto' | 'along' | 'around';
  readonly finishing: 'spiral' | 'along';
  readonly necking: boolean;
  /** Wood left by roughing, mm. */
  readonly allowance: number;
  /** Wanted scallop height of finishing, mm. */
  readonly scallop: number;
}

/** What a bit may do in this material on this bench; the proof holds the program to the same numbers. */
export interface Limits {
  readonly rpm: number;
  /** Roughing speed of the contact over the work, mm/min. */
  readonly feed: number;
  /** Finishing speed of the contact over the work, mm/min. */
  readonly finishFeed: number;
  /** Straight down, mm/min. */
  readonly plungeFeed: number;
  /** Deepest layer, mm. */
  readonly stepDown: number;
  /** Distance between neighbouring roughing strokes, mm. */
  readonly stepOver: number;
  /** Steepest ramp into wood, degrees from the surface. */
  readonly rampAngle_deg: number;
  /** Straight down into wood at the most, mm. */
  readonly plunge: number;
  /** Which limit bound each number, one plain sentence each. */
  readonly why: readonly string[];
  /** What a person asked for in place of what would have been planned; left out, nothing. */
  readonly asked?: Asked;
}

/** Numbers that a document asks for itself. */
export interface Asked {
  readonly rpm?: number | undefined;
  /** Of a finishing or detail bit its finishing feed, mm/min. */
  readonly feed?: number | undefined;
  readonly plungeFeed?: number | undefined;
  readonly stepDown?: number | undefined;
  readonly stepOver?: number | undefined;
}

/** A bit in its role. */
export interface Tool {
  readonly bit: Bit;
  readonly limits: Limits;
}

export interface Job {
  readonly name: string;
  readonly field: Field;
  readonly blank: Blank;
  readonly holding: Holding;
  /** Turned lengths beside the form, chuck end and tail end (an end without one has from = to). */
  readonly stubs: Stubs;
  readonly keepOut: readonly KeepOut[];
  readonly material: Material;
  readonly bench: Bench;
  readonly control: Control;
  readonly tools: {
    readonly roughing: Tool;
    readonly finishing: Tool;
    /** Smaller bits for what the finishing bit cannot reach, in the order of use; may be empty. */
    readonly detail: readonly Tool[];
    /** For radial holes, one per diameter; may be empty. */
    readonly drills: readonly Tool[];
  };
  readonly plan: PlanOptions;
  /** Where the zeros truly lie, after readings of an earlier part; left out, at the form's chuck-end face and the rotary centre. */
  readonly offsets?: Offsets;
  /** Deepest gouge allowed, mm. */
  readonly tolerance: number;
  /** Radius at which everything turns clear: corner radius plus clearance. */
  readonly safeRadius: number;
  /** Where feeds and layers are gentler than the bits' limits, since the part is slender there; left out, nowhere. */
  readonly ease?: Ease | undefined;
  /** How far the stock's middle lies off the rotary centre, mm; left out, not at all beyond what marking by hand gives. */
  readonly offCentre?: number;
  /** Id of the hazardous material whose dangers a person has said to have met; left out, none. */
  readonly acknowledged?: string;
  /** Whether the part guards or carries people; left out, its name is looked at. */
  readonly guard?: boolean;
}

/** Passes of one bit, in the order of cutting. */
export interface PlannedProgram {
  readonly tool: Tool;
  readonly passes: readonly import('./path.ts').Pass[];
}

export interface Plan {
  readonly programs: readonly PlannedProgram[];
  /** What the planner wants said (e.g. a cove narrower than the bit), findings in the making. */
  readonly problems: readonly import('../../shared/problems.ts').Problem[];
}
