/**
 * Whether the stick holds at every moment of the order in which it is cut: the passes are cut once more in the planner's map
 * of the wood, and after every short stretch the bar as it then stands is reckoned under the force and the torque with which
 * the bit has just cut. What `strengthOf` says of the finished form is true only of the last moments; thin places that are cut
 * last, and in the right order, never see the forces of roughing.
 * Bending and twist as in `strength.ts`; the section after each stretch counts, which is the thinner.
 */
import type { Problem } from '../../shared/problems.ts';
import { TURN } from '../../shared/units.ts';
import { type Bar, moments, type SectionMoments, type Support, sectionOf, torsionStress } from './beam.ts';
import type { Job, PlannedProgram, Tool } from './job.ts';
import { CUT, type Pass, type StageName } from './path.ts';
import { bendingLimit, bitForce, SAFE, supportsOf, torsionLimit } from './strength.ts';
import { Wood } from './wood.ts';

/** The moment at which the stick is nearest to breaking. */
export interface Moment {
  /** Strength over stress. */
  readonly safetyFactor: number;
  readonly stage: StageName;
  readonly label: string;
  /** Where the bit cuts, and where the wood is nearest to breaking, mm. */
  readonly cutX: number;
  readonly weakestX: number;
  /** Smallest radius there at that moment, mm. */
  readonly radius: number;
  readonly how: 'bending' | 'twist';
}

export interface StrengthInOrder {
  readonly weakest: Moment;
  /** Moments looked at. */
  readonly moments: number;
}

/** Length of a cell of the bar, mm, and how far a bit may get along before the bar is reckoned anew; at the latest after a turn. */
const CELL = 2;
const STRETCH = 12;
/** No force is reckoned from a bite deeper than this share of the step-down: the map's rows exaggerate beside walls. */
const DEEPEST_BITE = 1.15;

/** The stick between jaws and centre as it stands, kept up to date with the wood. */
class Standing {
  readonly edges: Float64Array;
  readonly sections: SectionMoments[];
  readonly EI: Float64Array;
  private readonly job: Job;
  private readonly wood: Wood;

  constructor(job: Job, wood: Wood) {
    this.job = job;
    this.wood = wood;
    const from = job.blank.from + job.holding.chuckGrip;
    const n = Math.max(8, Math.ceil((job.blank.to - from) / CELL));
    this.edges = Float64Array.from({ length: n + 1 }, (_, i) => from + ((job.blank.to - from) * i) / n);
    this.sections = new Array<SectionMoments>(n);
    this.EI = new Float64Array(n);
    this.look(from, job.blank.to);
  }

  cellAt(x: number): number {
    const n = this.sections.length;
    const at = (x - this.edges[0]!) / (this.edges[1]! - this.edges[0]!);
    return Math.min(n - 1, Math.max(0, Math.floor(at)));
  }

  /** Reads the wood's sections anew over a range; of the rows in a cell the thinnest counts. */
  look(x0: number, x1: number): void {
    const { wood, edges } = this;
    for (let i = this.cellAt(x0); i <= this.cellAt(x1); i++) {
      const first = Math.max(0, Math.floor((edges[i]! - wood.from) / wood.dx));
      const last = Math.min(wood.rows - 1, Math.ceil((edges[i + 1]! - wood.from) / wood.dx));
      let thinnest: SectionMoments | undefined;
      for (let row = first; row <= last; row++) {
        const ring = wood.radii.subarray(row * wood.columns, (row + 1) * wood.columns);
        const section = sectionOf(Float64Array.from(ring));
        if (!thinnest || section.inertia < thinnest.inertia) thinnest = section;
      }
      // A tube's bore takes its own circle out of every section.
      const inertia = Math.max(1e-9, thinnest!.inertia - (Math.PI * (this.job.blank.bore ?? 0) ** 4) / 64);
      this.sections[i] = { ...thinnest!, inertia };
      this.EI[i] = this.job.material.modulus * inertia;
    }
  }
}

/** What a bit has just done to the stick. */
interface Strain {
  force: number;
  torque: number;
  from: number;
  to: number;
}

/**
 * Follows the order of cutting. @param programs in run order, as planned
 * @returns undefined where nothing is cut
 */
export function strengthInOrder(job: Job, programs: readonly PlannedProgram[]): StrengthInOrder | undefined {
  const wood = new Wood(job.blank);
  const bar = new Standing(job, wood);
  let weakest: Moment | undefined;
  let count = 0;
  for (const { tool, passes } of programs)
    for (const pass of passes)
      for (const strain of stretches(wood, tool, job, pass)) {
        bar.look(strain.from - tool.bit.diameter / 2, strain.to + tool.bit.diameter / 2);
        count++;
        const moment = reckon(job, bar, pass, strain);
        if (!weakest || moment.safetyFactor < weakest.safetyFactor) weakest = moment;
      }
  return weakest && { weakest, moments: count };
}

