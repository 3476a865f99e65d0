/** What a cell of a table says: one value, several, or a sweep from one number to another. */
import { isLength, shown } from '../part/inch.ts';
import type { Takes } from '../part/knobs.ts';
import { didYouMean, likely } from '../part/nearest.ts';
import type { Place } from '../part/place.ts';
import type { Column } from './line-columns.ts';
import { type Decimal, numberIn, numberPattern } from './line-numbers.ts';

/** What one value of a cell does to the document; an undefined value takes the key out. */
export interface Setting {
  readonly place: Place;
  readonly value: unknown;
}

/** One of the values that a cell stands for. */
export interface Choice {
  readonly settings: readonly Setting[];
  /** As it belongs into a name. */
  readonly word: string;
}

/** What is wrong with a cell, and what is allowed. */
export interface WrongCell {
  readonly message: string;
  readonly allowed: string;
}

/** In place of a hand: a variant of each. */
const PAIR = 'pair';
const BETWEEN = '|';
/** A sweep of more is a slip of the hand. */
const MOST_STEPS = 1000;
const TRUE = ['true', 'yes'];
const FALSE = ['false', 'no'];

const isHand = (takes: Takes): boolean =>
  takes.choices.length === 2 && takes.choices.includes('left') && takes.choices.includes('right');
const isNumber = (takes: Takes): boolean => takes.kind === 'number' || takes.kind === 'whole';
/** Whether numbers are expected in a column's cells. */
export const hasNumbers = (c: Column): boolean =>
  c.sets === 'quantity' || c.sets === 'blank' || (c.takes !== undefined && isNumber(c.takes));
/** A sum of steps is rounded to what a table would say, a millionth. */
const tidy = (v: number): number => Number(v.toFixed(6));

/** Numbers of a sweep: `440 to 600 by 40`, `440 to 600 in 5`. @returns undefined if the text is no sweep */
function sweep(text: string, decimal: Decimal): number[] | WrongCell | undefined {
  const n = numberPattern(decimal);
  const parts = new RegExp(`^(${n})\\s+to\\s+(${n})\\s+(by|in)\\s+(${n})$`, 'i').exec(text);
  if (!parts) return undefined;
  const [from, to, step] = [parts[1]!, parts[2]!, parts[4]!].map((t) => numberIn(t, decimal)) as [
    number,
    number,
    number,
  ];
  const wrong = (message: string, allowed: string): WrongCell => ({ message, allowed });
  if (parts[3]!.toLowerCase() === 'in') {
    if (!Number.isInteger(step) || step < 2 || step > MOST_STEPS)
      return wrong(`a sweep in ${parts[4]} makes no row of values`, `a whole number from 2 to ${MOST_STEPS}`);
    return Array.from({ length: step }, (_, i) => tidy(from + ((to - from) * i) / (step - 1)));
  }
  const steps = (to - from) / step;
  if (!(steps > 0) || steps > MOST_STEPS)
    return wrong(
      `steps of ${parts[4]} do not lead from ${parts[1]} to ${parts[2]}`,
      `up to ${MOST_STEPS} steps towards the end`,
    );
  // A step that just misses the end by rounding reaches it.
  return Array.from({ length: Math.floor(steps + 1e-9) + 1 }, (_, i) => tidy(from + step * i));
}

/** The limits of a column as the table would write them. */
function limits(takes: Takes, inch: boolean): string {
  const length = takes.unit !== undefined && isLength(takes.unit);
  const show = (v: number) => (length ? shown(v, inch) : v);
  const unit = length ? (inch ? ' in' : ` ${takes.unit}`) : '';
  return `${takes.kind === 'whole' ? 'a whole number from ' : ''}${show(takes.min)} to ${show(takes.max)}${unit}`;
}

