/** Puts the elements of a form in a row: who stands where, and which diameters meet. */
import type { Problem } from '../../shared/problems.ts';
import { SAME_X, SMALLEST_RADIUS } from '../../shared/tolerances.ts';
import type { Design } from './design.ts';
import { FIRST_DIAMETER, type Outline } from './element.ts';
import { elementKind } from './elements/registry.ts';
import type { Section } from './section.ts';

export interface PlacedElement {
  index: number;
  kind: string;
  /** x of its two ends, mm. */
  from: number;
  to: number;
  /** Diameters of its outline at its two ends, mm; of a pommel cut off square, around the blank's arrises. */
  start: number;
  end: number;
  outline: Outline;
}

export interface Layout {
  placed: PlacedElement[];
  /** Overall length, mm. */
  length: number;
  problems: Problem[];
}

const round = (mm: number) => String(Math.round(mm * 1000) / 1000);

/**
 * Lengths of all elements: the fixed ones as told, the shares of what they leave of the overall length.
 * @param problems filled with what does not fit @returns mm, one a element; undefined if they cannot be told
 */
function lengths(design: Design, problems: Problem[]): number[] | undefined {
  const before = problems.length;
  const wrong = (path: string, message: string, allowed: string) =>
    problems.push({ code: 'wrong-shape', severity: 'refuse', path, message, allowed });
  const fixed = design.form.map((e, i) => {
    if (e.length !== undefined && e.share !== undefined)
      wrong(`form[${i}].share`, 'an element has a length or a share, not both', 'leave one out');
    const natural = e.length === undefined && e.share === undefined ? elementKind(e.element).natural?.(e) : e.length;
    if (natural === undefined && e.share === undefined)
      wrong(`form[${i}].length`, `the ${e.element} has neither length nor share`, 'give one of the two');
    return natural;
  });
  if (problems.length > before) return undefined;
  const taken = fixed.reduce<number>((sum, l) => sum + (l ?? 0), 0);
  const weights = design.form.reduce((sum, e) => sum + (e.share ?? 0), 0);
  if (weights === 0) {
    const over = taken - (design.length ?? taken);
    if (Math.abs(over) > SAME_X * design.form.length)
      problems.push({
        code: over > 0 ? 'elements-too-long' : 'elements-too-short',
        severity: 'refuse',
        path: 'length',
        message: `the elements add up to ${round(taken)} mm, ${round(Math.abs(over))} mm ${over > 0 ? 'more' : 'less'} than the overall length`,
        allowed: `length ${round(taken)}, or give one element a share`,
      });
    return fixed as number[];
  }
  if (design.length === undefined) {
    wrong('length', 'elements with a share need an overall length', 'give a length');
    return undefined;
  }
  const left = design.length - taken;
  const needed = 0.05 * design.form.filter((e) => e.share !== undefined).length;
  if (left < needed) {
    problems.push({
      code: 'elements-too-long',
      severity: 'refuse',
      path: 'length',
      message: `the fixed elements take ${round(taken)} mm of ${round(design.length)} mm and leave nothing to share`,
      allowed: `a length above ${round(taken + needed)}`,
    });
    return undefined;
  }
  return design.form.map((e, i) => fixed[i] ?? (left * e.share!) / weights);
}

/**
 * Lays out a form.
 * @param section the blank's, for pommels; undefined if there is no blank
 * @returns elements in order with their ends and diameters, and what is wrong; placed is empty if lengths cannot be told
 */
export function layOut(design: Design, section?: Section): Layout {
  const problems: Problem[] = [];
  const all = lengths(design, problems);
  if (!all) return { placed: [], length: 0, problems };
  const girth = design.girth ?? 1;
  const placed: PlacedElement[] = [];
  let x = 0;
  let joint = (FIRST_DIAMETER / 2) * girth;
  const whole = problems.length || design.length === undefined ? all.reduce((a, b) => a + b, 0) : design.length;
  design.form.forEach((e, index) => {
    const sized = e as { start?: number; end?: number };
    const to = index === all.length - 1 ? whole : x + all[index]!;
    const length = to - x;
    const start = sized.start === undefined ? joint : (sized.start / 2) * girth;
    const end = sized.end === undefined ? undefined : (sized.end / 2) * girth;
    const outline = elementKind(e.element).outline(e, { length, start, end, girth, section });
    if (typeof outline === 'string') {
      problems.push({ code: 'element-shape', severity: 'refuse', path: `form[${index}]`, message: outline });
      joint = end ?? start;
    } else {
      joint = outline.next ?? outline.radius(length, -1);
      placed.push({
        index,
        kind: e.element,
        from: x,
        to,
        start: 2 * outline.radius(0, 1),
        end: 2 * outline.radius(length, -1),
        outline,
      });
      const [at, thinnest] = narrowest(outline, length);
      if (!(thinnest >= SMALLEST_RADIUS)) {
        problems.push({
          code: 'form-too-thin',
          severity: 'refuse',
          path: `form[${index}]`,
          message: `the ${e.element} is ${round(2 * thinnest)} mm thick at x = ${round(x + at)}`,
          allowed: `a diameter of at least ${2 * SMALLEST_RADIUS} mm`,
        });
        joint = Math.max(joint, SMALLEST_RADIUS);
      }
    }
    x = to;
  });
  return { placed, length: whole, problems };
}

/** Where an outline is thinnest, and its radius there; NaN wins. */
function narrowest(outline: Outline, length: number): [number, number] {
  let best: [number, number] = [0, Infinity];
  for (const u of [0, ...outline.knots, length])
    for (const side of [-1, 1] as const) {
      const r = outline.radius(u, u === 0 ? 1 : u === length ? -1 : side);
      if (!(r >= best[1])) best = [u, r];
    }
  return best;
}
