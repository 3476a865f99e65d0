/** What is added to a part or taken from it beside its field: tenons, bores and radial holes, as rods. */
import type { Field, Surface } from '../profiles/field.ts';
import type { Rod } from './rod.ts';

/** A round tenon at an end face, on the axis, mm. */
export interface Tenon {
  end: 'chuck' | 'tail';
  diameter: number;
  length: number;
}

/** A round bore on the axis, drilled from an end face, mm; a depth of the whole length or more goes through. */
export interface Bore {
  end: 'chuck' | 'tail';
  diameter: number;
  depth: number;
}

/** How far a cutting rod stands out of the part, so that no two faces coincide, mm. */
const OVERLAP = 1;

/** The tenon as a rod, reaching a little into the part so that the two unite. */
export function tenonRod(surface: Surface, t: Tenon): Rod {
  const into = Math.min(OVERLAP, (surface.to - surface.from) / 2);
  const [from, to] =
    t.end === 'chuck' ? [surface.from - t.length, surface.from + into] : [surface.to - into, surface.to + t.length];
  return { from: [from, 0, 0], to: [to, 0, 0], radius: t.diameter / 2 };
}

/** The bore as a rod; `tenon` is the length of the tenons that it must pass at [chuck, tail] end. */
export function boreRod(surface: Surface, b: Bore, tenon: readonly [number, number]): Rod {
  const [a, z] = [surface.from - tenon[0], surface.to + tenon[1]];
  const through = b.depth >= z - a;
  const [from, to] =
    b.end === 'chuck'
      ? [a - OVERLAP, through ? z + OVERLAP : a + b.depth]
      : [through ? a - OVERLAP : z - b.depth, z + OVERLAP];
  return { from: [from, 0, 0], to: [to, 0, 0], radius: b.diameter / 2 };
}

/** The radial holes as rods, from clear of the part inward; depth counts from the surface at the hole's centre. */
export function holeRods(field: Field): Rod[] {
  return field.holes.map((h) => {
    const top = field.bounds(Math.max(field.from, h.x - h.diameter), Math.min(field.to, h.x + h.diameter))[1] + OVERLAP;
    let bottom = field.radius(h.x, h.theta) - h.depth;
    const beyond = field.radius(h.x, h.theta + Math.PI);
    if (bottom <= -beyond) bottom = -(beyond + OVERLAP + h.diameter);
    const at = (r: number): [number, number, number] => [h.x, -r * Math.sin(h.theta), r * Math.cos(h.theta)];
    return { from: at(bottom), to: at(top), radius: h.diameter / 2 };
  });
}
