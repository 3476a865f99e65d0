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
    return `The next bits: no place of the stock is left to them. Clamp a block on the bed in the bit’s line, clear of the work: touch it with the first, note ${ra} ${BLANK}; with each next, type that ${ra}.`;
  const at = plain(wordsFor(control, x, 0, 0).axial, control.decimals.linear);
  const [from, end] =
    x < job.field.length / 2 ? [x + holding.chuckStub, 'from the jaws'] : [blank.to - x, 'from the tail end'];
  const turns = (k: number) => plain(k * wordsPerTurn(control), 3);
  const up = blank.section === 'round' ? 'the mark' : 'first flat';
  return `The next bits: with the first touch the stock’s top at ${ax}${at} (${len(from)} ${end}, never cut), note ${ra} ${BLANK}. With each next turn ${ro} to whole turns (0, ${turns(1)} …), ${up} up, type ${ro}0; touch there, type that ${ra}.`;
}
