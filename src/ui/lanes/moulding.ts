/** The palette's drawings: each kind of element from its own outline, each kind of carving from its own section. Pure. */

import { TURN } from '../../../shared/units.ts';
import { fieldOf } from '../../profiles/build-field.ts';
import type { Carving } from '../../profiles/carvings/registry.ts';
import { carvingKind } from '../../profiles/carvings/registry.ts';
import type { Element } from '../../profiles/elements/registry.ts';
import { elementKind } from '../../profiles/elements/registry.ts';
import { layOut } from '../../profiles/layout.ts';
import { formSection } from '../../resolve/blank.ts';
import { stations } from './outline-path.ts';

export interface Drawing {
  /** Closed, in the box below. */
  path: string;
  width: number;
  height: number;
}

/** Stock that a pommel is drawn from. */
const STOCK = formSection({ section: 'square', width: 36, height: 36, sides: 4 });
/** What stands before the drawn element, so that its first diameter has somewhere to come from. */
const BEFORE = { element: 'cylinder', length: 1, start: 30 } as Element;

/** An outline with both halves, ready to be drawn at any scale. */
export interface Silhouette {
  /** mm */
  length: number;
  thickest: number;
  /** @param scale px a mm @param left, middle px of its chuck end and of its axis @returns a closed path */
  path(scale: number, left: number, middle: number): string;
}

/** @param element whole, in mm @returns undefined if it has no outline */
export function silhouette(element: Element): Silhouette | undefined {
  const placed = layOut({ form: [BEFORE, { length: 24, ...element, share: undefined } as Element] }, STOCK).placed[1];
  if (!placed) return undefined;
  const us = stations(placed, 16);
  const radii = us.map((u) => placed.outline.radius(u, u === 0 ? 1 : -1));
  const order = us.map((_, i) => i);
  return {
    length: placed.to - placed.from,
    thickest: Math.max(...radii),
    path(scale, left, middle) {
      const at = (i: number, side: 1 | -1) =>
        `${(left + us[i]! * scale).toFixed(1)} ${(middle - side * radii[i]! * scale).toFixed(1)}`;
      return `M${[...order.map((i) => at(i, 1)), ...order.toReversed().map((i) => at(i, -1))].join('L')}Z`;
    },
  };
}

/** A kind's example, lying as on the ruler. @param width, height px of the box that it fills */
export function elementDrawing(kind: string, width: number, height: number): Drawing {
  const drawn = silhouette(elementKind(kind).example as Element);
  if (!drawn) return { path: '', width, height };
  const scale = Math.min((width - 2) / drawn.length, (height - 2) / 2 / drawn.thickest);
  return { path: drawn.path(scale, (width - drawn.length * scale) / 2, height / 2), width, height };
}

/** Section across a short rod that carries the carving, as it is halfway along. */
export function carvingDrawing(kind: string, size: number): Drawing {
  const { field } = fieldOf({
    form: [{ element: 'cylinder', length: 60, start: 36 }],
    carvings: [{ ...carvingKind(kind).example, from: undefined, to: undefined, over: undefined } as unknown as Carving],
  });
  if (!field) return { path: '', width: size, height: size };
  const scale = (size - 2) / 2 / field.maxRadius;
  const points = Array.from({ length: 240 }, (_, j) => {
    const theta = (j * TURN) / 240;
    const r = field.radius(30, theta) * scale;
    return `${(size / 2 - r * Math.sin(theta)).toFixed(1)} ${(size / 2 - r * Math.cos(theta)).toFixed(1)}`;
  });
  return { path: `M${points.join('L')}Z`, width: size, height: size };
}
