/** A carving on a short rod, for the eye: its section, and its lines seen from the side. Pure. */
import { TURN } from '../../../shared/units.ts';
import { fieldOf } from '../../profiles/build-field.ts';
import type { Carving } from '../../profiles/carvings/registry.ts';
import type { Field } from '../../profiles/field.ts';

/** What the carving is cut into: as thick as the form where it lies, as long as it is, mm. */
export interface Rod {
  length: number;
  diameter: number;
}

const ANGLES = 240;
const RINGS = 60;
/** Lines of neighbouring rings that lie farther apart than this are not one line. */
const NEAR = TURN / 24;

/** What a twist turns: alone on a round rod nothing is seen of it. */
const TO_TWIST = { carving: 'flutes', count: 6, deep: 0.25 } as Carving;

/** @returns the carved rod, or undefined where the rod cannot take the carving */
export function carvedRod(carving: Carving, rod: Rod): Field | undefined {
  const { over: _over, inset: _inset, from: _from, to: _to, ...rest } = carving as unknown as Record<string, unknown>;
  return fieldOf({
    form: [{ element: 'cylinder', length: rod.length, start: rod.diameter }],
    carvings: [...(carving.carving === 'twist' ? [TO_TWIST] : []), rest as unknown as Carving],
  }).field;
}

const thetas = Float64Array.from({ length: ANGLES }, (_, j) => (j * TURN) / ANGLES);

function ringAt(field: Field, x: number): Float64Array {
  const radii = new Float64Array(ANGLES);
  field.ring(x, thetas, radii);
  return radii;
}

/** The section halfway along, θ = 0 at the top. @param scale px a mm @param x, y px of its middle @returns a closed path */
export function sectionPath(field: Field, scale: number, x: number, y: number): string {
  const points = Array.from(ringAt(field, field.length / 2), (r, j) => {
    const theta = thetas[j]!;
    return `${(x - r * scale * Math.sin(theta)).toFixed(1)} ${(y - r * scale * Math.cos(theta)).toFixed(1)}`;
  });
  return `M${points.join('L')}Z`;
}

/** Angles at which a ring is lowest, radians. */
function valleys(radii: Float64Array): number[] {
  const most = Math.max(...radii);
  const least = Math.min(...radii);
  if (most - least < 1e-3) return [];
  const middle = (most + least) / 2;
  const list: number[] = [];
  for (let j = 0; j < ANGLES; j++) {
    const [before, here, after] = [radii[(j + ANGLES - 1) % ANGLES]!, radii[j]!, radii[(j + 1) % ANGLES]!];
    if (here < middle && here <= before && here < after) list.push(thetas[j]!);
  }
  return list;
}

/** Its lowest lines as they are seen from the side, the rod lying along x. @param left, middle px of its chuck end and its axis */
export function linesPath(field: Field, scale: number, left: number, middle: number): string {
  let path = '';
  let before: { x: number; at: number[]; radii: Float64Array } | undefined;
  for (let i = 0; i <= RINGS; i++) {
    // The end faces themselves have two radii.
    const x = Math.min(field.length - 1e-6, Math.max(1e-6, (i * field.length) / RINGS));
    const radii = ringAt(field, x);
    const at = valleys(radii);
    for (const theta of at) {
      const from = before?.at.find((t) => Math.abs(Math.atan2(Math.sin(theta - t), Math.cos(theta - t))) < NEAR);
      // What faces the eye has sin θ above 0.
      if (from === undefined || Math.sin(theta) <= 0 || Math.sin(from) <= 0) continue;
      const place = (px: number, ring: Float64Array, t: number) =>
        `${(left + px * scale).toFixed(1)} ${(middle - ring[Math.round((t / TURN) * ANGLES) % ANGLES]! * Math.cos(t) * scale).toFixed(1)}`;
      path += `M${place(before!.x, before!.radii, from)}L${place(x, radii, theta)}`;
    }
    before = { x, at, radii };
  }
  return path;
}
