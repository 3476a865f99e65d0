/** The header of a table: what each column sets. */
import type { Problem } from '../../shared/problems.ts';
import { partSchema } from '../part/document.ts';
import { type Knob, TABLE_WORDS, type Takes, takesAt } from '../part/knobs.ts';
import { nearest } from '../part/nearest.ts';
import { type Place, pathText, placeOf } from '../part/place.ts';
import { schemaAt, typeOf, valueAt } from '../part/walk.ts';
import { cellPath, type TableRow, tableProblem } from './line-text.ts';

/** A table's column. */
export interface Column {
  /** Counted from 1. */
  readonly number: number;
  readonly title: string;
  readonly sets: 'name' | 'quantity' | 'blank' | 'text' | 'value';
  /** Places of the document that it sets; none for the quantity. */
  readonly places: readonly Place[];
  /** What its cells may hold, in mm where it is a length; for `value` alone. */
  readonly takes?: Takes;
  readonly knob?: Knob;
}

/** Not a table's to change: the document's own language, and what its own columns say. */
const OWN_LANGUAGE = ['$schema', 'cavetto', 'units', 'knobs', 'name'];
const BLANK: Place[] = ['section', 'width', 'height', 'sides'].map((key) => ['blank', key]);

/** A column that names a place of the document. */
function placeColumn(number: number, title: string, document: unknown): Column | undefined {
  const place = placeOf(title);
  if (!place || OWN_LANGUAGE.includes(String(place[0]))) return undefined;
  const schema = schemaAt(partSchema, document, place);
  if (!schema || (place.length > 1 && valueAt(document, place.slice(0, -1)) === undefined)) return undefined;
  const takes = takesAt(schema);
  if (takes) return { number, title, sets: 'value', places: [place], takes };
  return typeOf(schema) === 'string' ? { number, title, sets: 'text', places: [place] } : undefined;
}

function columnOf(number: number, title: string, document: unknown, knobs: readonly Knob[]): Column | undefined {
  const word = title.toLowerCase();
  if (word === 'name') return { number, title: word, sets: word, places: [['name']] };
  if (word === 'quantity') return { number, title: word, sets: word, places: [] };
  if (word === 'blank') return { number, title: word, sets: 'blank', places: BLANK };
  if (word === 'material') return placeColumn(number, 'blank.material', document);
  const knob = knobs.find((k) => k.id === word);
  if (knob) return { number, title: knob.id, sets: 'value', places: knob.places, takes: knob, knob };
  return placeColumn(number, title, document);
}

/**
 * @param header of the table @param document checked, whole: its defaults are places too @param knobs of the document
 * @returns columns in their order, or what is wrong with each of them
 */
export function columnsOf(
  header: TableRow,
  document: unknown,
  knobs: readonly Knob[],
): { columns: Column[] } | { problems: Problem[] } {
  const problems: Problem[] = [];
  const columns: Column[] = [];
  const known = [...TABLE_WORDS, ...knobs.map((k) => k.id)];
  header.cells.forEach((title, i) => {
    const at = cellPath(header.line, i + 1);
    if (title === '') {
      problems.push(
        tableProblem('table-column', at, 'the column has no name', `one of ${known.join(', ')}, or a place`),
      );
      return;
    }
    const column = columnOf(i + 1, title, document, knobs);
    if (!column) {
      const meant = nearest(title, known);
      const allowed = meant
        ? `did you mean "${meant}"?`
        : `${known.join(', ')}, or a place of the document such as blank.width`;
      problems.push(tableProblem('table-column', at, `the column "${title}" is not known`, allowed));
      return;
    }
    const same = columns.find(
      (c) => c.title === column.title || c.places.some((p) => column.places.some((q) => pathText(p) === pathText(q))),
    );
    if (same)
      problems.push(
        tableProblem(
          'table-column',
          at,
          `"${title}" sets what column ${same.number} (${same.title}) sets already`,
          'one column for each',
        ),
      );
    columns.push(column);
  });
  if (!problems.length && !columns.some((c) => c.sets === 'name'))
    problems.push(
      tableProblem('table-column', cellPath(header.line), 'no column is called "name"', 'a name for each variant'),
    );
  return problems.length ? { problems } : { columns };
}
