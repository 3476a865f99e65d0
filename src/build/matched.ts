/** What readings have shown, put into the document, so that the next part comes out right; and said in words. */
import type { Job } from '../cam/job.ts';
import { type Match, wornBit } from '../cam/match.ts';
import type { Part } from '../part/document.ts';

/** Thousandths of a mm are beyond any caliper. */
const tidy = (v: number): number => Number(v.toFixed(3));

/** The same part for the machine as the readings showed it: radial words trimmed, the finishing bit as worn. */
export function matchedPart(part: Part, job: Job, match: Match): Part {
  const { zero, wear } = match.causes;
  const { bit } = job.tools.finishing;
  const worn = wornBit(bit, wear);
  return {
    ...part,
    trim: { ...part.trim, radial: tidy(part.trim.radial + zero) },
    bits: wear
      ? {
          ...part.bits,
          finishing: {
            ...worn,
            diameter: tidy(worn.diameter),
            tipRadius: tidy(worn.tipRadius),
            label: `${bit.label}, measured`,
          },
        }
      : part.bits,
  };
}

const mm = (v: number): string => `${Math.abs(v).toFixed(2)} mm`;

/** What was found and what is done about it, a sentence each. */
export function causesTold(match: Match, radial: string): string[] {
  const { zero, tail, wear, aside } = match.causes;
  const told: string[] = [];
  if (zero)
    told.push(
      `the radial zero was off by ${mm(zero)}: the bit stood ${zero > 0 ? 'lower' : 'higher'} than the program said (the part comes out ${mm(2 * zero)} ${zero > 0 ? 'thin' : 'thick'}); the corrected programs move every ${radial} word`,
    );
  if (wear)
    told.push(
      `the finishing bit cuts ${mm(wear)} ${wear > 0 ? 'thinner' : 'wider'} than its declared diameter; the corrected document has it as it is`,
    );
  if (tail)
    told.push(
      `the tailstock’s centre is ${mm(tail)} ${tail > 0 ? 'higher' : 'lower'} than the chuck’s over the length of the form: shim ${tail > 0 ? 'the headstock' : 'the tailstock'} by that; no program is changed for it`,
    );
  if (aside)
    told.push(
      `the head stood ${mm(aside)} beside the rotary centre, to one side or the other: find the centre again; no program is changed for it`,
    );
  return told.length ? told : ['nothing is off beyond what a caliper can tell'];
}
