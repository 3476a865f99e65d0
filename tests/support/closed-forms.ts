/**
 * Contacts known in closed form (elementary geometry of offset curves; each was also found by force when the table was
 * made). Some carry the number worked out, so that a slip in a formula shows too.
 */
import type { Bit } from '../../shared/catalog.ts';
import { radians } from '../../shared/units.ts';
import type { Surface } from '../../src/profiles/field.ts';
import { cone, cylinder, fieldFrom, fluted, prism, sphere, step } from './fields.ts';
import { bitOf } from './wild.ts';

export interface Known {
  name: string;
  surface: Surface;
  bit: Bit;
  x: number;
  theta: number;
  /** Exact tip radius, mm. */
  exact: number;
}

const flat = bitOf('flat');
const ball = bitOf('ball', { tipRadius: 3 });
const bull = bitOf('bull', { tipRadius: 1 });
const vee = (half: number, diameter = 6) => bitOf('vee', { diameter, includedAngle_deg: 2 * half });
const tapered = (tipRadius: number, half: number, diameter = 6) =>
  bitOf('tapered-ball', { diameter, tipRadius, includedAngle_deg: 2 * half });
const every = [flat, ball, bull, vee(15), vee(45), tapered(0.5, 10)];

const slope = Math.tan(radians(30));
const thirty = cone(40, 10 - 17 * slope, slope);
const globe = sphere(10, 0.5);
const middle = globe.to / 2;
/** A long round part with a cove of a circle C about (20, z0). */
const cove = (C: number, z0: number): Surface =>
  fieldFrom({
    length: 40,
    breaks: [
      { x: 20 - C, kind: 'crease' },
      { x: 20 + C, kind: 'crease' },
    ],
    radius: (x) => (Math.abs(x - 20) < C ? z0 - Math.sqrt(C * C - (x - 20) ** 2) : z0),
  });
const case_ = (name: string, surface: Surface, bit: Bit, x: number, theta: number, exact: number): Known => ({
  name,
  surface,
  bit,
  x,
  theta,
  exact,
});

export const knowns: Known[] = [
  ...every.map((b) => case_(`${b.kind} ${b.includedAngle_deg}° on a cylinder`, cylinder(40, 10), b, 20, 0.7, 10)),
  case_('flat on a 30° cone', thirty, flat, 17, 1, 11.732051),
  case_('ball on a 30° cone', thirty, ball, 17, 1, 10.464102),
  case_('bull-nose on a 30° cone', thirty, bull, 17, 1, 11.309401),
  case_('narrow vee on a 30° cone touches with its point', thirty, vee(15), 17, 1, 10),
  case_('wide vee on a 30° cone touches with its rim', thirty, vee(70), 17, 1, 10.64014),
  case_('tapered ball on a 30° cone', thirty, tapered(0.5, 15), 17, 1, 10.07735),
  case_('flat on a sphere, within its radius', globe, flat, middle + 2.5, 2, 10),
  case_('flat on a sphere, beyond it', globe, flat, middle + 6, 2, 9.539392),
  case_('ball on a sphere', globe, ball, middle - 6, 2, 8.532563),
  case_('vee on a sphere, with its point', globe, vee(60), middle + 3, 2, Math.sqrt(91)),
  case_('vee on a sphere, with its flank', globe, vee(60, 12), middle + 8, 2, 6.928203),
  case_('tapered ball on a sphere, with its tip', globe, tapered(1, 60, 12), middle + 2, 2, 9.816654),
  case_('tapered ball on a sphere, with its flank', globe, tapered(1, 60, 12), middle + 8, 2, 7.082904),
  ...(
    [
      [0, 7],
      [1, 7.267949],
      [1.9, 8.3755],
      [2.5, 10.658312],
    ] as const
  ).map(([at, z]) => case_(`ball in a wider cove, ${at} off its middle`, cove(5, 12), ball, 20 + at, 0, z)),
  ...(
    [
      [0, 11.236068],
      [0.5, 11.598076],
      [1.5, 11.95804],
    ] as const
  ).map(([at, z]) => case_(`ball over a narrower cove, ${at} off its middle`, cove(2, 12), ball, 20 - at, 0, z)),
  ...(
    [
      [10, 10.683247],
      [20, 11.733688],
      [30, 13.279056],
      [40, 14.088321],
      [45, 14.142136],
    ] as const
  ).map(([deg, z]) => case_(`flat on a square, ${deg}° from a face`, prism(40, 10), flat, 20, radians(deg), z)),
  ...(
    [
      [10, 10.200546],
      [20, 10.834311],
      [30, 12.011107],
      [40, 13.823421],
    ] as const
  ).map(([deg, z]) => case_(`ball on a square, ${deg}° from a face`, prism(40, 10), ball, 20, radians(deg), z)),
  case_('ball close beside a step', step(40, 20, 8, 11), ball, 19.5, 1, 10.95804),
  case_('ball farther beside a step', step(40, 20, 8, 11), ball, 18.5, 1, 10.598076),
  case_('vee beside a step', step(40, 20, 8, 11), vee(15), 19.5, 1, 9.133975),
  case_('flat over a step', step(40, 20, 11, 8), flat, 22.99, 1, 11),
  case_('flat clear of a step', step(40, 20, 11, 8), flat, 23.01, 1, 8),
  ...(
    [
      [0, 8],
      [2, 8.052339],
      [4, 8.226059],
    ] as const
  ).map(([deg, z]) =>
    // The arc is centred at 12 from the axis: part radius 11, depth 3, arc radius 4.
    case_(
      `ball in a flute, ${deg}° off its middle`,
      fluted(40, 11, 4, 3, 4),
      bitOf('ball', { diameter: 5, tipRadius: 2.5 }),
      20,
      radians(deg),
      z,
    ),
  ),
];
