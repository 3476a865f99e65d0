/** What a solid should be by its field and its additions: volume and handles, without looking at the solid. */
import { TURN } from '../../shared/units.ts';
import type { Field, Hole } from '../profiles/field.ts';
import { boreRod, holeRods } from './additions.ts';
import { surfaceVolume } from './integral.ts';
import { axesApart, type Rod } from './rod.ts';
import { type SolidOptions, tenonLengths } from './solid.ts';

export interface Expected {
  /** mm³. */
  volume: number;
  /** How far the volume may be off besides the tolerance of the mesh: where voids meet their overlap is not worked out, mm³. */
  unsure: number;
  genus: number;
}

/** Grid lines across a hole's disc, for the volume it takes. */
const RADII = 24;
const ANGLES = 96;

/** Volume that a radial hole takes: the height of the surface over its flat bottom, or right through, over its disc, mm³. */
function holeVolume(field: Field, h: Hole, through: boolean): number {
  const bottom = through ? -Infinity : field.radius(h.x, h.theta) - h.depth;
  let sum = 0;
  for (let i = 0; i < RADII; i++) {
    const rho = ((i + 0.5) / RADII) * (h.diameter / 2);
    for (let k = 0; k < ANGLES; k++) {
      const along = rho * Math.cos((k * TURN) / ANGLES);
      const across = rho * Math.sin((k * TURN) / ANGLES);
      const x = h.x + along;
      if (x < field.from || x > field.to) continue;
      const reach = (sign: 1 | -1) => {
        let height = sign * field.radius(x, h.theta + (sign > 0 ? 0 : Math.PI));
        for (let n = 0; n < 30; n++) {
          const r = field.radius(x, h.theta + Math.atan2(across, height));
          height = sign * Math.sqrt(Math.max(0, r * r - across * across));
        }
        return height;
      };
      sum += rho * Math.max(0, reach(1) - Math.max(bottom, reach(-1)));
    }
  }
  return sum * (h.diameter / 2 / RADII) * (TURN / ANGLES);
}

interface Void {
  rod: Rod;
  volume: number;
  /** Where it opens to the air. */
  mouths: { x: number; theta: number; radius: number }[];
}

function voids(field: Field, options: SolidOptions): Void[] {
  const out: Void[] = holeRods(field).map((rod, k) => {
    const h = field.holes[k]!;
    const beyond = field.radius(h.x, h.theta + Math.PI);
    const through = h.depth >= field.radius(h.x, h.theta) + beyond;
    const mouths = [{ x: h.x, theta: h.theta, radius: h.diameter / 2 }];
    if (through) mouths.push({ x: h.x, theta: h.theta + Math.PI, radius: h.diameter / 2 });
    return { rod, volume: holeVolume(field, h, through), mouths };
  });
  const { bore } = options;
  if (bore) {
    const tenons = tenonLengths(options.tenons ?? []);
    const whole = field.to - field.from + tenons[0] + tenons[1];
    const depth = Math.min(bore.depth, whole);
    const ends = [{ x: bore.end === 'chuck' ? -Infinity : Infinity, theta: 0, radius: bore.diameter / 2 }];
    if (depth === whole) ends.push({ x: -ends[0]!.x, theta: 0, radius: bore.diameter / 2 });
    out.push({
      rod: boreRod(field, bore, tenons),
      volume: (Math.PI * bore.diameter ** 2 * depth) / 4,
      mouths: ends,
    });
  }
  return out;
}

/**
 * Works out what the solid of a field with the same options must be.
 * Handles: each set of voids that meet is one void; it adds one handle for every mouth but the first. Mouths that
 * overlap are one mouth. Counted right as long as two voids meet in one place only.
 */
export function expectedOf(field: Field, options: SolidOptions = {}): Expected {
  const list = voids(field, options);
  const group = list.map((_, k) => k);
  const find = (k: number): number => (group[k] === k ? k : find(group[k]!));
  let unsure = 0;
  for (let a = 0; a < list.length; a++)
    for (let b = a + 1; b < list.length; b++)
      if (axesApart(list[a]!.rod, list[b]!.rod) < list[a]!.rod.radius + list[b]!.rod.radius) {
        group[find(b)] = find(a);
        unsure += Math.min(list[a]!.volume, list[b]!.volume);
      }
  let genus = 0;
  for (let root = 0; root < list.length; root++) {
    const members = list.filter((_, k) => find(k) === root);
    if (members.length === 0) continue;
    const mouths: Void['mouths'] = [];
    for (const m of members.flatMap((v) => v.mouths)) {
      const met = mouths.some((o) => {
        const r = field.radius(m.x, m.theta);
        const across = 2 * r * Math.abs(Math.sin((m.theta - o.theta) / 2));
        return o.x === m.x ? across < o.radius + m.radius : Math.hypot(o.x - m.x, across) < o.radius + m.radius;
      });
      if (!met) mouths.push(m);
    }
    genus += Math.max(0, mouths.length - 1);
  }
  const tenons = (options.tenons ?? []).reduce((v, t) => v + (Math.PI * t.diameter ** 2 * t.length) / 4, 0);
  const taken = list.reduce((v, h) => v + h.volume, 0);
  return { volume: surfaceVolume(field) + tenons - taken, unsure, genus };
}
