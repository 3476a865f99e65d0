/** What every kind of carving offers: its parameters, and how it cuts, turns or drills the form. */
import { z } from 'zod';
import { choice, count, deg, mm, quantity } from '../../shared/schema.ts';
import { radians, TURN } from '../../shared/units.ts';
import type { Break, Guide, Hole } from './field.ts';
import { endShapes, type Reach } from './reach.ts';

const LONGEST = 3000;

/** Where along the axis it is. */
export const range = {
  from: mm({
    label: 'from',
    description: 'Where it starts, from the chuck-end face; left out, there.',
    min: 0,
    max: LONGEST,
    step: 0.5,
  }).optional(),
  to: mm({
    label: 'to',
    description: 'Where it ends, from the chuck-end face; left out, the tail-end face.',
    min: 0,
    max: LONGEST,
    step: 0.5,
  }).optional(),
  over: z
    .tuple([
      count({ label: 'first element', description: 'Counted from 0.', min: 0, max: 500, step: 1 }),
      count({ label: 'last element', description: 'Counted from 0, itself included.', min: 0, max: 500, step: 1 }),
    ])
    .meta({
      label: 'over',
      description:
        'First and last element that it lies on, counted from 0, in place of from and to: it stretches with them.',
    })
    .optional(),
  inset: mm({
    label: 'inset',
    description: 'How far it stays inside the elements that it lies over, at either end.',
    min: -LONGEST,
    max: LONGEST,
    step: 0.5,
  }).optional(),
};

/** How it ends. */
export const runOut = {
  ends: choice(endShapes, {
    label: 'ends',
    description: 'How it runs out: round as a ball leaves, up a straight slope, or cut off square; left out, round.',
  }).optional(),
  tailEnd: choice(endShapes, {
    label: 'tail-side end',
    description: 'How its tail-side end runs out; left out, as `ends` says.',
  }).optional(),
  run: mm({
    label: 'run-out',
    description: 'Length over which it runs out; left out, twice its depth.',
    min: 0.05,
    max: 500,
    step: 0.5,
  }).optional(),
};

export const hand = choice(['right', 'left'], {
  label: 'hand',
  description: 'Right: it turns as a right-hand screw does, seen along the axis; left out, right.',
});
export const turns = quantity('turns', {
  label: 'turns',
  description: 'How far it turns over its range.',
  min: 0,
  max: 500,
  step: 0.05,
});

/** How an angular feature is set around the axis. */
export const around = {
  turned: deg({
    label: 'turned',
    description: 'Angle of the first one from the top flat of the blank.',
    min: -360,
    max: 360,
    step: 1,
  }).optional(),
  turns: turns.optional(),
  hand: hand.optional(),
};

/** Sign of a hand: x and θ grow together on a right-hand helix. */
export const handSign = (name: 'right' | 'left' | undefined): 1 | -1 => (name === 'left' ? -1 : 1);

/**
 * Angle of an angular feature of its own along x, before any twist: even over its range, standing outside it.
 * @returns radians, continuous in x
 */
export function helix(
  c: { turned?: number | undefined; turns?: number | undefined; hand?: 'right' | 'left' | undefined },
  { from, to }: { from: number; to: number },
): (x: number) => number {
  const first = radians(c.turned ?? 0);
  const rate = (handSign(c.hand) * (c.turns ?? 0) * TURN) / (to - from);
  return rate === 0 ? () => first : (x) => first + rate * (Math.min(to, Math.max(from, x)) - from);
}

/** What a carving meets: the turned outline and how far the twists turn what is angular. */
export interface Ground {
  /** Radius of the turned outline. @returns mm */
  outline(x: number, side: -1 | 1): number;
  /** Sum of all twists at x, radians, continuous. */
  twist(x: number): number;
  girth: number;
  /** Length of the form, mm. */
  length: number;
  /** Bounds of the outline inside a range, mm. */
  outlineBounds(x0: number, x1: number): [number, number];
}

/** A carving that takes material away. Prepared for one x, then asked for many angles. */
export interface Cutter {
  readonly reach: Reach;
  readonly symmetry: number;
  /** Goes to x; r0 is the turned outline there. @returns whether it cuts there at all */
  at(x: number, side: -1 | 1, r0: number): boolean;
  /** What it leaves of a surface of radius r at θ, at the x it was last sent to. @returns mm ≤ r */
  cut(r: number, theta: number): number;
  /**
   * Bounds of what it leaves over [x0, x1] where the outline is within [r0Low, r0High] and the surface within [low, high].
   * @returns [low, high], enclosing
   */
  bounds(x0: number, x1: number, r0Low: number, r0High: number, low: number, high: number): [number, number];
  /** Angles of its arrises and other creases at the x it was last sent to, any turn, any order. */
  creases(): number[];
  /** Its own turn at x with the twists in it, if it is an angular feature that meshes should follow. */
  readonly turning?: (x: number) => number;
  /** Set where `cut`, at its full depth and over an even outline, depends on θ − turning(x) alone. */
  readonly screws?: true;
  readonly guides: readonly Guide[];
}

/** What is wrong with a carving, and at which of its parameters. */
export interface Wrong {
  at: string;
  message: string;
  allowed?: string;
}

export interface CarvingKind<S extends z.ZodObject = z.ZodObject> {
  readonly kind: string;
  readonly label: string;
  readonly meaning: string;
  readonly schema: S;
  readonly example: z.infer<S>;
  /** Natural run-out length, mm, on a form of radius r0; a carving without one has no run-out. */
  runOut?(carving: z.infer<S>, girth: number, r0: number): number;
  /** Its turning along x, if it turns what is angular. @returns radians, continuous */
  turns?(carving: z.infer<S>, reach: Reach): (x: number) => number;
  cuts?(carving: z.infer<S>, reach: Reach, ground: Ground): Cutter | Wrong;
  drills?(carving: z.infer<S>, reach: Reach, ground: Ground): Hole[] | Wrong;
  /** Breaks of its turning. */
  bends?(carving: z.infer<S>, reach: Reach): Break[];
}

export const defineCarving = <S extends z.ZodObject>(kind: CarvingKind<S>): CarvingKind<S> => kind;

/** Angle from the nearest of n evenly spaced directions, the first at 0. @returns radians in [−π/n, π/n] */
export function fromNearest(angle: number, step: number): number {
  return angle - Math.round(angle / step) * step;
}