/** Cuts a pass, handing over the hardest force and torque of every stretch. */
function* stretches(wood: Wood, tool: Tool, job: Job, pass: Pass): Generator<Strain> {
  const { moves } = pass;
  const cap = tool.limits.stepDown * DEEPEST_BITE;
  let now: Strain | undefined;
  let began = 0;
  for (let i = 1; i < moves.count; i++) {
    if (moves.kind[i] !== CUT) continue;
    const x = moves.x[i]!;
    const { depth, volume } = wood.take(
      tool.bit,
      moves.x[i - 1]!,
      moves.r[i - 1]!,
      moves.theta[i - 1]!,
      x,
      moves.r[i]!,
      moves.theta[i]!,
    );
    if (volume <= 0) continue;
    const bite = Math.min(depth, cap);
    const force = bitForce(tool, job.material, bite, moves.feed[i]!);
    // On the way down or up the bit bites near the lower end; the wood that it meets stands one bite higher.
    const deep = Math.min(moves.r[i]!, moves.r[i - 1]!);
    const torque = force * (Math.min(deep + bite, Math.max(moves.r[i]!, moves.r[i - 1]!)) + bite);
    const low = Math.min(x, moves.x[i - 1]!);
    const high = Math.max(x, moves.x[i - 1]!);
    if (!now) {
      now = { force, torque, from: low, to: high };
      began = moves.theta[i - 1]!;
    } else {
      now.force = Math.max(now.force, force);
      now.torque = Math.max(now.torque, torque);
      now.from = Math.min(now.from, low);
      now.to = Math.max(now.to, high);
    }
    if (now.to - now.from > STRETCH || Math.abs(moves.theta[i]! - began) >= TURN - 1e-6) {
      yield now;
      now = undefined;
    }
  }
  if (now) yield now;
}

/** The bar under a stretch: bent by the force anywhere in it, twisted between it and the chuck. */
function reckon(job: Job, standing: Standing, pass: Pass, strain: Strain): Moment {
  const { edges, sections, EI } = standing;
  const bar: Bar = { edges, EI };
  const supports = supportsOf(job);
  const first = standing.cellAt(strain.from);
  const last = standing.cellAt(strain.to) + 1;
  let worst = { stress: 0, cell: first, at: first };
  // Along a stretch the moment only rises or falls, or peaks once: ends and middle tell it.
  for (const k of new Set([first, (first + last) >> 1, last])) {
    const here = worstStress(bar, supports, sections, k);
    if (here.stress > worst.stress) worst = { ...here, at: k };
  }
  const bending = bendingLimit(job.material) / Math.max(1e-12, worst.stress * strain.force);
  let thinnest = 0;
  for (let i = 1; i < last; i++) if (sections[i]!.smallest < sections[thinnest]!.smallest) thinnest = i;
  const shear = torsionStress(strain.torque, 2 * sections[thinnest]!.smallest, job.blank.bore ?? 0);
  const twisting = torsionLimit(job.material) / Math.max(1e-12, shear);
  const bends = bending <= twisting;
  const cell = bends ? worst.cell : thinnest;
  return {
    safetyFactor: Math.min(bending, twisting),
    stage: pass.stage,
    label: pass.label,
    cutX: bends ? edges[worst.at]! : strain.to,
    weakestX: (edges[cell]! + edges[cell + 1]!) / 2,
    radius: sections[cell]!.smallest,
    how: bends ? 'bending' : 'twist',
  };
}

/** Largest bending stress anywhere under a unit load at edge k. @returns N/mm² a newton, and the cell where it is */
function worstStress(bar: Bar, supports: readonly Support[], sections: readonly SectionMoments[], k: number) {
  const worst = { stress: 0, cell: 0 };
  for (const support of supports) {
    const M = moments(bar, support, k);
    for (let i = 0; i < sections.length; i++) {
      const s = sections[i]!;
      // σ = M·c/I with the weakest direction and the farthest fibre: never less than the true stress.
      const here = (Math.max(Math.abs(M[i]!), Math.abs(M[i + 1]!)) * s.largest) / s.inertia;
      if (here <= worst.stress) continue;
      worst.stress = here;
      worst.cell = i;
    }
  }
  return worst;
}

/** What the order of cutting says about the stick: refused where it breaks, a warning where it is near it. */
export function orderProblems(found: StrengthInOrder): Problem[] {
  const { weakest: w } = found;
  const where = `${w.how} at x = ${w.weakestX.toFixed(0)} mm (${(2 * w.radius).toFixed(1)} mm thick) while ${w.stage}, ${w.label}, cuts at ${w.cutX.toFixed(0)} mm`;
  const severity = w.safetyFactor < 1 ? 'refuse' : w.safetyFactor < SAFE ? 'warn' : 'note';
  const message = `at its weakest moment the stick keeps ${w.safetyFactor.toFixed(1)} times the strength it needs: ${where}`;
  const allowed = `${SAFE} times or more; fewer pieces on the stick, thicker necks or a smaller step-down help`;
  return [{ code: 'slender', severity, path: 'form', message, ...(severity === 'note' ? {} : { allowed }) }];
}
