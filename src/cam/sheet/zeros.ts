/** Where the zeros lie and how a person finds them, drawn and told. */
import type { Control } from '../../../shared/catalog.ts';
import { MM_PER_INCH } from '../../../shared/units.ts';
import { outerRadius } from '../blank.ts';
import { wordsFor, wordsPerTurn } from '../control.ts';
import type { Job } from '../job.ts';
import { endOutline } from './drawing.ts';
import { type LengthText, list, plain } from './html.ts';
import { ACT, INK, line, svg, words } from './ink.ts';
import { topOf } from './touch.ts';

const GAP = '<span class="gap"></span>';

/** Dowels that are easily had, mm or fractions of an inch (common practice, no source). */
const DOWELS_MM = [6, 8, 10, 12];
const DOWELS_INCH: readonly [string, number][] = [
  ['1/4', 1 / 4],
  ['3/8', 3 / 8],
  ['1/2', 1 / 2],
];

/** The linear letter that moves the head across the rotary axis. */
export const crossLetter = (control: Control): string =>
  ['X', 'Y', 'Z'].find((l) => l !== control.axial.letter && l !== control.radial.letter)!;

/** What to type when the tip rests on a dowel: half its diameter, in the program's words. @param d diameter, mm */
export const dowelWord = (control: Control, d: number): string =>
  plain(wordsFor(control, 0, d / 2, 0).radial, control.decimals.linear);

function dowelRow(control: Control): string {
  const ra = control.radial.letter;
  const pairs: [string, number][] =
    control.units === 'inch'
      ? DOWELS_INCH.map(([name, d]) => [`${name}″`, d * MM_PER_INCH])
      : DOWELS_MM.map((d) => [`${d} mm`, d]);
  return pairs
    .map(([name, d]) => `ø&nbsp;${name.replace(' ', '&nbsp;')}&nbsp;<b>${ra}${dowelWord(control, d)}</b>`)
    .join(' · ');
}

/** Bit on dowel; below it the level on the flat, and the way the top goes. */
export function zeroDrawings(job: Job): string {
  const { control, blank } = job;
  const [ra, ro] = [control.radial.letter, control.rotary.letter];
  const bit = (x: number, y: number) =>
    `<rect x="${x - 2}" y="${y - 8}" width="4" height="8" fill="var(--paper)" ${INK} stroke-width="0.5"/><rect x="${x - 4}" y="${y - 11.5}" width="8" height="3.5" fill="var(--metal)"/>`;
  const dowel = svg(
    58,
    28,
    'Touching off the rotary centre on a dowel',
    `<circle cx="16" cy="19.5" r="7.5" fill="var(--wood)" ${INK} stroke-width="0.5"/>${bit(16, 12)}
${line(11, 19.5, 21, 19.5, `${ACT} stroke-width="0.5"`)}${line(16, 14.5, 16, 24.5, `${ACT} stroke-width="0.5"`)}
${line(25, 12, 25, 19.5, `${ACT} stroke-width="0.5"`)}${line(23.6, 12, 26.4, 12, `${ACT} stroke-width="0.5"`)}${line(23.6, 19.5, 26.4, 19.5, `${ACT} stroke-width="0.5"`)}
${words(28, 14, `type ${ra}`, 'start', 'font-weight="700"')}${words(28, 18.6, '= half the', 'start')}${words(28, 23.2, 'dowel', 'start')}`,
  );
  const k = 10 / outerRadius(blank);
  const top = topOf(blank);
  const cy = 20;
  const flat = cy - k * top;
  const round = blank.section === 'round';
  const level = `<rect x="10" y="${plain(flat - 3.4, 2)}" width="20" height="3.2" fill="var(--metal)"/>
<rect x="17" y="${plain(flat - 2.7, 2)}" width="6" height="1.8" rx="0.9" fill="var(--paper)"/><circle cx="20" cy="${plain(flat - 1.8, 2)}" r="0.7" fill="var(--act)"/>`;
  const away = control.rotary.sign > 0;
  const turn = away ? 'M9 8.5 A 15.5 15.5 0 0 1 31 8.5' : 'M31 8.5 A 15.5 15.5 0 0 0 9 8.5';
  const head = away ? 'M31 8.5 l-3.9 -0.4 M31 8.5 l-0.2 -4' : 'M9 8.5 l3.9 -0.4 M9 8.5 l0.2 -4';
  const sense = svg(
    58,
    31,
    `${round ? 'A mark on the top' : 'A level on the flat that faces up'}; turned on, the top of the stock goes ${away ? 'away from' : 'towards'} you`,
    `${endOutline(blank, 20, cy, k)}${round ? `<circle cx="20" cy="${plain(flat, 2)}" r="1.3" fill="var(--act)"/>` : level}
<path d="${turn}" fill="none" ${ACT} stroke-width="0.9"/><path d="${head}" fill="none" ${ACT} stroke-width="0.9"/>
${words(0, 22, 'you', 'start')}${words(34, 8.5, `${round ? 'mark' : 'flat'} up: ${ro}0`, 'start')}${words(36, 16.5, `${ro} +${plain(wordsPerTurn(control) / 4, 4)}:`, 'start', 'font-weight="700"')}${words(36, 21.1, 'top goes', 'start')}${words(36, 25.7, away ? 'away' : 'to you', 'start')}`,
  );
  return `<figure>${dowel}${sense}</figure>`;
}

