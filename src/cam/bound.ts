/**
 * The time that no plan of these stages with these bits can beat: what the limits of the bits and the bench leave when
 * nothing is lost to air, links, ramps and accelerations. efficiency = bound / time.
 *
 * Corners and roughing: every layer no deeper than the step-down, the tip no nearer the axis than the wood it takes minus
 * that depth, neighbouring strokes no further apart than the step-over (corners may be taken at the bit's full width), the
 * contact no faster than the feed. The bit reaches only the closing of the outline by its own profile.
 * Finishing: ∫ dS/p · max(P/v, 1/n): along the outline S, p the widest pitch that keeps the scallop, P the way round, v the
 * feed (slowed where the part would bend), n the rotary's fastest turning.
 * Kept lengths, stubs, grooves, holes and necking count as nothing, which can only lower the bound.
 */
import type { Bit } from '../../shared/catalog.ts';
import { perSecond, TURN } from '../../shared/units.ts';
import { cuspRadius, heightAt } from './bit.ts';
import { blankRadius, innerRadius, outerRadius } from './blank.ts';
import { rotaryMax } from './block-time.ts';
import { easeAt } from './ease.ts';
import type { Job } from './job.ts';
import type { StageName } from './path.ts';
import { scallopSpacing } from './scallop.ts';

export interface StageBound {
  readonly stage: StageName;
  readonly bound_s: number;
}

/** Share of a plan's time that the limits themselves need. @returns 0…1 for an honest pair; 0 for no time */
export const efficiency = (bound_s: number, time_s: number): number => (time_s > 0 ? bound_s / time_s : 0);

/** Finest step along x that is looked at, mm, and how many at the most. */
const STEP = 0.25;
const STEPS = 2000;
const ANGLES = 144;
const LEVELS = 60;

/** The form over x: largest radius and way round at each cell's middle. */
interface Outline {
  readonly dx: number;
  readonly largest: Float64Array;
  readonly round: boolean;
  /** ∮ r dθ, mm. */
  readonly girth: Float64Array;
  readonly kept: Uint8Array;
}

/** Bounds of the stages that a plan of this job has. @returns seconds, in the order corners, roughing, finishing */
export function boundOf(job: Job): StageBound[] {
  const outline = outlineOf(job);
  const rough = closing(outline, job.tools.roughing.bit).closed.map((r) => r + job.plan.allowance);
  return [
    { stage: 'corners', bound_s: cornersBound(job, outline, rough) },
    { stage: 'roughing', bound_s: roughingBound(job, outline, rough) },
    { stage: 'finishing', bound_s: finishingBound(job, outline) },
  ];
}

function outlineOf(job: Job): Outline {
  const { field } = job;
  const n = Math.min(STEPS, Math.max(50, Math.ceil(field.length / STEP)));
  const dx = field.length / n;
  const largest = new Float64Array(n);
  const girth = new Float64Array(n);
  const kept = new Uint8Array(n);
  const round = field.isRound(0, field.length);
  const thetas = Float64Array.from({ length: round ? 1 : ANGLES }, (_, j) => (j * TURN) / ANGLES);
  const ring = new Float64Array(thetas.length);
  for (let i = 0; i < n; i++) {
    const x = (i + 0.5) * dx;
    field.ring(x, thetas, ring);
    for (const r of ring) {
      largest[i] = Math.max(largest[i]!, r);
      girth[i]! += (r * TURN) / ring.length;
    }
    kept[i] = field.kept.some((k) => x > k.from && x < k.to) ? 1 : 0;
  }
  return { dx, largest, round, girth, kept };
}

/** Lowest tip over the largest radii, and the outline that the bit then leaves. */
function closing(o: Outline, bit: Bit): { tip: Float64Array; closed: Float64Array } {
  const reach = Math.floor(bit.diameter / 2 / o.dx);
  const h = Float64Array.from({ length: reach + 1 }, (_, k) => heightAt(bit, Math.min(k * o.dx, bit.diameter / 2)));
  const n = o.largest.length;
  const tip = new Float64Array(n);
  const closed = new Float64Array(n);
  for (let i = 0; i < n; i++)
    for (let j = Math.max(0, i - reach); j <= Math.min(n - 1, i + reach); j++)
      tip[i] = Math.max(tip[i]!, o.largest[j]! - h[Math.abs(i - j)]!);
  for (let i = 0; i < n; i++) {
    let low = Infinity;
    for (let j = Math.max(0, i - reach); j <= Math.min(n - 1, i + reach); j++)
      low = Math.min(low, tip[j]! + h[Math.abs(i - j)]!);
    closed[i] = low;
  }
  return { tip, closed };
}

