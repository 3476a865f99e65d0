/** What the rows of a line may have otherwise: the document's knobs, or a few of its places where it names none. Pure. */
import type { Problem } from '../../../shared/problems.ts';
import { columnsOf } from '../../batch/line-columns.ts';
import { isLength, shown } from '../../part/inch.ts';
import type { Takes } from '../../part/knobs.ts';
import { valueAt } from '../../part/walk.ts';
import { checkPart, knobsOf, type Part } from '../../part.ts';
import type { Raw } from '../state/contract.ts';

export interface LineColumn {
  /** Heads the column, in a table file too: a knob's id or a place of the document. */
  readonly id: string;
  readonly label: string;
  /** Limits in the document's own unit. */
  readonly takes: Takes;
  readonly unit: string;
  /** What the document itself has, as a cell says it; empty where it leaves it open. */
  readonly now: string;
  /** Whether it is the hand of a twist, so that rows come in pairs. */
  readonly hand: boolean;
}

/** Offered where a document names no knobs. */
const PLAIN = ['length', 'girth', 'material'];
const isHand = (takes: Takes): boolean => takes.choices.includes('left') && takes.choices.includes('right');

/** A value as a cell says it. */
export const cellText = (value: unknown): string =>
  typeof value === 'boolean'
    ? value
      ? 'yes'
      : 'no'
    : typeof value === 'object' || value === undefined
      ? ''
      : String(value);

/** Columns that a table of this document has beside name and quantity. */
function idsOf(part: Part): string[] {
  const knobs = knobsOf(part);
  const ids = knobs.length
    ? knobs.map((k) => k.id)
    : PLAIN.filter((id) => id !== 'length' || part.length !== undefined);
  const twisted = (part.carvings ?? []).flatMap((c, i) => ('hand' in c ? [`carvings[${i}].hand`] : []));
  return knobs.some(isHand) ? ids : [...ids, ...twisted];
}

/** @param raw the document @returns its columns, or why it has none yet */
export function lineColumns(raw: Raw): { columns: LineColumn[] } | { problems: Problem[] } {
  const checked = checkPart(raw);
  if ('problems' in checked) return checked;
  const { part } = checked;
  const inch = part.units === 'inch';
  const head = columnsOf({ line: 1, cells: ['name', 'quantity', ...idsOf(part)] }, part, knobsOf(part));
  if ('problems' in head) return head;
  return {
    columns: head.columns.slice(2).flatMap((c) => {
      if (!c.takes) return [];
      const { takes } = c;
      const length = takes.unit !== undefined && isLength(takes.unit);
      const own = (v: number) => (length ? shown(v, inch) : v);
      const value = valueAt(part, c.places[0]!);
      // Left out, a part is as thick as its form says: the girth of 1.
      const now = c.title === 'girth' && value === undefined ? 1 : value;
      return [
        {
          id: c.title,
          label: c.knob?.label ?? c.title.replace(/^blank\./, ''),
          takes: { ...takes, min: own(takes.min), max: own(takes.max), step: own(takes.step) },
          unit: length ? (inch ? 'in' : 'mm') : takes.unit === 'deg' ? '°' : takes.unit === 'turns' ? 'turns' : '',
          now: cellText(typeof now === 'number' ? own(now) : now),
          hand: isHand(takes),
        },
      ];
    }),
  };
}

/** Where a slider of a column may go: its limits, or half and double what it stands at where those are far away. */
export function slideRange(c: LineColumn): { from: number; to: number } {
  const now = Number(c.now) || 1;
  const { min, max } = c.takes;
  const far = !(max - min <= 6 * Math.abs(now));
  return far ? { from: Math.max(min, now / 2), to: Math.min(max, now * 2) } : { from: min, to: max };
}

export const isNumber = (c: LineColumn): boolean => c.takes.kind === 'number' || c.takes.kind === 'whole';
