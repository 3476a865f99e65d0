/**
 * Whether the part holds while it is cut: how far it gives under the bit at every station, and how near it comes to
 * breaking. The bar runs from the chuck's face to the tailstock's point; a chuck and a live centre hold somewhere between
 * fixed–pinned and pinned–pinned, so both are reckoned and the worse counts. Each stage meets the bar as it then stands: the
 * whole blank while the corners come off, the form with its allowance at the end of roughing, the form itself at the end of
 * finishing, and with its stubs turned down while the necks are cut. Bending only: shear, and the give of chuck and
 * centre themselves, are left out (the handbook's modulus of wood already holds the shear of a 14:1 beam).
 */
import type { Material } from '../../shared/catalog.ts';
import { perSecond, SECONDS_PER_MINUTE, TURN } from '../../shared/units.ts';
import { type CellSection, cellsOf, type Standing } from './bar-sections.ts';
import {
  type Bar,
  compliance,
  lowestTone,
  roundPolar,
  type SectionMoments,
  type Support,
  torsionStress,
  twist,
  worstStress,
} from './beam.ts';
import { rotaryMax } from './block-time.ts';
import { edgeForce } from './cutting.ts';
import { easeAt } from './ease.ts';
import { DULL } from './feeds.ts';
import type { Job, Tool } from './job.ts';

/**
 * What of the mean strength of clear wood may be counted on: the weakest twentieth, 1 − 1.645·COV, with COV 16 % for
 * bending and 14 % for shear (Wood Handbook ch. 5, table 5-6, from memory). Knots and sloping grain lower it further.
 */
const WEAK_BENDING = 1 - 1.645 * 0.16;
const WEAK_SHEAR = 1 - 1.645 * 0.14;
/** Twisting shears wood along its grain at about two thirds of the tabled strength (Wood Handbook, from memory). */
const WOOD_TORSION = 2 / 3;
/** Of the strength of a stub or neck a fourth is used: grain, knots, impacts (common practice, no source). */
export const NECK_SAFETY = 4;

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
 * Radius of a round neck that carries a torque: τ = 16Td/π(d⁴ − b⁴) kept under a fourth of the shear strength across it.
 * @param torque N·mm ≥ 0 @param safety default 4 @param bore b, of a tube, mm @returns mm
 */
export function stubRadiusFor(torque: number, material: Material, safety = NECK_SAFETY, bore = 0): number {
  const shear = material.shearStrength * (isWood(material) ? WOOD_TORSION : 1);
  const k = (16 * torque * safety) / (Math.PI * shear);
  let d = Math.cbrt(k);
  // d⁴ = k·d + b⁴ of a tube: from its solid twin the root is found by turning the equation on itself, falling by three quarters each time.
  if (bore > 0) for (let i = 0; i < 40; i++) d = (k * d + bore ** 4) ** (1 / 4);
  return d / 2;
}

/** What a station must keep. */
export interface StationLimits {
  /** Give under finishing, mm: the finish tolerance. */
  readonly deflection: number;
  /** Strength over stress. */
  readonly safety: number;
}

/** One station along the axis. */
export interface Station {
  readonly x: number;
  /** Give under the worst stage when the bit stands here, mm. */
  readonly deflection: number;
  /** Of the surface along its circumference from the twist between here and the chuck, mm. */
  readonly twist: number;
  /** Strength over stress, bending or twist, when the bit stands here. */
  readonly safetyFactor: number;
}

/** A station with what it is made of and what bound it: for the page's lane and for whoever wants to know why. */
export interface StationDetail extends Station {
  /** The finished section: radii of the circles inside and around it, mm, and its second moment of area, mm⁴. */
  readonly smallest: number;
  readonly largest: number;
  readonly inertia: number;
  /** Give under finishing alone, mm: what shows on the work. */
  readonly finishing: number;
  /** Strength over stress in bending and in twisting, the worst of all stages. */
  readonly bendingSafety: number;
  readonly torsionSafety: number;
  /** The stage that gives most, and the stage that comes nearest to breaking it. */
  readonly bendsIn: StageOfStrength;
  readonly weakestIn: StageOfStrength;
  /** Shares of the full feed at which roughing and finishing run here. */
  readonly roughingFeed: number;
  readonly finishingFeed: number;
  readonly limits: StationLimits;
}

export type StageOfStrength = 'corners' | 'roughing' | 'finishing' | 'grooves' | 'necking';

/** Where torque comes nearest to shearing the part. */
export interface Neck {
  /** mm. */
  readonly x: number;
  readonly diameter: number;
  /** Strength over stress. */
  readonly safety: number;
  /** N·mm, and the stage that puts it there. */
  readonly torque: number;
  readonly stage: StageOfStrength;
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
  /** The neck that torque would shear first: its place, diameter, and strength over stress. */
  readonly neck: Neck;
  /** The finished part's lowest tone between its two ends, Hz, and how often a second the finishing bit's teeth strike. */
  readonly tone: number;
  readonly teeth: number;
  readonly along: readonly Station[];
  readonly stations: readonly StationDetail[];
}

