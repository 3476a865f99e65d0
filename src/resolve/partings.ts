/** Parting grooves of a form that holds several pieces: how thick each stands while the pieces are cut, and its neck. */

import { TURN } from '../../shared/units.ts';
import { type Blank, innerRadius, type Stub } from '../cam/blank.ts';
import type { Part } from '../part/document.ts';
import type { Field } from '../profiles/field.ts';
import { layOut } from '../profiles/layout.ts';
import { formSection } from './blank.ts';

/**
 * The grooves of a part. Each stands as thick as the thinner of the two ends that it joins, so that the finishing bit runs off
 * both as it does at a stub; where that end is thinner than the neck, the neck is all there is.
 * @param blank of any length @returns ascending along x
 */
export function partingsOf(part: Part, field: Field, blank: Blank): Stub[] {
  const { placed } = layOut(part, formSection(blank));
  return placed
    .filter((p) => p.kind === 'parting')
    .map(({ from, to, start }) => {
      const radius = start / 2;
      const before = from > 0 ? largest(field, from, -1) : Infinity;
      const behind = to < field.length ? largest(field, to, 1) : Infinity;
      const ends = Math.min(before, behind);
      return { from, to, radius, standing: Math.min(innerRadius(blank), Math.max(radius, ends)) };
    });
}

/** Largest radius of the form on one side of a joint, mm. */
function largest(field: Field, x: number, side: -1 | 1): number {
  const n = field.isRound(x, x) ? 1 : ANGLES;
  const ring = new Float64Array(n);
  field.ring(
    x,
    Float64Array.from(ring, (_, j) => (TURN * j) / n),
    ring,
    side,
  );
  return Math.max(...ring);
}

const ANGLES = 360;
