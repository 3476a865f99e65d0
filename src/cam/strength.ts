/**
 * Whether the part holds while it is cut: how far it gives under the bit at every station, and how near it comes to
 * breaking. The bar runs from the chuck's face to the tailstock's point; a chuck and a live centre hold somewhere between
 * fixed–pinned and pinned–pinned, so both are reckoned and the worse counts. Bending only: shear, and the give of chuck and
 * centre themselves, are left out (the handbook's modulus of wood already holds the shear of a 14:1 beam).
 */
import type { Material } from '../../shared/catalog.ts';
import { TURN } from '../../shared/units.ts';
import { type Bar, compliance, moments, roundPolar, type Support, sectionOf, torsionStress, twist } from './beam.ts';
import { blankRadius } from './blank.ts';
import { edgeForce } from './cutting.ts';
import type { Job, Tool } from './job.ts';

/**
 * What of the mean strength of clear wood may be counted on: the weakest twentieth, 1 − 1.645·COV, with COV 16 % for
 * bending and 14 % for shear (Wood Handbook ch. 5, table 5-6, from memory). Knots and sloping grain lower it further.
 */
const WEAK_BENDING = 1 - 1.645 * 0.16;
const WEAK_SHEAR = 1 - 1.645 * 0.14;
/** Twisting shears wood along its grain at about two thirds of the tabled strength (Wood Handbook, from memory). */
const WOOD_TORSION = 2 / 3;
/** A dull edge takes up to a quarter more (Groover, Fundamentals of Modern Manufacturing, table 20.2). */
const DULL = 1.25;
/** Of the strength of a stub or neck a fourth is used: grain, knots, impacts (common practice, no source). */
export const NECK_SAFETY = 4;

const STATIONS = 200;
const ANGLES = 180;

const isWood = (material: Material) => material.kind === 'softwood' || material.kind === 'hardwood';

/** Bending stress that may be counted on, N/mm². */
export const bendingLimit = (material: Material): number =>
  material.bendingStrength * (isWood(material) ? WEAK_BENDING : 1);

/** Torsional shear stress that may be counted on, N/mm². */
export const torsionLimit = (material: Material): number =>
  material.shearStrength * (isWood(material) ? WEAK_SHEAR * WOOD_TORSION : 1);

/** Force of a bit on the work, N. @param depth of the cut, mm @param feed_mm_min of the table */
export const bitForce = (tool: Tool, material: Material, depth: number, feed_mm_min: number): number =>
  edgeForce(material.cuttingForce * DULL, depth, feed_mm_min / (tool.limits.rpm * tool.bit.teeth));

/** Force of roughing at its full step-down, N. */
export const roughingForce = (job: Job): number =>
  bitForce(job.tools.roughing, job.material, job.tools.roughing.limits.stepDown, job.tools.roughing.limits.feed);

/** Force of finishing through the allowance, N. */
export const finishingForce = (job: Job): number =>
  bitForce(job.tools.finishing, job.material, job.plan.allowance, job.tools.finishing.limits.finishFeed);

/**
 * Radius of a round neck that carries a torque: τ = 16T/(πd³) kept under a fourth of the shear strength across it.
 * @param torque N·mm ≥ 0 @param safety default 4 @returns mm
 */
export function stubRadiusFor(torque: number, material: Material, safety = NECK_SAFETY): number {
  const shear = material.shearStrength * (isWood(material) ? WOOD_TORSION : 1);
  return Math.cbrt((16 * torque * safety) / (Math.PI * shear)) / 2;
}

/** One station along the axis. */
export interface Station {
  readonly x: number;
  /** Give under the worse of roughing and finishing when the bit stands here, mm. */
  readonly deflection: number;
  /** Of the surface along its circumference from the twist between here and the chuck, mm. */
  readonly twist: number;
  /** Strength over stress, bending or twist, when the bit stands here. */
  readonly safetyFactor: number;
}

export interface Strength {
  readonly worstDeflection: number;
  readonly atX: number;
  readonly safetyFactor: number;
  /** Where the safety is least, mm. */
  readonly weakestX: number;
  /** The least under finishing alone: below 1 nothing that roughing does can save the part. */
  readonly finishingSafety: number;
  readonly roughingForce: number;
  readonly finishingForce: number;
  /** The worst under finishing alone, mm: what shows on the work. */
  readonly finishingDeflection: number;
  readonly along: readonly Station[];
}

/**
 * Deflection, twist and safety along the bar with the finished form between its stubs (roughing: form plus allowance).
 * Beside the form only finishing's force counts: what is roughed there was roughed before the form grew thin.
 */
export function strengthOf(job: Job): Strength {
  const from = job.blank.from + job.holding.chuckGrip;
  const to = job.blank.to;
  const edges = stations(job, from, to);
  const light = finishingForce(job);
  const heavy = Math.max(light, roughingForce(job));
  const rough = loaded(job, edges, job.plan.allowance, (x) => (x >= 0 && x <= job.field.length ? heavy : light));
  const fine = loaded(job, edges, 0, () => light);
  const along = Array.from(edges, (x, i) => ({
    x,
    deflection: Math.max(rough.give[i]!, fine.give[i]!),
    twist: Math.max(rough.twist[i]!, fine.twist[i]!),
    safetyFactor: Math.min(rough.safety[i]!, fine.safety[i]!),
  }));
  const worst = along.reduce((a, b) => (b.deflection > a.deflection ? b : a));
  const weakest = along.reduce((a, b) => (b.safetyFactor < a.safetyFactor ? b : a));
  return {
    worstDeflection: worst.deflection,
    atX: worst.x,
    safetyFactor: weakest.safetyFactor,
    weakestX: weakest.x,
    roughingForce: roughingForce(job),
    finishingForce: light,
    finishingSafety: Math.min(...fine.safety),
    finishingDeflection: Math.max(...fine.give),
    along,
  };
}

