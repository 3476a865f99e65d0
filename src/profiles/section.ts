/** The blank's section as the form sees it: what a pommel leaves standing. */
import { TURN, wrapTurn } from '../../shared/units.ts';

export interface Section {
  /** Distance from the axis to the blank's surface. @param theta radians @returns mm */
  radius(theta: number): number;
  /** Radius of the circle inside it, mm. */
  readonly inner: number;
  /** Radius of the circle around it, mm. */
  readonly outer: number;
  /** radius(θ + 2π/symmetry) = radius(θ); Infinity for a round blank. */
  readonly symmetry: number;
  /** Angles of its arrises, radians in [0, 2π), ascending; empty for a round blank. */
  readonly corners: readonly number[];
}

/** A round blank. @param diameter mm */
export const roundSection = (diameter: number): Section => ({
  radius: () => diameter / 2,
  inner: diameter / 2,
  outer: diameter / 2,
  symmetry: Infinity,
  corners: [],
});

const BISECTIONS = 60;

/**
 * Angles at which a circle about the axis cuts the section: where a turned shoulder ends on a pommel's faces.
 * Each face is taken to fall from its corners to one nearest point and rise again (true of every convex section).
 * @param section the blank's section @param radius mm @returns radians in [0, 2π), ascending; empty if the circle lies inside or outside
 */
export function sectionCrossings(section: Section, radius: number): number[] {
  if (radius <= section.inner || radius >= section.outer) return [];
  const found: number[] = [];
  section.corners.forEach((corner, k) => {
    const next = section.corners[k + 1] ?? section.corners[0]! + TURN;
    const low = nearest(section, corner, next);
    for (const end of [corner, next]) {
      if (section.radius(end) <= radius || section.radius(low) >= radius) continue;
      let inside = low;
      let outside = end;
      for (let i = 0; i < BISECTIONS; i++) {
        const middle = (inside + outside) / 2;
        if (section.radius(middle) < radius) inside = middle;
        else outside = middle;
      }
      found.push(wrapTurn((inside + outside) / 2));
    }
  });
  return found.sort((a, b) => a - b);
}

/** The angle of the face's point nearest to the axis, by thirds: its radius has one minimum there. */
function nearest(section: Section, from: number, to: number): number {
  let a = from;
  let b = to;
  for (let i = 0; i < 2 * BISECTIONS; i++) {
    const p = a + (b - a) / 3;
    const q = b - (b - a) / 3;
    if (section.radius(p) < section.radius(q)) b = q;
    else a = p;
  }
  return (a + b) / 2;
}
