/** Of the part document: the few things that a variant of it may have otherwise, each under a name, with limits of its own. */
import { z } from 'zod';
import type { Problem } from '../../shared/problems.ts';
import { type FieldMeta, metaOf, text, type Unit } from '../../shared/schema.ts';
import { catalogAt } from './catalog-at.ts';
import { isLength, shown } from './inch.ts';
import { didYouMean, likely, nearest } from './nearest.ts';
import { type Place, placeOf } from './place.ts';
import { choicesOf, schemaAt, typeOf, valueAt } from './walk.ts';

/** Words that a table of variants keeps for itself. */
export const TABLE_WORDS = ['name', 'quantity', 'blank', 'material'];

const limit = (label: string, description: string) => z.number().meta({ label, description }).optional();

const knobSchema = z
  .strictObject({
    id: z
      .string()
      .regex(/^[a-z][a-z0-9-]{0,39}$/)
      .meta({ label: 'id', description: 'Small letters, digits and hyphens; heads its column in a table of variants' }),
    label: text(60, { label: 'label', description: 'What a person calls it' }),
    sets: z
      .array(text(120, { label: 'place', description: 'A place of the document, such as carvings[0].count' }))
      .min(1)
      .max(24)
      .meta({ label: 'sets', description: 'The places of the document that it sets, all to the same value' }),
    min: limit('min', 'Smallest value, in the unit of its places; left out, the smallest that they take'),
    max: limit('max', 'Largest value, in the unit of its places; left out, the largest that they take'),
    step: limit('step', 'Distance between the values that a slider offers; left out, that of its places'),
    choices: z
      .array(text(80, { label: 'choice', description: 'One of the names that its places take' }))
      .min(2)
      .max(40)
      .meta({ label: 'choices', description: 'The names that it offers; left out, all that its places take' })
      .optional(),
  })
  .meta({ label: 'knob', description: 'One thing that variants of the part may have otherwise' });

export const knobsSchema = z
  .array(knobSchema)
  .max(16)
  .meta({
    label: 'knobs',
    description: 'The few things that a variant may have otherwise, the rest of the part staying',
  })
  .optional();

type WrittenKnob = z.infer<typeof knobSchema>;

/** What may stand at a place of the document. */
export interface Takes {
  readonly kind: 'number' | 'whole' | 'choice' | 'flag';
  readonly unit?: Unit;
  /** Of numbers, in mm where the unit is a length; infinite where the declaration gives none. */
  readonly min: number;
  readonly max: number;
  readonly step: number;
  /** Names, of a choice or of a catalog's rows. */
  readonly choices: readonly string[];
}

/** A knob with everything that follows from its places. */
export interface Knob extends Takes {
  readonly id: string;
  readonly label: string;
  readonly places: readonly Place[];
  /** What the document has at the first place, in mm where it is a length; undefined where the document leaves it out. */
  readonly value: number | string | boolean | undefined;
}

/** What a place takes. @param schema its declaration @returns undefined for a group, a list, a text or a name of a kind */
export function takesAt(schema: z.ZodType): Takes | undefined {
  const meta: FieldMeta | undefined = metaOf(schema);
  const plain = { min: -Infinity, max: Infinity, step: 1, choices: [] };
  const catalog = catalogAt(schema);
  if (catalog) return { ...plain, kind: 'choice', choices: catalog.rows.map((r) => r.id) };
  switch (typeOf(schema)) {
    case 'number':
    case 'int':
      return {
        kind: meta?.unit === 'count' ? 'whole' : 'number',
        ...(meta?.unit ? { unit: meta.unit } : {}),
        min: meta?.min ?? -Infinity,
        max: meta?.max ?? Infinity,
        step: meta?.step ?? 1,
        choices: [],
      };
    case 'boolean':
      return { ...plain, kind: 'flag' };
    case 'enum':
      return { ...plain, kind: 'choice', choices: choicesOf(schema) };
    default:
      return undefined;
  }
}

/** Not a variant's to change: the document's own language. */
const OWN_LANGUAGE = ['$schema', 'cavetto', 'units', 'knobs'];

/**
 * Checks the knobs of a document whose schema is already satisfied.
 * @param root the document's schema @param document lengths in mm @param knobs of it, lengths in mm @param inch whether it is an inch document
 * @returns the knobs, and one problem for each thing that is wrong with them, in the document's own units
 */
