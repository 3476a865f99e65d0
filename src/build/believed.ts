/** Readings that may be believed, and what they show: refused are those that no setting, however careless, could have led to. */
import type { Problem } from '../../shared/problems.ts';
import { CORRECTION_MOST, READING_OFF, STOCK_OVER, WEAR_SHARE } from '../../shared/tolerances.ts';
import { outerRadius } from '../cam/blank.ts';
import type { Job } from '../cam/job.ts';
import { type Match, matchReadings, type Reading } from '../cam/match.ts';
import type { Part } from '../part/document.ts';
import { shown } from '../part/inch.ts';

/**
 * Finds what was off, if the readings and what follows from them can be believed.
 * @param part the document as it was cut @param job the same @param readings at least two, on the form, mm
 * @returns what was off, or one problem; its path is left empty, the readings have none in the document
 * @throws RangeError for fewer than two readings
 */
export function believedMatch(
  part: Part,
  job: Job,
  readings: readonly Reading[],
): { match: Match } | { problem: Problem } {
  const inch = part.units === 'inch';
  const length = (v: number) => `${shown(Number(v.toFixed(2)), inch)} ${inch ? 'in' : 'mm'}`;
  const again = `measure again, and check the unit: readings are in ${inch ? 'inches' : 'mm'}, as the document is`;
  const refused = (message: string): { problem: Problem } => ({
    problem: { code: 'out-of-limits', severity: 'refuse', path: '', message, allowed: again },
  });
  /** One line for all of them: the first, and how many more there are. */
  const first = (wrong: readonly Reading[], why: string) => {
    const { x, diameter } = wrong[0]!;
    const more = wrong.length > 1 ? `; so ${wrong.length > 2 ? 'are' : 'is'} ${wrong.length - 1} more` : '';
    return refused(`at x ${length(x)} a diameter of ${length(diameter)} is ${why}${more}`);
  };

  const nothing = readings.filter((r) => !(r.diameter > 0));
  if (nothing.length) return first(nothing, 'no thickness');
  const corner = 2 * outerRadius(job.blank);
  const thick = readings.filter((r) => r.diameter > corner + STOCK_OVER);
  const way = job.blank.section === 'round' ? 'across' : 'from corner to corner';
  if (thick.length) return first(thick, `thicker than the stock it was cut from, ${length(corner)} ${way}`);

  const match = matchReadings(job, readings);
  const far = match.rows.filter((r) => !(Math.abs(r.diameter - r.wanted) <= READING_OFF));
  if (far.length)
    return first(far, `further from the ${length(far[0]!.wanted)} that were wanted than any error of setting explains`);

  const { zero, tail, wear, aside } = match.causes;
  const trim = part.trim.radial + zero;
  const { diameter } = job.tools.finishing.bit;
  const beyond: readonly [string, number, number][] = [
    ['a radial zero that was off by', zero, CORRECTION_MOST],
    ['together with the radial trim that the document has, a radial zero that is off by', trim, CORRECTION_MOST],
    ['a tailstock that is off by', tail, CORRECTION_MOST],
    ['a head that stood beside the centre by', aside, CORRECTION_MOST],
    ['a finishing bit whose diameter is off by', wear, WEAR_SHARE * diameter],
  ];
  const wrong = beyond.find(([, got, most]) => !(Math.abs(got) <= most));
  if (wrong) {
    const [what, got, most] = wrong;
    return refused(
      `the readings would mean ${what} ${length(Math.abs(got))}; more than ${length(most)} is not to be believed`,
    );
  }
  return { match };
}