/** What a corrected part's programs do to the radial words: said where the zero is set, so that nobody sets it off by hand as well. */
function moved({ control, offsets }: Job): string {
  if (!offsets?.radial) return '';
  const ra = control.radial.letter;
  const by = offsets.radial / control.radial.scale;
  const unit = control.units === 'inch' ? 'inch' : 'mm';
  const words = plain(offsets.radial / (control.units === 'inch' ? MM_PER_INCH : 1), control.decimals.linear);
  return `<b>Corrected by readings: the programs move every ${ra} word by ${words} ${unit} (bit ${by > 0 ? 'higher' : 'lower'}); set ${ra}0 as before.</b>`;
}

/** The zeros in words, with what to type. */
export function zeroList(job: Job, len: LengthText): string {
  const { control, blank, holding } = job;
  const [ax, ra, ro] = [control.axial.letter, control.radial.letter, control.rotary.letter];
  const cross = crossLetter(control);
  const word = (mm: number) => plain(wordsFor(control, 0, mm, 0).radial, control.decimals.linear);
  const round = blank.section === 'round';
  const unit = control.units === 'inch' ? 'inches' : 'mm';
  const away = control.rotary.sign > 0 ? 'away from' : 'towards';
  // The top of the stock is not true to a tenth, so no correction by readings can be told beside it.
  const noDowel = `No dowel: touch the ${round ? 'top of the stock' : 'flat that faces up'}, type <b>${ra}${word(topOf(blank))}</b>, half of the stock’s true height.`;
  return list(
    [
      `<b>Over the centre:</b> touch both sides of a dowel in the chuck with the standing bit; go half-way in ${cross} and stay.`,
      `<b>${ra}0, the rotary centre:</b> standing bit on top of the dowel, a paper strip just dragging; type half its diameter: ${dowelRow(control)} (${unit}). For the next bits see Run. ${moved(job) || noDowel}`,
      `<b>${ax}0</b>: the pencil line, ${len(holding.chuckStub)} from the jaws; ${ax} ${control.axial.scale > 0 ? 'grows' : 'falls'} toward the tailstock. <b>${ro}0</b>: ${round ? 'a pencil mark on the top' : 'level on the flat'}. All zeros in G54.`,
      `<b>Sense:</b> jog ${ro} by +${plain(wordsPerTurn(control) / 4, 4)}: the top must go ${away} you, chuck on your left. If not, twists and letters come out mirrored: change the control’s turning sense.`,
      `<b>To find them again:</b> a line across chuck and headstock at ${ro}0; touch a fixed spot of the bed and write down ${ax} ${GAP} ${ra} ${GAP}`,
    ],
    'ol',
  );
}
