/** What every kind of element offers: its parameters, and its outline in exact closed form. */
import type { z } from 'zod';
import { mm, ratio } from '../../shared/schema.ts';
import { SMALLEST_RADIUS } from '../../shared/tolerances.ts';
import type { Break } from './field.ts';
import type { Section } from './section.ts';

/** Diameter of a first element that names none, mm. */
export const FIRST_DIAMETER = 40;
const LARGEST_DIAMETER = 600;
const LONGEST = 3000;

/** How long an element is: one of the two. */
export const extent = {
  length: mm({
    label: 'length',
    description: 'Length along the axis; give this or a share.',
    min: 0.05,
    max: LONGEST,
    step: 0.5,
  }).optional(),
  share: ratio({
    label: 'share',
    description: 'Weight with which it takes part of the length that the fixed elements leave over.',
    min: 0.001,
    max: 1000,
    step: 0.1,
  }).optional(),
};

/** A diameter of the form. */
export const diameter = (label: string, description: string) =>
  mm({ label, description, min: 2 * SMALLEST_RADIUS, max: LARGEST_DIAMETER, step: 0.5 });

export const start = diameter('start', 'Diameter at its chuck-side end; left out, where the element before it ended.');
export const end = diameter('end', 'Diameter at its tail-side end; left out, what is natural for its kind.');

/** What an element is given when its outline is made; radii and lengths in mm, girth already in them. */
export interface Joint {
  length: number;
  /** Radius at the chuck-side end: its own, or where the element before it ended. */
  start: number;
  /** Radius at the tail-side end if the document names one. */
  end: number | undefined;
  /** Scales every rise, depth and further diameter that the document names. */
  girth: number;
  section: Section | undefined;
}

/** The outline of one element over u = 0…length from its chuck-side end. */
export interface Outline {
  /** Radius at u; `side` chooses the limit at a step inside the element. @returns mm */
  radius(u: number, side: -1 | 1): number;
  /** Ascending, ends left out: between neighbours the outline is smooth and only rises or only falls. */
  knots: readonly number[];
  /** Where it is not smooth, ascending, ends left out; all of them are knots too. */
  breaks: readonly Break[];
  /** Radius from which the next element starts if it names none; left out, the outline's own end. */
  next?: number;
  /**
   * Given where the blank's section is kept: the surface is then the nearer of the section and this outline, and in this
   * range of u the section alone, with nothing to cut (between it and the ends stand the shoulders).
   */
  kept?: readonly [number, number];
}

export interface ElementKind<S extends z.ZodObject = z.ZodObject> {
  readonly kind: string;
  readonly label: string;
  /** One sentence: what it is. */
  readonly meaning: string;
  readonly schema: S;
  /** A whole, valid element for the palette. */
  readonly example: z.infer<S>;
  /** Its own length where neither length nor share is given (a measured table has one), mm. */
  natural?(element: z.infer<S>): number;
  /** @returns its outline, or one sentence that says why there is none */
  outline(element: z.infer<S>, joint: Joint): Outline | string;
}

/** Ties an element's parts together with their types. */
export const defineElement = <S extends z.ZodObject>(kind: ElementKind<S>): ElementKind<S> => kind;

/** A straight line between two radii. */
export const straight = (r0: number, r1: number, length: number) => (u: number) => r0 + ((r1 - r0) * u) / length;
/** Ordinate of the unit circle: how high a half-round stands at w = −1…1. */
export const halfRound = (w: number): number => Math.sqrt(Math.max(0, 1 - w * w));
/** A convex quadrant from (0, 0), square to the axis, to (1, 1), along the axis. */
export const convexQuadrant = (s: number): number => halfRound(1 - s);
/** A concave quadrant from (0, 0), along the axis, to (1, 1), square to the axis. */
export const concaveQuadrant = (s: number): number => 1 - halfRound(s);
/** Half a wave from (0, 0) to (1, 1), along the axis at both ends. */
export const halfWave = (s: number): number => (1 - Math.cos(Math.PI * s)) / 2;
/** Crease at u. */
export const crease = (x: number): Break => ({ x, kind: 'crease' });
/** Keeps only knots strictly inside 0…length, ascending. */
export const inside = (length: number, ...us: number[]): number[] =>
  us.filter((u) => u > 0 && u < length).sort((a, b) => a - b);
