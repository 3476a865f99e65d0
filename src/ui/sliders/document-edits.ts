/** What the panel does to a document: one recipe for each thing that a hand can set, add or take out. Pure; values in mm. */
import type { z } from 'zod';
import { MM_PER_INCH } from '../../../shared/units.ts';
import { catalogAt } from '../../part/catalog-at.ts';
import { partSchema } from '../../part/document.ts';
import { isLength, lengthsToInches, lengthsToMm } from '../../part/inch.ts';
import { documentToInches, documentToMm } from '../../part/lengths.ts';
import { schemaAt, valueAt } from '../../part/walk.ts';
import { elementKind } from '../../profiles/elements/registry.ts';
import { documentUnit, inUnit, toDocument } from '../measure.ts';
import type { Path, Raw, Workshop } from '../state/contract.ts';
import { alternativesTo, type FieldRow } from './fields.ts';
import { naturalOf, naturalPart } from './natural.ts';
import { oneMore } from './seed.ts';

type Known = Pick<Workshop, 'raw' | 'part' | 'layout' | 'job' | 'lastGood'>;
type Recipe = (draft: Raw) => void;
type Group = Record<string | number, unknown>;

/** Stands for a whole row of one's own among the ids of a catalog. */
export const OWN = ' own';

/** Length of the unit in which the document writes a row, mm; 1 for what is no length. */
export const unitOf = (raw: Raw, row: Pick<FieldRow, 'unit'>): number =>
  row.unit && isLength(row.unit) ? documentUnit(raw) : 1;

const written = (raw: Raw, schema: z.ZodType, value: unknown): unknown =>
  documentUnit(raw) === MM_PER_INCH ? lengthsToInches(schema, value) : value;

/** The group that a place stands in, made if the document has none yet. */
function groupAt(draft: Raw, path: Path): Group {
  let at = draft as Group;
  for (const [i, key] of path.slice(0, -1).entries()) {
    if (typeof at[key] !== 'object' || at[key] === null) at[key] = typeof path[i + 1] === 'number' ? [] : {};
    at = at[key] as Group;
  }
  return at;
}

/** Puts a value in and takes out what it stands in place of. A share needs a length to be shared. */
function put(w: Known, draft: Raw, path: Path, value: unknown): void {
  const group = groupAt(draft, path);
  const key = path.at(-1)!;
  for (const other of alternativesTo(key, group)) delete group[other];
  group[key] = value;
  if (key === 'share' && draft.length === undefined) {
    const mm = naturalPart(w, ['length'], partSchema.shape.length);
    draft.length = toDocument(draft, Number(mm));
  }
}

/** After a choice some members are missing and others have no meaning: the schema says which, and they come and go with it. */
function settleGroup(w: Known, draft: Raw, path: Path): void {
  const at = path.slice(0, -1);
  const schema = at.length ? schemaAt(partSchema, draft, at) : undefined;
  if (!schema) return;
  const checked = schema.safeParse(lengthsToMm(schema, valueAt(draft, at)));
  if (checked.success) return;
  const group = groupAt(draft, path);
  for (const { code, path: where } of checked.error.issues) {
    const [key] = where;
    if (code !== 'custom' || where.length !== 1 || typeof key !== 'string') continue;
    if (group[key] !== undefined) delete group[key];
    else {
      const member = schemaAt(schema, group, [key])!;
      group[key] = written(draft, member, naturalPart(w, [...at, key], member));
    }
  }
}

/** @param row of the panel @param value in the row's unit (mm), `OWN` for a row of one's own, undefined to leave it out */
export function setRow(w: Known, row: FieldRow, value: unknown): Recipe {
  const { raw } = w;
  if (value === undefined) return leaveOut(w, row.path);
  if (value === OWN) {
    const catalog = catalogAt(schemaAt(partSchema, raw, row.path)!)!;
    const now = valueAt(raw, row.path) ?? row.default;
    const found = catalog.rows.find((r) => r.id === now) ?? catalog.rows[0]!;
    const own = { ...found, id: `own-${found.id}`.slice(0, 80), label: `${found.label}, own` };
    return (draft) => put(w, draft, row.path, written(raw, catalog.schema, own));
  }
  if (row.path.length === 1 && row.path[0] === 'units') {
    // The part stays as large as it is: its lengths are written anew in the other unit.
    const inch = value === 'inch';
    if (inch === (raw.units === 'inch')) return () => {};
    const lengths = (inch ? documentToInches : documentToMm)(raw) as Raw;
    return (draft) => void Object.assign(draft, lengths, { units: value });
  }
  const said = typeof value === 'number' ? inUnit(value, unitOf(raw, row)) : value;
  return (draft) => {
    put(w, draft, row.path, said);
    if (row.kind === 'choice') settleGroup(w, draft, row.path);
  };
}

/** Puts in what is natural at a place that the document leaves out: a value, a group or a list. */
export function putIn(w: Known, path: Path, row?: FieldRow): Recipe {
  if (row) return setRow(w, row, naturalOf(w, row));
  const schema = schemaAt(partSchema, w.raw, path)!;
  const value = written(w.raw, schema, naturalPart(w, path, schema));
  return (draft) => put(w, draft, path, value);
}

/** Takes a place out. Where one of two must stand, the other comes in its stead, so that the part keeps its shape. */
export function leaveOut(w: Known, path: Path): Recipe {
  const key = path.at(-1)!;
  const at = path.slice(0, -1);
  const [root, index] = path;
  const instead: string[] = [];
  if (root === 'form' && (key === 'length' || key === 'share') && !hasOwnLength(w, Number(index)))
    instead.push(key === 'length' ? 'share' : 'length');
  if (root === 'carvings' && key === 'over') instead.push('from', 'to');
  const others = instead.map((name) => {
    const schema = schemaAt(partSchema, w.raw, [...at, name])!;
    return [name, written(w.raw, schema, naturalPart(w, [...at, name], schema))] as const;
  });
  return (draft) => {
    const group = groupAt(draft, path);
    if (Array.isArray(group)) group.splice(Number(key), 1);
    else delete group[key];
    if (key === 'over') delete group.inset;
    for (const [name, value] of others) put(w, draft, [...at, name], value);
  };
}

/** Whether an element of this kind is as long as its own numbers say. */
function hasOwnLength(w: Known, index: number): boolean {
  const element = w.part?.form[index];
  return element !== undefined && elementKind(element.element).natural?.(element as never) !== undefined;
}

/** One more entry in a list. @param path of the list */
export function addEntry(w: Known, path: Path): Recipe {
  const element = schemaAt(partSchema, w.raw, [...path, 0])!;
  const entries = (valueAt(w.raw, path) ?? []) as unknown[];
  const first = () => written(w.raw, element, naturalPart(w, [...path, 0], element));
  const next = entries.length ? oneMore(entries) : [first()];
  return (draft) => put(w, draft, path, next);
}

/** A row of the catalog, by its id, in place of a row of one's own. */
export const nameRow =
  (w: Known, path: Path, id: string): Recipe =>
  (draft) =>
    put(w, draft, path, id);