/** Strength over stress below which a part is called weak (common practice, no source). */
export const SAFE = 2;
/** A neck is cut as a slot, in layers half as deep as those of an open cut. */
const NECK_LAYER = 0.5;

/** One stage on the bar as it then stands. */
interface Load {
  readonly stage: StageOfStrength;
  readonly standing: Standing;
  /** N with the bit at x; 0 where the stage does not come. @param radius of the section there, mm */
  force(x: number, radius: number): number;
}

/**
 * Share of the finishing feed that the rotary lets a spiral have: on thin places it cannot turn as fast, and the chips are
 * thinner than the feed alone would make them. @param radius mm
 */
export const turnedShare = (job: Job, radius: number): number =>
  job.plan.finishing === 'spiral'
    ? Math.min(1, (rotaryMax(job.bench) * radius * SECONDS_PER_MINUTE) / job.tools.finishing.limits.finishFeed)
    : 1;

/** The stages of a job with the force of each, as slow as the job's ease makes them. */
function loadsOf(job: Job): Load[] {
  const { tools, material, field, plan, stubs } = job;
  const onForm = (x: number) => x >= 0 && x <= field.length;
  const heavy = roughingForce(job);
  const { bit, limits } = tools.finishing;
  const skin = (x: number, radius: number) => {
    const feed = limits.finishFeed * Math.min(easeAt(job.ease, 'finishing', x), turnedShare(job, radius));
    return edgeForce(material.cuttingForce * DULL, plan.allowance, feed / (limits.rpm * bit.teeth));
  };
  const grooves = Math.max(
    0,
    ...tools.detail.map((t) => bitForce(t, material, t.limits.stepDown, t.limits.finishFeed)),
  );
  const loads: Load[] = [
    { stage: 'corners', standing: 'blank', force: (x) => (onForm(x) ? heavy : 0) },
    { stage: 'roughing', standing: 'roughed', force: (x) => (onForm(x) ? heavy * easeAt(job.ease, 'roughing', x) : 0) },
    { stage: 'finishing', standing: 'finished', force: skin },
  ];
  if (grooves > 0)
    loads.push({
      stage: 'grooves',
      standing: 'finished',
      force: (x) => (onForm(x) ? grooves * easeAt(job.ease, 'finishing', x) : 0),
    });
  if (plan.necking)
    loads.push({
      stage: 'necking',
      standing: 'necked',
      force: (x) =>
        (x >= stubs.chuck.from && x < 0) ||
        (x > field.length && x <= stubs.tail.to) ||
        stubs.between?.some((s) => x >= s.from && x <= s.to)
          ? heavy * NECK_LAYER
          : 0,
    });
  return loads;
}

/** What each stage does to the bar, one number a station: give in mm, strength over stress in bending and in twisting. */
export interface StageAnswer extends ReturnType<typeof loaded> {
  readonly load: Load;
}

/** Every stage on the bar that it meets. @returns stations in mm, sections of the cells between them, an answer for each stage */
export function stagesOf(job: Job): {
  edges: Float64Array;
  rows: Record<Standing, CellSection[]>;
  answers: StageAnswer[];
} {
  const { edges, rows } = cellsOf(job);
  const answers = loadsOf(job).map((load) => ({ load, ...loaded(job, edges, rows[load.standing], load) }));
  return { edges, rows, answers };
}

/**
 * Deflection, twist and safety along the bar, for every stage on the section that it meets. A few milliseconds for a round
 * part, some twenty for a carved one (tests/bench/strength.bench.ts): it follows a slider.
 */