export function readKnobs(
  root: z.ZodType,
  document: unknown,
  knobs: readonly WrittenKnob[],
  inch: boolean,
): { knobs: Knob[]; problems: Problem[] } {
  const problems: Problem[] = [];
  const read: Knob[] = [];
  const ids = new Set<string>();
  const taken = new Map<string, string>();
  knobs.forEach((knob, i) => {
    const wrong = (at: string, message: string, allowed: string) =>
      problems.push({ code: 'knob', severity: 'refuse', path: `knobs[${i}]${at}`, message, allowed });
    if (TABLE_WORDS.includes(knob.id))
      wrong('.id', `a table of variants has its own column "${knob.id}"`, 'another id');
    if (ids.has(knob.id)) wrong('.id', `another knob is called "${knob.id}"`, 'another id');
    ids.add(knob.id);
    const before = problems.length;
    const places = knob.sets.map((written, j) => {
      const at = `.sets[${j}]`;
      const place = placeOf(written);
      const schema = place && !OWN_LANGUAGE.includes(String(place[0])) ? schemaAt(root, document, place) : undefined;
      const takes = schema && takesAt(schema);
      const owner = taken.get(written);
      if (owner) wrong(at, `the knob "${owner}" sets it already`, 'one knob for each place');
      taken.set(written, knob.id);
      // The way to it must be there, though it may itself be left out.
      const there = place && (place.length === 1 || valueAt(document, place.slice(0, -1)) !== undefined);
      if (!place || !schema || !there)
        wrong(at, `there is no place "${written}" in this document`, hint(document, place) ?? 'such as form[2].length');
      else if (!takes) wrong(at, `"${written}" is no number and no choice`, 'a place with a single value');
      return takes && there ? { place, takes } : undefined;
    });
    if (problems.length > before) return;
    const first = places[0]!.takes;
    for (const [j, p] of places.entries())
      if (p!.takes.kind !== first.kind || p!.takes.unit !== first.unit)
        wrong(`.sets[${j}]`, `it takes another kind of value than ${knob.sets[0]}`, 'places of one kind and unit');
    if (problems.length > before) return;
    const all = places.map((p) => p!.takes);
    const offers = limitsOf(knob, all, inch, wrong);
    if (problems.length > before) return;
    const now = valueAt(document, places[0]!.place);
    read.push({
      id: knob.id,
      label: knob.label,
      places: places.map((p) => p!.place),
      ...offers,
      // A catalog row of the document's own stands for none of the names.
      value: typeof now === 'number' || typeof now === 'string' || typeof now === 'boolean' ? now : undefined,
    });
  });
  return { knobs: read, problems };
}

/** A near miss in the last key of a place. */
function hint(document: unknown, place: Place | undefined): string | undefined {
  const last = place?.at(-1);
  const group = place && valueAt(document, place.slice(0, -1));
  if (typeof last !== 'string' || typeof group !== 'object' || group === null) return undefined;
  const meant = nearest(last, Object.keys(group));
  return meant && `did you mean "${meant}"?`;
}

/** What a knob offers: its own limits inside those of all its places. */
function limitsOf(
  knob: WrittenKnob,
  all: readonly Takes[],
  inch: boolean,
  wrong: (at: string, message: string, allowed: string) => void,
): Takes {
  const first = all[0]!;
  if (first.kind === 'choice' || first.kind === 'flag') {
    for (const key of ['min', 'max', 'step'] as const)
      if (knob[key] !== undefined) wrong(`.${key}`, 'its places take names, not numbers', 'leave it out');
    if (first.kind === 'flag' && knob.choices) wrong('.choices', 'its places take true or false', 'leave it out');
    const known = first.choices.filter((c) => all.every((t) => t.choices.includes(c)));
    for (const [k, c] of (first.kind === 'choice' ? (knob.choices ?? []) : []).entries())
      if (!known.includes(c)) {
        const meant = likely(c, known);
        wrong(`.choices[${k}]`, `"${c}" is not known`, meant.length ? didYouMean(meant) : `one of ${known.join(', ')}`);
      }
    return { ...first, choices: knob.choices ?? known };
  }
  if (knob.choices) wrong('.choices', 'its places take numbers, not names', 'min, max and step');
  const low = Math.max(...all.map((t) => t.min));
  const high = Math.min(...all.map((t) => t.max));
  const { min = low, max = high, step = first.step } = knob;
  const say = (v: number) => (first.unit !== undefined && isLength(first.unit) ? shown(v, inch) : v);
  if (min < low) wrong('.min', `${say(min)} is less than its places take`, `at least ${say(low)}`);
  if (max > high) wrong('.max', `${say(max)} is more than its places take`, `at most ${say(high)}`);
  if (max <= min) wrong('.max', `${say(max)} is not above ${say(min)}`, 'a largest value above the smallest');
  if (!(step > 0)) wrong('.step', `${say(step)} is no step`, 'a number above 0');
  if (first.kind === 'whole')
    for (const [key, v] of Object.entries({ min, max, step }))
      if (!Number.isInteger(v)) wrong(`.${key}`, `${v} is not whole, and its places count`, 'a whole number');
  return { ...first, min, max, step };
}

/**
 * Knobs' limits are in the unit of their places, which the schema cannot know of a bare number.
 * @param document whole; its knobs may be anything @param change gets a length
 * @returns a copy with the limits of those knobs changed whose first place takes a length
 */
export function withKnobLengths(root: z.ZodType, document: unknown, change: (length: number) => number): unknown {
  const knobs = valueAt(document, ['knobs']);
  if (!Array.isArray(knobs)) return document;
  const changed = knobs.map((knob: unknown) => {
    const first = valueAt(knob, ['sets', 0]);
    const place = typeof first === 'string' ? placeOf(first) : undefined;
    const schema = place && schemaAt(root, document, place);
    const unit = schema && takesAt(schema)?.unit;
    if (!unit || !isLength(unit)) return knob;
    return Object.fromEntries(
      Object.entries(knob as object).map(([key, v]) => [
        key,
        typeof v === 'number' && ['min', 'max', 'step'].includes(key) ? change(v) : v,
      ]),
    );
  });
  return { ...(document as object), knobs: changed };
}
