/** How the bits after the first find the rotary centre, told. */
import { wordsFor, wordsPerTurn } from '../control.ts';
import type { Job, Tool } from '../job.ts';
import { type LengthText, plain } from './html.ts';
import { touchPlace } from './touch.ts';

/** Where a reading is written down. */
const BLANK = '______';

/** @param tools of all programs, in the order of use @returns what to do at a change of bit, when the dowel is gone and the work stands turned; nothing where one bit does all */
export function nextBitsText(job: Job, tools: readonly Tool[], len: LengthText): string {
  if (tools.length < 2) return '';
  const { control, blank, holding } = job;
  const [ax, ra, ro] = [control.axial.letter, control.radial.letter, control.rotary.letter];
  const x = touchPlace(job, tools);
  if (x === undefined)
    return `The next bits: no length of the stock stays whole that every bit can reach. Clamp a block on the bed under the bit’s line, clear of all it turns: touch its top with the first bit, write down ${ra} ${BLANK}; touch it with each next bit, type that ${ra}.`;
  const at = plain(wordsFor(control, x, 0, 0).axial, control.decimals.linear);
  const [from, end] =
    x < job.field.length / 2 ? [x + holding.chuckStub, 'from the jaws'] : [blank.to - x, 'from the stock’s tail end'];
  const up = blank.section === 'round' ? 'the mark' : 'the first flat';
  return `The next bits: with the first bit touch the stock’s top at ${ax}${at} too (${len(from)} ${end}: nothing cuts there), write down ${ra} ${BLANK}. For each next bit turn ${ro} to 0 or whole turns (${plain(wordsPerTurn(control), 4)} each), ${up} up again; touch the same place, type that ${ra}.`;
}