export function strengthOf(job: Job): Strength {
  const { edges, rows, answers } = stagesOf(job);
  const n = edges.length - 1;
  const fine = answers.find((a) => a.load.stage === 'finishing')!;
  const limits: StationLimits = { deflection: job.tolerance, safety: SAFE };
  let neck: Neck = { x: 0, diameter: 2 * job.field.minRadius, safety: Infinity, torque: 0, stage: 'roughing' };
  const stations = Array.from(edges, (x, k): StationDetail => {
    const section = rows.finished[Math.min(k, n - 1)]!;
    const most = answers.reduce((a, b) => (b.give[k]! > a.give[k]! ? b : a));
    const least = (list: readonly Float64Array[]) => list.reduce((a, b) => Math.min(a, b[k]!), Infinity);
    const safety = (a: (typeof answers)[number]) => Math.min(a.bending[k]!, a.torsion[k]!);
    const weakest = answers.reduce((a, b) => (safety(b) < safety(a) ? b : a));
    for (const a of answers)
      if (a.torsion[k]! < neck.safety)
        neck = {
          x: (edges[a.neck[k]!]! + edges[a.neck[k]! + 1]!) / 2,
          diameter: 2 * rows[a.load.standing][a.neck[k]!]!.thinnest,
          safety: a.torsion[k]!,
          torque: a.torque[k]!,
          stage: a.load.stage,
        };
    return {
      x,
      deflection: most.give[k]!,
      // Corners are gone before anything of the surface is made: their twist shows nowhere.
      twist: answers.reduce((a, b) => (b.load.stage === 'corners' ? a : Math.max(a, b.twist[k]!)), 0),
      safetyFactor: safety(weakest),
      smallest: section.smallest,
      largest: section.largest,
      inertia: section.inertia,
      finishing: fine.give[k]!,
      bendingSafety: least(answers.map((a) => a.bending)),
      torsionSafety: least(answers.map((a) => a.torsion)),
      bendsIn: most.load.stage,
      weakestIn: weakest.load.stage,
      roughingFeed: easeAt(job.ease, 'roughing', x),
      finishingFeed: easeAt(job.ease, 'finishing', x),
      limits,
    };
  });
  const worst = stations.reduce((a, b) => (b.deflection > a.deflection ? b : a));
  const weakest = stations.reduce((a, b) => (b.safetyFactor < a.safetyFactor ? b : a));
  const { rpm } = job.tools.finishing.limits;
  return {
    worstDeflection: worst.deflection,
    atX: worst.x,
    safetyFactor: weakest.safetyFactor,
    weakestX: weakest.x,
    roughingForce: roughingForce(job),
    finishingForce: finishingForce(job),
    finishingSafety: fine.bending.reduce((a, b, k) => Math.min(a, b, fine.torsion[k]!), Infinity),
    finishingDeflection: Math.max(...fine.give),
    neck,
    tone: toneOf(job, edges, rows.finished),
    teeth: perSecond(rpm * job.tools.finishing.bit.teeth),
    along: stations.map(({ x, deflection, twist, safetyFactor }) => ({ x, deflection, twist, safetyFactor })),
    stations,
  };
}

/** The two ways of holding between which a chuck and a live centre lie; without a centre the chuck alone. */
export const supportsOf = (job: Job): Support[] =>
  job.holding.tailstock ? ['fixed-pinned', 'pinned-pinned'] : ['fixed-free'];

function loaded(job: Job, edges: Float64Array, sections: readonly CellSection[], load: Load) {
  const { material } = job;
  const n = sections.length;
  const bar: Bar = { edges, EI: Float64Array.from(sections, (s) => material.modulus * s.inertia) };
  // The round bar inside the section: never stiffer than the true one.
  const bore = job.blank.bore ?? 0;
  const GJ = Float64Array.from(
    sections,
    (s) => material.shearModulus * (roundPolar(2 * s.smallest) - roundPolar(bore)),
  );
  // σ = M·c/I with the weakest direction and the farthest fibre: never less than the true stress.
  const Z = Float64Array.from(sections, (s) => s.bends);
  const supports = supportsOf(job);
  const gives = supports.map((s) => compliance(bar, s));
  const stresses = supports.map((s) => worstStress(bar, s, Z));
  const turned = twist(edges, GJ);
  const out = {
    give: new Float64Array(n + 1),
    twist: new Float64Array(n + 1),
    bending: new Float64Array(n + 1).fill(Infinity),
    torsion: new Float64Array(n + 1).fill(Infinity),
    torque: new Float64Array(n + 1),
    /** The cell between here and the chuck that torque shears first. */
    neck: new Int32Array(n + 1),
  };
  let thinnest = 0;
  for (let k = 0; k <= n; k++) {
    const here = sections[Math.min(k, n - 1)]!;
    if (k > 0 && sections[k - 1]!.thinnest < sections[thinnest]!.thinnest) thinnest = k - 1;
    const force = load.force(edges[k]!, here.largest);
    const torque = force * here.largest;
    out.neck[k] = thinnest;
    out.torque[k] = torque;
    out.give[k] = force * Math.max(...gives.map((g) => g[k]!));
    out.twist[k] = torque * turned[k]! * here.largest;
    const bending = force * Math.max(...stresses.map((s) => s[k]!));
    const torsion = k > 0 ? torsionStress(torque, 2 * sections[thinnest]!.thinnest, bore) : 0;
    if (bending > 0) out.bending[k] = bendingLimit(material) / bending;
    if (torsion > 0) out.torsion[k] = torsionLimit(material) / torsion;
  }
  return out;
}

/** The finished bar's lowest tone, the lower of the two ways of holding. @returns Hz */
function toneOf(job: Job, edges: Float64Array, sections: readonly SectionMoments[]): number {
  const { material } = job;
  const bar: Bar = { edges, EI: Float64Array.from(sections, (s) => material.modulus * s.inertia) };
  // kg/m³ = 10⁻¹² t/mm³. The mean of the circles inside and around a carved section is near enough for a tone.
  const mass = Float64Array.from(
    sections,
    (s) => (material.density * 1e-12 * TURN * (s.smallest ** 2 + s.largest ** 2)) / 4,
  );
  return Math.min(...supportsOf(job).map((s) => lowestTone(bar, s, mass)));
}
