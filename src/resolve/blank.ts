/** The blank's section: as the document gives it, or the smallest that holds the form. */
import { type Blank, blankRadius, innerRadius, outerRadius } from '../cam/blank.ts';
import { cornersOf } from '../cam/work.ts';
import type { Part } from '../part/document.ts';
import type { Section } from '../profiles/section.ts';

/** A blank's section without its place along x. */
export type SectionSize = Pick<Blank, 'section' | 'width' | 'height' | 'sides'>;

/** Wood left all round a form when the blank's width is left to the program: sawn stock is never quite true, mm. */
const SAWN = 1;

/**
 * The section of the document's blank.
 * @param formRadius largest radius of the form, for a width that the document leaves out, mm
 */
export function sectionSize(blank: Part['blank'], formRadius: number): SectionSize {
  const width = blank.width ?? Math.ceil(2 * (formRadius + SAWN));
  if (blank.section === 'rectangle') return { section: 'rectangle', width, height: blank.height ?? width, sides: 4 };
  const sides = blank.section === 'polygon' ? (blank.sides ?? 8) : blank.section === 'round' ? 0 : 4;
  return { section: blank.section, width, height: width, sides };
}

/** The section as the form sees it, for pommels. @param size of the blank */
export function formSection(size: SectionSize): Section {
  const blank: Blank = { ...size, from: 0, to: 1 };
  const symmetry = size.section === 'round' ? Infinity : size.width === size.height || size.sides > 4 ? size.sides : 2;
  return {
    radius: (theta) => blankRadius(blank, theta),
    inner: innerRadius(blank),
    outer: outerRadius(blank),
    symmetry,
    corners: cornersOf(blank),
  };
}
