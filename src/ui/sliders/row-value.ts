/** One row's value: read from the document, written back as the hand moves. */
import { valueAt } from '../../part/walk.ts';
import { actions, shop, useShop } from '../shop.ts';
import { putIn, setRow, unitOf } from './document-edits.ts';
import type { FieldRow } from './fields.ts';
import { naturalOf } from './natural.ts';

export interface RowValue {
  /** In the row's own unit (mm), whether written or natural. */
  value: unknown;
  /** Whether the document says it itself. */
  written: boolean;
  write(value: unknown, gesture?: string): void;
  /** Takes it out of the document, or puts in what is natural. */
  toggle(on: boolean): void;
}

export function useRowValue(row: FieldRow): RowValue {
  const written = useShop((s) => valueAt(s.raw, row.path));
  const unit = useShop((s) => unitOf(s.raw, row));
  const natural = useShop((s) => {
    const found = naturalOf(s, row);
    return typeof found === 'object' ? undefined : found;
  });
  const value = written === undefined ? natural : typeof written === 'number' ? written * unit : written;
  return {
    value,
    written: written !== undefined,
    write: (next, gesture) => actions.change(setRow(shop.getState(), row, next), gesture),
    toggle: (on) => {
      const now = shop.getState();
      actions.change(on ? putIn(now, row.path, row) : setRow(now, row, undefined));
      actions.settle();
    },
  };
}
