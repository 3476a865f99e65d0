/** What to do after a stop, and when the position is lost. */
import type { Job } from '../job.ts';

/** @returns sentences in the order of doing */
export function stops(job: Job): string[] {
  const { control } = job;
  const [ax, ra, ro] = [control.axial.letter, control.radial.letter, control.rotary.letter];
  return [
    `Stop the feed, lift ${ra}, spindle off. The last pass comment says “restart K”: note K.`,
    'Make the program that starts there: make … --from-pass K, or Take it away on the page. A smaller K only cuts air. Run that file from its top, then those after it.',
    `Position lost: ${ro}0 by the line across chuck and headstock, ${ax} and ${ra} by the fixed spot of the bed. Never loosen the chuck before the end.`,
  ];
}