function numbers(text: string, takes: Takes, decimal: Decimal, inch: boolean): number[] | WrongCell {
  const swept = sweep(text, decimal);
  const found = swept ?? [numberIn(text, decimal)];
  if ('message' in found) return found;
  if (found.some((v) => Number.isNaN(v))) return { message: `"${text}" is no number`, allowed: limits(takes, inch) };
  if (takes.kind === 'whole' && found.some((v) => !Number.isInteger(v)))
    return { message: `"${text}" is not whole`, allowed: limits(takes, inch) };
  const length = takes.unit !== undefined && isLength(takes.unit);
  const show = (v: number) => (length ? shown(v, inch) : v);
  const outside = found.find((v) => v < show(takes.min) || v > show(takes.max));
  return outside === undefined
    ? found
    : { message: `${outside} is too ${outside < show(takes.min) ? 'small' : 'large'}`, allowed: limits(takes, inch) };
}

function names(text: string, takes: Takes): string[] | WrongCell {
  if (text.toLowerCase() === PAIR && isHand(takes)) return ['left', 'right'];
  const found = takes.choices.find((c) => c.toLowerCase() === text.toLowerCase());
  if (found !== undefined) return [found];
  const meant = likely(text, takes.choices);
  const all = `one of ${takes.choices.join(', ')}${isHand(takes) ? `, or ${PAIR} for one of each` : ''}`;
  return { message: `"${text}" is not known`, allowed: meant.length ? didYouMean(meant) : all };
}

function flags(text: string): boolean[] | WrongCell {
  const word = text.toLowerCase();
  if (TRUE.includes(word)) return [true];
  return FALSE.includes(word) ? [false] : { message: `"${text}" is neither yes nor no`, allowed: 'yes or no' };
}

/** A blank in words: `square 42`, `round 45`, `rectangle 42 x 36`, `polygon 66 8 sides`. */
function blank(text: string, decimal: Decimal): Choice | WrongCell {
  const n = numberPattern(decimal);
  const shape = new RegExp(
    `^(square|round|rectangle|polygon)(?:\\s+(${n})(?:\\s*[x×]\\s*(${n}))?)?(?:\\s+(\\d+)\\s+sides)?$`,
    'i',
  ).exec(text);
  if (!shape)
    return {
      message: `"${text}" is no blank`,
      allowed: 'square 42, round 45, rectangle 42 x 36 or polygon 66 8 sides',
    };
  const section = shape[1]!.toLowerCase();
  const set = (key: string, value: unknown): Setting => ({ place: ['blank', key], value });
  const number = (t: string | undefined) => (t === undefined ? undefined : numberIn(t, decimal));
  return {
    word: text.replace(/\s+/g, ' '),
    settings: [
      set('section', section),
      // Without a width the document's stays; a height and a number of sides are the old section's.
      ...(shape[2] === undefined ? [] : [set('width', number(shape[2]))]),
      set('height', number(shape[3])),
      set('sides', number(shape[4])),
    ],
  };
}

/**
 * The values that a cell stands for.
 * @param text not empty @param inch whether the document is in inches
 * @returns one choice, or several where the cell sweeps or lists them
 */
export function choicesIn(column: Column, text: string, decimal: Decimal, inch: boolean): Choice[] | WrongCell {
  if (column.sets === 'text') return [{ settings: [{ place: column.places[0]!, value: text }], word: text }];
  const found: Choice[] = [];
  for (const part of text.split(BETWEEN).map((t) => t.trim())) {
    if (part === '') return { message: `"${text}" lists an empty value`, allowed: `values between ${BETWEEN}` };
    if (column.sets === 'blank') {
      const choice = blank(part, decimal);
      if ('message' in choice) return choice;
      found.push(choice);
      continue;
    }
    const takes = column.takes!;
    const values = isNumber(takes)
      ? numbers(part, takes, decimal, inch)
      : takes.kind === 'flag'
        ? flags(part)
        : names(part, takes);
    if ('message' in values) return values;
    for (const value of values)
      found.push({ settings: column.places.map((place) => ({ place, value })), word: String(value) });
  }
  const twice = found.find((c, i) => found.findIndex((d) => d.word === c.word) < i);
  return twice ? { message: `"${text}" names ${twice.word} twice`, allowed: 'each value once' } : found;
}
