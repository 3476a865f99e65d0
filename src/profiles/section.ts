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

/**
 * Angles at which a circle about the axis cuts the section: where a turned shoulder ends on a pommel's faces.
 * A face is straight: with its normal at φ and a distance d from the axis, it meets the circle at φ ± acos(d/radius).
 * @param section the blank's section @param radius mm @returns radians in [0, 2π), ascending; empty if the circle lies inside or outside
 */
export function sectionCrossings(section: Section, radius: number): number[] {
  if (radius <= section.inner || radius >= section.outer) return [];
  const found: number[] = [];
  section.corners.forEach((corner, k) => {
    const next = section.corners[k + 1] ?? section.corners[0]! + TURN;
    const wide = next - corner;
    const [a, b] = [section.radius(corner), section.radius(next)];
    // The face goes from (a, 0) to (b·cos wide, b·sin wide) in the frame of its first corner.
    const across = b * Math.sin(wide);
    const along = a - b * Math.cos(wide);
    const normal = Math.atan2(along, across);
    const distance = a * Math.cos(normal);
    if (distance >= radius) return;
    const half = Math.acos(distance / radius);
    for (const off of [normal - half, normal + half]) if (off > 0 && off < wide) found.push(wrapTurn(corner + off));
  });
  return found.sort((a, b) => a - b);
}
