/** Fits the numbers of a form's elements to readings by trying each in turn. Pure, deterministic; a step at a time. */
import { fieldOf } from '../../profiles/build-field.ts';
import type { Design } from '../../profiles/design.ts';
import { type Element, elementSchema } from '../../profiles/elements/registry.ts';
import type { Section } from '../../profiles/section.ts';
import { deviations, type Reading, spread } from './readings.ts';

/** Numbers of an element that shape it across the axis or along it. */
const FREE = ['start', 'end', 'rise', 'depth', 'belly', 'neck', 'swell', 'at', 'length'];
/** Steps tried for a length, mm, and for a share; each round begins with the first. */
const STEPS = [2, 0.5, 0.1];
const SHARE_STEP = 0.02;
const ROUNDS = 4;

export interface Fitted {
  form: Element[];
  /** Spread of the deviations before and after, mm. */
  before: number;
  after: number;
}

/**
 * Yields the share that is done after every element, so that the page stays awake and the hand can stop it.
 * @param design form in mm @param offset x of the first reading, mm @returns the fitted form; its overall length follows from
 * its elements
 */
export function* fitting(
  design: Design,
  readings: readonly Reading[],
  offset: number,
  section?: Section,
): Generator<number, Fitted> {
  let covered: number | undefined;
  const off = (form: Element[]): number => {
    const { field } = fieldOf({ ...design, carvings: undefined, length: lengthOf(design, form), form }, section);
    if (!field) return Infinity;
    const list = deviations(field, readings, offset);
    // A form that grows shorter must not leave behind the readings that it does not meet.
    covered ??= list.length;
    return list.length < covered ? Infinity : spread(list);
  };
  let form = design.form;
  const before = off(form);
  let best = before;
  for (const [s, step] of STEPS.entries())
    for (let round = 0; round < ROUNDS; round++) {
      const began = best;
      for (const i of form.keys()) {
        for (const key of FREE) {
          const value = (form[i] as unknown as Record<string, unknown>)[key];
          if (typeof value !== 'number') continue;
          const by = key === 'at' ? SHARE_STEP * step : step;
          for (const change of [by, -by]) {
            const tried = elementSchema.safeParse({ ...form[i], [key]: Number((value + change).toFixed(4)) });
            if (!tried.success) continue;
            const next = form.with(i, tried.data);
            const now = off(next);
            if (now < best - 1e-9) {
              form = next;
              best = now;
              break;
            }
          }
        }
        yield (s + (round + (i + 1) / form.length) / ROUNDS) / STEPS.length;
      }
      if (began - best < 1e-4) break;
    }
  return { form, before, after: best };
}

const lengthOf = (design: Design, form: readonly Element[]): number | undefined =>
  form.some((e) => e.share !== undefined) ? design.length : undefined;

/** The same in one go. */
export function fitForm(...of: Parameters<typeof fitting>): Fitted {
  const steps = fitting(...of);
  for (;;) {
    const { done, value } = steps.next();
    if (done) return value;
  }
}
