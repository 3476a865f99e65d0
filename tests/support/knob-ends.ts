/** Documents with their knobs turned as far as they go. */
import type { Knob } from '../../src/part/knobs.ts';
import { withValue } from '../../src/part/place.ts';

/** What a knob can be turned to at most: a choice to each of its names. */
export const ends = (k: Knob): unknown[] =>
  k.kind === 'choice' ? [...k.choices] : k.kind === 'flag' ? [true, false] : [k.min, k.max];

/** @param raw a document in mm @returns a copy with these knobs set */
export const turned = (raw: object, values: readonly (readonly [Knob, unknown])[]): object =>
  values.reduce((doc, [k, v]) => k.places.reduce((d, place) => withValue(d, place, v), doc), raw);

/** All knobs at their least, and all at their most. */
export const extremes = (raw: object, knobs: readonly Knob[]): readonly [least: object, most: object] => [
  turned(
    raw,
    knobs.map((k) => [k, ends(k)[0]]),
  ),
  turned(
    raw,
    knobs.map((k) => [k, ends(k).at(-1)]),
  ),
];