/** Wood outside the circle inside the blank's section. */
function cornersBound(job: Job, o: Outline, rough: Float64Array): number {
  const { stepDown, feed } = job.tools.roughing.limits;
  const inner = innerRadius(job.blank);
  const outer = outerRadius(job.blank);
  const samples = 720;
  const radii = Float64Array.from({ length: samples }, (_, j) => blankRadius(job.blank, (j * TURN) / samples));
  const drho = (outer - inner) / LEVELS;
  if (!(drho > 0)) return 0;
  let swept = 0;
  for (let k = 0; k < LEVELS; k++) {
    const rho = inner + (k + 0.5) * drho;
    const arc = (radii.filter((r) => r > rho).length * TURN) / samples;
    for (let i = 0; i < rough.length; i++)
      if (!o.kept[i] && rough[i]! < rho) swept += Math.max(rho - stepDown, rough[i]!, 0) * arc * drho * o.dx;
  }
  return swept / (stepDown * job.tools.roughing.bit.diameter * perSecond(feed));
}

/** Wood between that circle and the form with its allowance, layer by layer, stretch by stretch. */
function roughingBound(job: Job, o: Outline, rough: Float64Array): number {
  const { stepDown, stepOver, feed } = job.tools.roughing.limits;
  const D = job.tools.roughing.bit.diameter;
  const inner = innerRadius(job.blank);
  const lowest = rough.reduce((a, r, i) => (o.kept[i] ? a : Math.min(a, r)), inner);
  const drho = (inner - lowest) / LEVELS;
  if (!(drho > 0)) return 0;
  let way = 0;
  for (let k = 0; k < LEVELS; k++) {
    const rho = lowest + (k + 0.5) * drho;
    for (let i = 0; i < rough.length; i++) {
      if (o.kept[i] || rough[i]! >= rho) continue;
      let floor = rough[i]!;
      const start = i;
      while (i < rough.length && !o.kept[i] && rough[i]! < rho) floor = Math.min(floor, rough[i++]!);
      const travel = Math.max(0, (i - start) * o.dx - D);
      const circle = TURN * Math.max(rho - stepDown, floor, 0);
      const around = (travel / stepOver + 1) * circle;
      const along = (Math.max(0, circle - D) / stepOver + 1) * travel;
      way += (Math.min(around, along) * drho) / stepDown;
    }
  }
  return way / perSecond(feed);
}

function finishingBound(job: Job, o: Outline): number {
  const { bit, limits } = job.tools.finishing;
  const { tip, closed } = closing(o, bit);
  const spiral = job.plan.finishing === 'spiral';
  const turn = TURN / rotaryMax(job.bench);
  // Where bending asks for a slower feed no plan may be quicker; the tip may stand anywhere within the bit's width.
  const share = (i: number) =>
    Math.max(
      ...[-0.5, 0, 0.5].map((beside) => easeAt(job.ease, 'finishing', (i + 0.5) * o.dx + beside * bit.diameter)),
    );
  let time = 0;
  for (let i = 0; i < closed.length; i++) {
    if (o.kept[i]) continue;
    const { slope, curvature } = shapeAt(o, closed, i);
    const pitch = widestFor(bit, job.plan.scallop, slope, curvature);
    // The contact's way is reckoned at the tip's radius; of a part that is not round only the surface itself is sure.
    const speed = perSecond(limits.finishFeed) * share(i);
    const girth = o.round ? TURN * tip[i]! : o.girth[i]!;
    const dS = o.round ? o.dx * Math.hypot(1, slope) : o.dx;
    time += (dS / pitch) * (spiral ? Math.max(girth / speed, turn) : girth / speed);
  }
  return time;
}

/** Slope and curvature of the outline over a bit more than a cell; curvature only where two spans agree on it. */
function shapeAt(o: Outline, r: Float64Array, i: number): { slope: number; curvature: number } {
  const span = (h: number) => {
    const a = Math.max(0, i - h);
    const b = Math.min(r.length - 1, i + h);
    const slope = (r[b]! - r[a]!) / ((b - a) * o.dx);
    const bend = b - i === h && i - a === h ? (r[b]! - 2 * r[i]! + r[a]!) / (h * o.dx) ** 2 : 0;
    return { slope, curvature: -bend / Math.hypot(1, slope) ** 3 };
  };
  const near = span(2);
  const far = span(4);
  const smooth = Math.abs(near.curvature - far.curvature) < 0.2 * Math.abs(near.curvature);
  // A hollow corner may be taken at any pitch, a sharp arris is no wider than a plain slope: both only lower the bound.
  return { slope: near.slope, curvature: smooth ? near.curvature : Math.min(0, near.curvature, far.curvature) };
}

/** An upper limit of the pitch along the outline that keeps the scallop. @returns mm > 0 */
function widestFor(bit: Bit, scallop: number, slope: number, curvature: number): number {
  const tip = cuspRadius(bit);
  const steep = Math.abs(slope) / Math.hypot(1, slope);
  const round = tip > 0 ? scallopSpacing(tip, scallop, curvature) : 0;
  const flat =
    bit.kind === 'flat' || bit.kind === 'bull' ? bit.diameter - 2 * tip : bit.kind === 'vee' ? bit.tipDiameter : 0;
  // A flat end leaves steps of p·sin(slope); a vee ridges of p/2 over the tangent of its half angle.
  const stair = steep > 0 ? Math.min(flat, scallop / steep) : flat;
  const vee = bit.kind === 'vee' ? 2 * scallop * Math.tan((bit.includedAngle_deg / 720) * TURN) + flat : 0;
  return Math.min(bit.diameter, Math.max(round, stair, vee));
}
