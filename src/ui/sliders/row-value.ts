/** One row's value: read from the document, written back as the hand moves. */
import { MM_PER_INCH } from '../../../shared/units.ts';
import { catalogAt } from '../../part/catalog-at.ts';
import { partSchema } from '../../part/document.ts';
import { isLength, lengthsToInches } from '../../part/inch.ts';
import { documentToInches, documentToMm } from '../../part/lengths.ts';
import { schemaAt, valueAt } from '../../part/walk.ts';
import { documentUnit } from '../measure.ts';
import { actions, shop, useShop } from '../shop.ts';
import type { Raw } from '../state/contract.ts';
import { alternativesTo, type FieldRow } from './fields.ts';
import { naturalOf } from './natural.ts';

/** Stands for a whole row of one's own among the ids of a catalog. */
export const OWN = ' own';

const unitOf = (raw: Raw, row: FieldRow): number => (row.unit && isLength(row.unit) ? documentUnit(raw) : 1);

export interface RowValue {
  /** In the row's own unit (mm), whether written or natural. */
  value: unknown;
  /** Whether the document says it itself. */
  written: boolean;
  write(value: unknown, gesture?: string): void;
  /** Takes it out of the document, or puts in what is natural. */
  toggle(on: boolean): void;
}

function write(row: FieldRow, value: unknown, gesture?: string): void {
  const { raw } = shop.getState();
  if (value === OWN) {
    const schema = schemaAt(partSchema, raw, row.path)!;
    const catalog = catalogAt(schema)!;
    const now = valueAt(raw, row.path) ?? row.default;
    const found = catalog.rows.find((r) => r.id === now) ?? catalog.rows[0]!;
    const own = { ...found, id: `own-${found.id}`.slice(0, 80), label: `${found.label}, own` };
    actions.edit(row.path, documentUnit(raw) === MM_PER_INCH ? lengthsToInches(catalog.schema, own) : own);
    return;
  }
  if (row.path.length === 1 && row.path[0] === 'units') {
    // The part stays as large as it is: its lengths are written anew in the other unit.
    const inch = value === 'inch';
    if (inch === (raw.units === 'inch')) return;
    const lengths = (inch ? documentToInches : documentToMm)(raw) as Raw;
    actions.change((draft) => void Object.assign(draft, lengths, { units: value }));
    return;
  }
  const put = typeof value === 'number' ? Number((value / unitOf(raw, row)).toFixed(6)) : value;
  const group = valueAt(raw, row.path.slice(0, -1));
  const key = row.path.at(-1)!;
  const gone = put === undefined ? [] : alternativesTo(key, group);
  if (!gone.length) {
    actions.edit(row.path, put, gesture);
    return;
  }
  const overall = naturalOf(shop.getState(), { ...row, path: ['length'] });
  actions.change((draft) => {
    const at = valueAt(draft, row.path.slice(0, -1)) as Record<string | number, unknown>;
    for (const other of gone) delete at[other];
    at[key] = put;
    // A share needs a length to be shared.
    if (key === 'share') draft.length ??= Number((Number(overall) / documentUnit(draft)).toFixed(6));
  }, gesture);
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
    write: (next, gesture) => write(row, next, gesture),
    toggle: (on) => {
      write(row, on ? natural : undefined);
      actions.settle();
    },
  };
}
