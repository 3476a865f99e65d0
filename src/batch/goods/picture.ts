/**
 * A picture of a part: its surface in plane patches, lit from above left, seen a little from the tail end and from above, in
 * parallel projection, nearest patch first (a depth for every point). No graphics card, no chance: the same field gives the
 * same picture. Cost: patches and points, some 100 ms for a carved part.
 */
import type { Material } from '../../../shared/catalog.ts';
import { cosDegrees, sinDegrees, TURN } from '../../../shared/units.ts';
import type { Field, Side } from '../../profiles/field.ts';
import { ringPositions } from '../../profiles/sample.ts';
import { pngOf, type Rgba } from './png.ts';
import { grained, toneOf } from './tone.ts';

export interface Picture {
  readonly png: Uint8Array;
  /** px */
  readonly width: number;
  readonly height: number;
}

/** Points across and down for each px, so that edges are soft. */
const FINE = 2;
const SHADES = 62;
/** Largest picture, px: long parts fill the width, short ones the height. */
const WIDTH = 760;
const HEIGHT = 250;
const MARGIN = 4;
const COLUMNS = 288;
/** How far the part is turned toward the eye and tipped, degrees. */
const YAW = 24;
const PITCH = 16;

type Vector = readonly [number, number, number];
const dot = (a: Vector, b: Vector) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const unit = (v: Vector): Vector => {
  const l = Math.hypot(...v) || 1;
  return [v[0] / l, v[1] / l, v[2] / l];
};

/** Eye's axes in the part frame: right and up on the picture, and toward the eye. */
const RIGHT: Vector = [cosDegrees(YAW), sinDegrees(YAW), 0];
const TOWARD = unit([sinDegrees(YAW) * cosDegrees(PITCH), -cosDegrees(YAW) * cosDegrees(PITCH), sinDegrees(PITCH)]);
const UP = unit([-sinDegrees(YAW) * sinDegrees(PITCH), cosDegrees(YAW) * sinDegrees(PITCH), cosDegrees(PITCH)]);
const LIGHT = unit([-0.35, -0.62, 0.85]);
const HALFWAY = unit([LIGHT[0] + TOWARD[0], LIGHT[1] + TOWARD[1], LIGHT[2] + TOWARD[2]]);

/** Growth rings about a pith beside the axis, as brightness. @returns 0.86…1 */
function grain([x, y, z]: Vector): number {
  const sway = Math.sin(x * 0.021) + 0.6 * Math.sin(x * 0.053 + y * 0.1) + 0.35 * Math.sin(x * 0.017 + z * 0.23);
  const ring = Math.hypot(y - 47, z + 61) * 0.42 + sway * 0.5;
  const at = ring - Math.floor(ring);
  return 1 - 0.14 * at * at * at;
}

/** @returns brightness 0…1 of a patch with this outward normal */
function shine(normal: Vector): number {
  const lit = Math.max(0, dot(normal, LIGHT));
  const sky = 0.5 + 0.5 * normal[2];
  return Math.min(1, 0.12 + 0.62 * lit + 0.16 * sky + 0.22 * Math.max(0, dot(normal, HALFWAY)) ** 24);
}

/** Rings of points from end to end. */
function ringsOf(field: Field): { x: number; at: Vector[] }[] {
  const { x, side } = ringPositions(field, field.maxRadius / 900, field.length / 160);
  const thetas = new Float64Array(COLUMNS);
  const radii = new Float64Array(COLUMNS);
  return Array.from(x, (at, i) => {
    const turned = field.turning(at);
    for (let j = 0; j < COLUMNS; j++) thetas[j] = turned + (j * TURN) / COLUMNS;
    field.ring(at, thetas, radii, side[i] as Side);
    return {
      x: at,
      at: Array.from(thetas, (t, j): Vector => [at, -radii[j]! * Math.sin(t), radii[j]! * Math.cos(t)]),
    };
  });
}

