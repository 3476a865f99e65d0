/** What readings have shown, put into the document, so that the next part comes out right; and said in words. */
import { UNEXPLAINED_LEAST, UNEXPLAINED_SHARE } from '../../shared/tolerances.ts';
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
  const rest = unexplained(match);
  if (rest === undefined) return told.length ? told : ['nothing is off beyond what a caliper can tell'];
  const found = told.length ? 'what was found is a guess' : 'nothing that was looked for explains it';
  return [
    ...told,
    `${mm(rest)} across on average stay unexplained: ${found}; measure again, at more places, before another part is cut`,
  ];
}

const rms = (list: readonly number[]): number => Math.sqrt(list.reduce((s, v) => s + v * v, 0) / list.length);

/** What stays of the readings once corrected, mm across on average, if it is much beside what was off; odd ones do not count. */
function unexplained(match: Match): number | undefined {
  const rows = match.rows.filter((r) => !r.odd);
  const rest = rms(rows.map((r) => r.residual));
  const off = rms(rows.map((r) => r.diameter - r.wanted));
  return rest > Math.max(UNEXPLAINED_LEAST, UNEXPLAINED_SHARE * off) ? rest : undefined;
}
