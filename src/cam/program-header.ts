/** What a program says of itself before it moves: comments for the person at the bench, in the program's own letters. */
import { innerRadius, outerRadius } from './blank.ts';
import { mmPerUnit, type Offsets, wordsFor, wordsPerTurn } from './control.ts';
import type { Job, Tool } from './job.ts';
import { comment, plainNumber } from './number-text.ts';
import type { Extents } from './program-lines.ts';

/** `(bit flat-6: …)`: which bit is in the spindle from here on. */
export const bitLine = (tool: Tool): string =>
  comment(
    `bit ${tool.bit.id}: ${tool.bit.label}, ${tool.bit.teeth} teeth, at least ${mm(tool.bit.stickOut)} mm from tip to holder`,
  );

/** Every mode that an earlier program may have left otherwise: units, absolute, plane, no compensation, first zeros, feed a minute. */
export const firstModes = (control: Job['control']): string =>
  `G${control.units === 'inch' ? 20 : 21} G90 G17 G40 G49 G54 G80 G94`;

export interface HeaderFacts {
  readonly job: Job;
  readonly tools: readonly Tool[];
  readonly index: number;
  readonly of: number;
  readonly offsets: Offsets;
  readonly extents: Extents;
  readonly blocks: number;
  readonly time_s: number;
  readonly rezeroed: boolean;
  /** Of a program that takes cutting up again: the number of its first pass over the whole job. */
  readonly restart?: number;
}

/** Comment lines of a program's head. */
export function headerLines(f: HeaderFacts): string[] {
  const { job, extents } = f;
  const { control, blank } = job;
  const [ax, ra, ro] = [control.axial.letter, control.radial.letter, control.rotary.letter];
  const range = (letter: string, [lo, hi]: [number, number], decimals: number) =>
    `${letter}${plainNumber(lo, decimals)} to ${letter}${plainNumber(hi, decimals)}`;
  const { linear, rotary } = control.decimals;
  const face = wordsFor(control, 0, 0, 0, f.offsets);
  const turn = wordsPerTurn(control);
  const away = control.rotary.sign > 0;
  const lines = [
    `${job.name}: program ${f.index} of ${f.of}${f.restart ? `, taken up again at restart ${f.restart}` : ''}`,
    ...(f.restart
      ? [
          `only for a blank on which everything before restart ${f.restart} is cut, still in the chuck or back at its zeros`,
        ]
      : []),
    `blank: ${sectionText(job)}, ${mm(blank.to - blank.from)} mm long from ${mm(blank.from)} to ${mm(blank.to)}, ${job.material.label}`,
    `zero: ${ax}${plainNumber(face.axial, linear)} is the form's face at the chuck, ${ra}0 the rotary centre, ${ro}0 has a flat of the blank up`,
    `sense: ${ro} growing by a quarter turn [${plainNumber(turn / 4, rotary)}] must turn the top of the blank ${away ? 'away from' : 'towards'} a person who has the chuck on the left`,
    `units: ${control.units === 'inch' ? `inches [1 = ${mmPerUnit(control)} mm]` : 'mm'}, one turn is ${plainNumber(turn, 6)} in ${ro}; feed: ${feedText(job)}`,
    `extents: ${range(ax, extents.axial, linear)}, ${range(ra, extents.radial, linear)}, ${range(ro, extents.rotary, rotary)}`,
    `${f.blocks} blocks, about ${clock(f.time_s)}`,
    'caution: run it in air above the work first, with a hand on the stop',
    'caution: chuck key out, centre tight, guards on, eyes and ears covered, no gloves, no loose sleeves',
    'caution: start with the spindle at its top; hands off until spindle and rotary stand still',
  ];
  lines.push(
    `note: ends a whole number of turns on, a flat up: set ${ro} to 0 there, or the next program first winds all turns back`,
  );
  if (job.material.caution) lines.push(`caution: ${job.material.caution}`);
  if (f.offsets.radial)
    lines.push(
      `note: after readings of an earlier part every ${ra} word is moved by ${plainNumber(face.radial, linear)}: set the zeros just as for that part`,
    );
  if (f.rezeroed)
    lines.push(
      'note: the count of the rotary starts again with G92 and ends with G92.1: set your zeros with G54, not G92',
    );
  return [...lines.map(comment), ...(f.tools.length === 1 ? [bitLine(f.tools[0]!)] : [])];
}

function sectionText(job: Job): string {
  const { section, width, height, sides } = job.blank;
  const corner = `corners at ${mm(outerRadius(job.blank))} mm from the centre`;
  if (section === 'round') return `round ${mm(width)} mm`;
  if (section === 'polygon') return `${sides} flats, ${mm(2 * innerRadius(job.blank))} mm across, ${corner}`;
  return `${section} ${mm(width)} x ${mm(height)} mm, ${corner}`;
}

function feedText(job: Job): string {
  switch (job.control.feedRule) {
    case 'inverse-time':
      return 'inverse time [G93], F is one over the minutes of the block';
    case 'all-words':
      return 'a minute [G94] over all words of the block together';
    case 'linear-first':
      return 'a minute [G94] over the linear words, the rotary follows';
  }
}

const mm = (value: number): string => plainNumber(value, 2);

/** @param seconds ≥ 0 @returns such as `1 h 04 min` or `3 min 20 s` */
export function clock(seconds: number): string {
  const whole = Math.round(seconds);
  const two = (n: number) => String(n).padStart(2, '0');
  if (whole >= 3600) return `${Math.floor(whole / 3600)} h ${two(Math.floor((whole % 3600) / 60))} min`;
  return whole >= 60 ? `${Math.floor(whole / 60)} min ${two(whole % 60)} s` : `${whole} s`;
}
