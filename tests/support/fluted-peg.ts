/** A peg with twisted flutes and its two programs, roughing and finishing, written by hand: a good job whose text the tests then spoil. */
import type { Control } from '../../shared/catalog.ts';
import { TURN } from '../../shared/units.ts';
import type { ProofJob } from '../../src/cam/proof/verdict.ts';
import type { Field } from '../../src/profiles/field.ts';
import { fluted } from './fields.ts';
import { bitOf, controlOf, FROM, proofJob, SAFE, TO, windLayers } from './proof-job.ts';
import { asProgram, HandMoves, textOf } from './rs274-text.ts';

export const FLUTED_LENGTH = 40;
const BALL = 3;
/** Above the lowest tip, mm: what straight lines between the sampled places may cut off the arrises. */
const ABOVE = 0.03;

/** Lowest tip of a ball of 6 mm over the part, by trying all points around. */
function ballTip(field: Field, x: number, theta: number): number {
  let best = 0;
  for (let u = -2.8; u <= 2.81; u += 0.4)
    for (let y = -2.8; y <= 2.81; y += 0.1) {
      const d2 = u * u + y * y;
      if (d2 > BALL * BALL) continue;
      const delta = y / 14;
      const r = field.radius(x + u, theta + delta);
      const side = r * Math.sin(delta);
      const e2 = BALL * BALL - u * u - side * side;
      if (e2 < 0) continue;
      best = Math.max(best, r * Math.cos(delta) - BALL + Math.sqrt(e2));
    }
  return best;
}

export interface FlutedPeg {
  job: ProofJob;
  rough: string;
  finish: string;
}

const STEP = 2.5;
let tips: { x: number; r: number; theta: number }[] | undefined;
const field = fluted(FLUTED_LENGTH, 15, 4, 1.2, 5, 0.08);

/** Finishing spiral of 0.7 mm pitch, a full turn at either end. */
function finishing(): { x: number; r: number; theta: number }[] {
  if (tips) return tips;
  tips = [];
  const at = (x: number, degrees: number) => {
    const theta = (degrees * TURN) / 360;
    tips!.push({ x, r: Math.max(11, ballTip(field, x, theta) + ABOVE), theta });
  };
  let degrees = 0;
  for (; degrees < 360; degrees += STEP) at(-1, degrees);
  const turns = Math.ceil((FLUTED_LENGTH + 2) / 0.7);
  for (let k = 0; k <= (turns * 360) / STEP; k++, degrees += STEP)
    at(-1 + ((FLUTED_LENGTH + 2) * k * STEP) / (turns * 360), degrees);
  for (let k = 0; k < 360 / STEP; k++, degrees += STEP) at(FLUTED_LENGTH + 1, degrees);
  return tips;
}

/** @param control that the texts are written for @param feed mm/min over the work */
export function flutedPeg(control: Control = controlOf('four-axis-inverse-time'), feed = 3500): FlutedPeg {
  const flat = bitOf('flat-6');
  const ball = bitOf('ball-6');
  const rough = new HandMoves(feed);
  rough.rapid({ r: SAFE });
  rough.rapid({ x: FROM, theta: 0 });
  windLayers(rough, 'corners', [22, 20, 18, 17], 3, 24.1);
  windLayers(rough, 'roughing', [15.6], 3, 17);
  const finish = new HandMoves(feed);
  finish.rapid({ r: SAFE });
  const first = finishing()[0]!;
  finish.rapid({ x: first.x, theta: first.theta });
  finish.comment('stage finishing, pass 1 of 1: spiral');
  finish.rapid({ r: 16 });
  // In over the first turn, a ramp and not a plunge.
  for (let d = 0; d <= 360; d += STEP) {
    const p = finishing()[d / STEP]!;
    finish.cut({ x: p.x, r: Math.max(p.r, 15.7 - (4.7 * d) / 360), theta: p.theta }, d === 0 ? 500 : feed);
  }
  const shift = TURN;
  for (const p of finishing()) finish.cut({ ...p, theta: p.theta + shift });
  finish.rapid({ r: SAFE });
  const texts = {
    rough: textOf(rough.list, { control, bit: flat }),
    finish: textOf(finish.list, { control, bit: ball }),
  };
  return { job: jobWith(texts.rough, texts.finish, { control }), ...texts };
}

/** The job with other texts. */
export function jobWith(rough: string, finish: string, with_: Partial<ProofJob> = {}, side = 34): ProofJob {
  return proofJob(
    {
      programs: [
        asProgram('peg-1-flat-6.nc', rough, bitOf('flat-6'), { plunge: 2.5 }),
        asProgram('peg-2-ball-6.nc', finish, bitOf('ball-6'), { plunge: 2.5 }),
      ],
      // The bench is quick enough for such short blocks at this feed.
      bench: { ...proofJob().bench, blocksPerSecond: 2000 },
      scallop: 0.05,
      ...with_,
    },
    side,
    field,
  );
}
export { TO };