/** Even stations with every break of the form, mm. */
function stations(job: Job, from: number, to: number): Float64Array {
  const xs = Array.from({ length: STATIONS + 1 }, (_, i) => from + ((to - from) * i) / STATIONS);
  for (const b of [0, job.field.length, job.stubs.chuck.from, job.stubs.tail.to, ...job.field.breaks.map((b) => b.x)])
    if (b > from && b < to) xs.push(b);
  const sorted = xs.sort((a, b) => a - b);
  return Float64Array.from(sorted.filter((x, i) => i === 0 || x - sorted[i - 1]! > 1e-6));
}

/** Radius of what is between the jaws and the centre: blank, stub, form. @param x inside a cell, mm */
function ringAt(job: Job, x: number, extra: number, thetas: Float64Array, out: Float64Array): void {
  const { field, stubs } = job;
  const parting = stubs.between?.find((p) => x > p.from && x < p.to);
  if (parting) out.fill(parting.standing ?? parting.radius);
  else if (x >= 0 && x <= field.length) field.ring(x, thetas, out);
  else {
    const stub = x < 0 ? stubs.chuck : stubs.tail;
    const turned = x >= stub.from && x <= stub.to ? stub.radius : Infinity;
    for (let j = 0; j < out.length; j++) out[j] = Math.min(turned, blankRadius(job.blank, thetas[j]!));
  }
  for (let j = 0; j < out.length; j++) out[j] = Math.min(out[j]! + extra, blankRadius(job.blank, thetas[j]!));
}

/** How the stick is held; of two the worse counts. */
export const supportsOf = (job: Job): Support[] =>
  job.holding.tailstock ? ['fixed-pinned', 'pinned-pinned'] : ['fixed-free'];

/**
 * Largest bending stress anywhere under a unit load at edge k.
 * @param sections of the bar's cells @returns N/mm² a newton, and the cell where it is
 */
export function worstStress(
  bar: Bar,
  supports: readonly Support[],
  sections: readonly { readonly inertia: number; readonly largest: number }[],
  k: number,
): { stress: number; cell: number } {
  let stress = 0;
  let cell = 0;
  for (const support of supports) {
    const M = moments(bar, support, k);
    for (let i = 0; i < sections.length; i++) {
      const most = Math.max(Math.abs(M[i]!), Math.abs(M[i + 1]!));
      const s = sections[i]!;
      // σ = M·c/I with the weakest direction and the farthest fibre: never less than the true stress.
      const here = (most * s.largest) / s.inertia;
      if (here > stress) {
        stress = here;
        cell = i;
      }
    }
  }
  return { stress, cell };
}

function loaded(job: Job, edges: Float64Array, extra: number, forceAt: (x: number) => number) {
  const { material } = job;
  const n = edges.length - 1;
  const EI = new Float64Array(n);
  const GJ = new Float64Array(n);
  const sections = new Array<ReturnType<typeof sectionOf>>(n);
  const thetas = Float64Array.from({ length: ANGLES }, (_, j) => (j * TURN) / ANGLES);
  const ring = new Float64Array(ANGLES);
  for (let i = 0; i < n; i++) {
    ringAt(job, (edges[i]! + edges[i + 1]!) / 2, extra, thetas, ring);
    const section = sectionOf(ring);
    sections[i] = section;
    EI[i] = material.modulus * section.inertia;
    // The round bar inside the section: never stiffer than the true one.
    GJ[i] = material.shearModulus * roundPolar(2 * section.smallest);
  }
  const bar: Bar = { edges, EI };
  const supports = supportsOf(job);
  const gives = supports.map((s) => compliance(bar, s));
  const turned = twist(edges, GJ);
  const give = new Float64Array(n + 1);
  const tangential = new Float64Array(n + 1);
  const safety = new Float64Array(n + 1).fill(Infinity);
  let weakestTwist = 0;
  for (let k = 0; k <= n; k++) {
    const here = sections[Math.min(k, n - 1)]!;
    const force = forceAt(edges[k]!);
    const torque = force * here.largest;
    give[k] = force * Math.max(...gives.map((g) => g[k]!));
    tangential[k] = torque * turned[k]! * here.largest;
    if (k > 0) weakestTwist = Math.max(weakestTwist, torsionStress(1, 2 * sections[k - 1]!.smallest));
    const { stress } = worstStress(bar, supports, sections, k);
    const bending = force * stress;
    const torsion = torque * weakestTwist;
    safety[k] = Math.min(
      bending > 0 ? bendingLimit(material) / bending : Infinity,
      torsion > 0 ? torsionLimit(material) / torsion : Infinity,
    );
  }
  return { give, twist: tangential, safety };
}
