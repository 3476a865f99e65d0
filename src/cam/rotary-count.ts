/** How far a rotary word may count before the control's numbers get too coarse for it. */
import type { Control } from '../../shared/catalog.ts';
import type { Change, Problem } from '../../shared/problems.ts';
import { ROTARY_GRAIN, SCALLOP_MOST } from '../../shared/tolerances.ts';
import { degrees, TURN } from '../../shared/units.ts';
import { wordsPerTurn } from './control.ts';
import type { Job } from './job.ts';
import { change, upTo } from './mend.ts';
import type { StageName } from './path.ts';

/**
 * Largest rotary word (absolute value, program units) at which neighbouring numbers of the control lie no further apart
 * than ROTARY_GRAIN. A number of b significant bits in [2^e, 2^(e+1)) has the step 2^(e−b+1) (IEEE 754), so the limit is
 * 2^(⌊log₂ grain⌋ + b): 16,384 for degrees in single precision.
 */
export function rotaryLimit(control: Control): number {
  const grain = (ROTARY_GRAIN * wordsPerTurn(control)) / degrees(TURN);
  return 2 ** (Math.floor(Math.log2(grain)) + control.significandBits);
}

/** The longest whole number of turns that stays within the limit, program units; 0 if not even one does. */
export const wholeTurns = (control: Control): number => {
  const turn = wordsPerTurn(control);
  return Math.floor(rotaryLimit(control) / turn) * turn;
};

/** A step of the scallop that an offered change is rounded up to, mm. */
const SCALLOP_STEP = 0.002;
/** Room for what the pitch's own limits take back. */
const SPARE = 1.1;

/**
 * What is to be said of a program whose rotary word counts past the control's numbers, though it was started again where it
 * could be. @param rotary smallest and largest rotary word, program units @param stages what the program does
 */
export function countProblems(
  job: Job,
  { rotary }: { readonly rotary: readonly [number, number] },
  stages: ReadonlySet<StageName>,
): Problem[] {
  const limit = rotaryLimit(job.control);
  const far = Math.max(Math.abs(rotary[0]), Math.abs(rotary[1]));
  if (!(far > limit)) return [];
  return [
    {
      code: 'rotary-precision',
      severity: 'warn',
      path: 'control',
      message: `with ${[...stages].join(', ')} the rotary word counts to ${Math.round(far)}, past ${Math.round(limit)}, where numbers of ${job.control.significandBits} bits lie more than ${ROTARY_GRAIN}° apart, and this control cannot start its count again`,
      allowed: `up to ${Math.round(limit)}: a control with G92, a wider scallop, or a shorter part`,
      measure: { got: far, bound: limit, unit: 'counts' },
      changes: fewerTurns(job, far / limit, stages),
    },
  ];
}

/** What makes the count shorter, or able to start again. @param over how many times too long it is */
function fewerTurns(job: Job, over: number, stages: ReadonlySet<StageName>): Change[] {
  const { scallop } = job.plan;
  const changes: Change[] = [];
  if (stages.has('finishing')) {
    // A spiral's turns go with one over its pitch, and the pitch with the root of the scallop.
    const wider = upTo(scallop * over * over * SPARE, SCALLOP_STEP);
    if (wider <= SCALLOP_MOST)
      changes.push(change(`a scallop of ${wider} mm instead of ${scallop}`, { path: 'plan.scallop', value: wider }));
    changes.push(
      change('finishing in strokes along the axis, which turn the work once', {
        path: 'plan.finishing',
        value: 'along',
      }),
    );
  }
  if (stages.has('corners') || stages.has('roughing'))
    changes.push(
      change(
        'corners and roughing in strokes along the axis',
        { path: 'plan.corners', value: 'along' },
        { path: 'plan.roughing', value: 'along' },
      ),
    );
  changes.push(
    change('the count started again with G92, if your control knows G92 and G92.1', {
      path: 'control',
      value: { ...job.control, id: `${job.control.id}-rezeroed`, canRezero: true },
    }),
  );
  return changes;
}