/** @param field of the part @param material what it is made of */
export function pictureOf(field: Field, material: Pick<Material, 'id' | 'kind'>): Picture {
  const rings = ringsOf(field);
  const flat = rings.map((r) => r.at.map((p): Vector => [dot(p, RIGHT), dot(p, UP), dot(p, TOWARD)]));
  const all = flat.flat();
  const [left, right] = extent(all, 0);
  const [bottom, top] = extent(all, 1);
  const scale = Math.min((WIDTH - 2 * MARGIN) / (right - left), (HEIGHT - 2 * MARGIN) / (top - bottom));
  const width = Math.ceil((right - left) * scale) + 2 * MARGIN;
  const height = Math.ceil((top - bottom) * scale) + 2 * MARGIN;
  const [w, h] = [width * FINE, height * FINE];
  const depth = new Float64Array(w * h).fill(-Infinity);
  const bright = new Float32Array(w * h);
  const spot = (p: Vector): Vector => [
    FINE * (MARGIN + (p[0] - left) * scale),
    FINE * (MARGIN + (top - p[1]) * scale),
    p[2],
  ];
  const spots = flat.map((ring) => ring.map(spot));
  const wood = grained(material);

  const patch = (corners: readonly Vector[], seen: readonly Vector[]) => {
    const n = normalOf(corners);
    if (!n || dot(n, TOWARD) <= 0) return;
    const b = shine(n) * (wood ? grain(corners[0]!) : 1);
    for (let k = 2; k < seen.length; k++) fill(seen[0]!, seen[k - 1]!, seen[k]!, b, depth, bright, w, h);
  };
  for (let i = 1; i < rings.length; i++)
    for (let j = 0; j < COLUMNS; j++) {
      const k = (j + 1) % COLUMNS;
      const [p, q] = [rings[i - 1]!.at, rings[i]!.at];
      const [s, t] = [spots[i - 1]!, spots[i]!];
      patch([p[j]!, p[k]!, q[k]!, q[j]!], [s[j]!, s[k]!, t[k]!, t[j]!]);
    }
  // The end face at the tail is the one that is seen.
  const last = rings.at(-1)!;
  const centre: Vector = [last.x, 0, 0];
  const middle = spot([dot(centre, RIGHT), dot(centre, UP), dot(centre, TOWARD)]);
  for (let j = 0; j < COLUMNS; j++) {
    const k = (j + 1) % COLUMNS;
    patch([last.at[j]!, last.at[k]!, centre], [spots.at(-1)![j]!, spots.at(-1)![k]!, middle]);
  }
  return { png: pngOf(width, height, shaded(bright, depth, width, height), paletteOf(material)), width, height };
}

function extent(points: readonly Vector[], k: 0 | 1): [number, number] {
  let [low, high] = [Infinity, -Infinity];
  for (const p of points) {
    low = Math.min(low, p[k]);
    high = Math.max(high, p[k]);
  }
  return [low, high];
}

/** Outward normal by the diagonals, corners running round +x with growing angle; undefined for a patch of no size. */
function normalOf(c: readonly Vector[]): Vector | undefined {
  const far = c[3] ?? c[0]!;
  const [a, b] = c.length === 3 ? [sub(c[1]!, c[0]!), sub(c[2]!, c[0]!)] : [sub(c[2]!, c[0]!), sub(far, c[1]!)];
  const n: Vector = [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
  return Math.hypot(...n) > 1e-12 ? unit(n) : undefined;
}
const sub = (a: Vector, b: Vector): Vector => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];

/** Fills a triangle where it is nearest. Points are taken at their centres. */
function fill(
  p: Vector,
  q: Vector,
  r: Vector,
  b: number,
  depth: Float64Array,
  bright: Float32Array,
  w: number,
  h: number,
) {
  const area = (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]);
  if (Math.abs(area) < 1e-12) return;
  const y0 = Math.max(0, Math.ceil(Math.min(p[1], q[1], r[1]) - 0.5));
  const y1 = Math.min(h - 1, Math.floor(Math.max(p[1], q[1], r[1]) - 0.5));
  const x0 = Math.max(0, Math.ceil(Math.min(p[0], q[0], r[0]) - 0.5));
  const x1 = Math.min(w - 1, Math.floor(Math.max(p[0], q[0], r[0]) - 0.5));
  for (let y = y0; y <= y1; y++)
    for (let x = x0; x <= x1; x++) {
      const [px, py] = [x + 0.5, y + 0.5];
      const u = ((px - p[0]) * (r[1] - p[1]) - (py - p[1]) * (r[0] - p[0])) / area;
      const v = ((q[0] - p[0]) * (py - p[1]) - (q[1] - p[1]) * (px - p[0])) / area;
      if (u < -1e-9 || v < -1e-9 || u + v > 1 + 1e-9) continue;
      const z = p[2] + u * (q[2] - p[2]) + v * (r[2] - p[2]);
      const i = y * w + x;
      if (z > depth[i]!) {
        depth[i] = z;
        bright[i] = b;
      }
    }
}

const CELLS = FINE * FINE;

/** Palette: nothing, then every shade at a quarter, a half, three quarters and the whole of a px. */
function paletteOf(material: Pick<Material, 'id' | 'kind'>): Rgba[] {
  const [deep, light] = toneOf(material);
  const mix = (k: number, s: number) => Math.round(deep[k]! + (light[k]! - deep[k]!) * (s / (SHADES - 1)));
  const rows: Rgba[] = [[0, 0, 0, 0]];
  for (let cover = 1; cover <= CELLS; cover++)
    for (let s = 0; s < SHADES; s++) rows.push([mix(0, s), mix(1, s), mix(2, s), Math.round((255 * cover) / CELLS)]);
  return rows;
}

/** Fine points to px. */
function shaded(bright: Float32Array, depth: Float64Array, width: number, height: number): Uint8Array {
  const out = new Uint8Array(width * height);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      let cover = 0;
      let sum = 0;
      for (let k = 0; k < CELLS; k++) {
        const i = (y * FINE + Math.floor(k / FINE)) * width * FINE + x * FINE + (k % FINE);
        if (depth[i]! === -Infinity) continue;
        cover++;
        sum += bright[i]!;
      }
      if (cover) out[y * width + x] = 1 + (cover - 1) * SHADES + Math.round((sum / cover) * (SHADES - 1));
    }
  return out;
}
