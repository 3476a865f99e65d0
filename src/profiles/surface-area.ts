/** How much surface a form has: what a hand must sand and oil. */
import { TURN } from '../../shared/units.ts';
import type { Field, Side } from './field.ts';
import { ringPositions } from './sample.ts';

/** How far the strips may lie from the surface, mm: far below what a price can feel. */
const NEAR = 0.1;
const LONGEST = 10;
/** Patches around a section that is not round: the arrises of 4, 5, 6, 8, 9, 10 and 12 flats fall between them. */
const AROUND = 720;

/**
 * Area of the form's surface without its two end faces, by frustums where it is round (2π·r̄·slant, exact for straight sides)
 * and by plane triangles elsewhere. Shoulders count.
 * @returns mm²
 */
export function surfaceArea(field: Field): number {
  const { x, side } = ringPositions(field, NEAR, LONGEST);
  let area = 0;
  const ringAt = (i: number): Float64Array => {
    const turned = field.turning(x[i]!);
    const thetas = Float64Array.from({ length: AROUND }, (_, j) => turned + (j * TURN) / AROUND);
    const out = new Float64Array(AROUND);
    field.ring(x[i]!, thetas, out, side[i] as Side);
    return out;
  };
  let before: Float64Array | undefined;
  for (let i = 1; i < x.length; i++) {
    const dx = x[i]! - x[i - 1]!;
    if (field.isRound(x[i - 1]!, x[i]!)) {
      const a = field.radius(x[i - 1]!, 0, side[i - 1] as Side);
      const b = field.radius(x[i]!, 0, side[i] as Side);
      area += (TURN / 2) * (a + b) * Math.hypot(dx, b - a);
      before = undefined;
      continue;
    }
    const here = ringAt(i);
    const last: Float64Array = before ?? ringAt(i - 1);
    const twist = field.turning(x[i]!) - field.turning(x[i - 1]!);
    area += strip(last, here, dx, twist);
    before = here;
  }
  return area;
}

/** Triangles between two rings of radii whose columns are turned against each other by `twist`. */
function strip(a: Float64Array, b: Float64Array, dx: number, twist: number): number {
  let sum = 0;
  for (let j = 0; j < AROUND; j++) {
    const k = (j + 1) % AROUND;
    const s = (j * TURN) / AROUND;
    const t = ((j + 1) * TURN) / AROUND;
    const p = [0, a[j]! * Math.sin(s), a[j]! * Math.cos(s)] as const;
    const q = [0, a[k]! * Math.sin(t), a[k]! * Math.cos(t)] as const;
    const u = [dx, b[j]! * Math.sin(s + twist), b[j]! * Math.cos(s + twist)] as const;
    const v = [dx, b[k]! * Math.sin(t + twist), b[k]! * Math.cos(t + twist)] as const;
    sum += triangle(p, q, v) + triangle(p, v, u);
  }
  return sum;
}

type Point = readonly [number, number, number];
function triangle(p: Point, q: Point, r: Point): number {
  const [ax, ay, az] = [q[0] - p[0], q[1] - p[1], q[2] - p[2]];
  const [bx, by, bz] = [r[0] - p[0], r[1] - p[1], r[2] - p[2]];
  return Math.hypot(ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx) / 2;
}
