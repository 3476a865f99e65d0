/**
 * Lengthwise finishing: strokes along x, indexed round the work, so that what marks remain run with the grain. Where the
 * carving turns along the part the strokes turn with it; then they all run the way in which θ grows, else to and fro.
 */
import type { Bit } from '../../../shared/catalog.ts';
import { TURN } from '../../../shared/units.ts';
import type { Surface } from '../../profiles/field.ts';
import { cuspRadius, profileOf } from '../bit.ts';
import type { Heights } from '../contact-heights.ts';
import { sampleCourse } from '../course.ts';
import { easeOver } from '../ease.ts';
import type { Tool } from '../job.ts';
import { nextTurn } from '../link.ts';
import type { Pass } from '../path.ts';
import { rayEntry } from '../ray-entry.ts';
import { thin } from '../thin.ts';
import { ASIDE, type Wall } from '../walls.ts';
import type { Span } from '../work.ts';
import type { StageContext } from './context.ts';
import { follow, samplingOf, thinningOf } from './follow.ts';
import { PassBuilder } from './pass-builder.ts';
import { spiralNodes } from './spiral.ts';
import { type Corner, sampleTrack, straighten } from './track.ts';

/** Fewest and most strokes round the work. */
const FEWEST = 8;
const MOST = 1440;
/** Places along the range at which ridges are looked at, and how many for each stroke round the work. */
const STATIONS = 5;
const LOOKS = 3;
/** Distance along x at which the turning is looked at, mm. */
const TURNING_STEP = 1;

/** Number of strokes round the work whose ridges stay within the scallop, judged at even stations along the range. */
export function strokeCount(work: Surface, contact: Heights, bit: Bit, scallop: number, range: Span): number {
  const stations = Array.from(
    { length: STATIONS },
    (_, k) => range.from + ((range.to - range.from) * (k + 0.5)) / STATIONS,
  );
  const sector = Number.isFinite(work.symmetry) ? TURN / work.symmetry : TURN;
  const profile = profileOf(bit);
  const fits = (count: number): boolean =>
    stations.every((x, station) => {
      const R = bit.diameter / 2;
      const round = work.isRound(Math.max(work.from, x - R), Math.min(work.to, x + R));
      // A few looks for each stroke, elsewhere at each station, so that no arris hides between them.
      const looks = round ? 1 : Math.max(24, Math.ceil((LOOKS * count * sector) / TURN));
      for (let j = 0; j < looks; j++) {
        const middle = (sector * (j + station / stations.length)) / looks;
        const half = TURN / count / 2;
        const left = Math.min(
          rayEntry(profile, 0, half, contact.lowest(x, middle - half)),
          rayEntry(profile, 0, half, contact.lowest(x, middle + half)),
        );
        const best = Math.min(
          contact.lowest(x, middle),
          rayEntry(profile, 0, half / 2, contact.lowest(x, middle - half / 2)),
          rayEntry(profile, 0, half / 2, contact.lowest(x, middle + half / 2)),
        );
        if (left - best > scallop) return false;
      }
      return true;
    });
  let few = FEWEST;
  let many = FEWEST;
  while (many < MOST && !fits(many)) {
    few = many;
    many = Math.min(MOST, many * 2);
  }
  while (many - few > Math.max(1, many / 20)) {
    const m = Math.round((few + many) / 2);
    if (fits(m)) many = m;
    else few = m;
  }
  return many;
}

/** How the carving turns along the range: its corners, and which way θ grows; no turning if it goes both ways. */
function turningAlong(work: Surface, range: Span): { corners: Corner[]; grows: -1 | 0 | 1 } {
  const n = Math.max(1, Math.ceil((range.to - range.from) / TURNING_STEP));
  const corners = Array.from({ length: n + 1 }, (_, k) => {
    const x = range.from + ((range.to - range.from) * k) / n;
    return { x, theta: work.turning(x) };
  });
  const steps = corners.slice(1).map((c, k) => c.theta - corners[k].theta);
  const up = steps.some((s) => s > 1e-9);
  const down = steps.some((s) => s < -1e-9);
  const grows = up === down ? 0 : up ? 1 : -1;
  return { corners: grows === 0 ? corners.map((c) => ({ x: c.x, theta: 0 })) : corners, grows };
}

/** Strokes along a range, after a ring at the end they start from. @returns passes; the wood and `ctx.at` follow */
export function strokes(ctx: StageContext, tool: Tool, range: Span, walls: readonly Wall[], name: string): Pass[] {
  const { job, work } = ctx;
  const { bit, limits } = tool;
  const contact = ctx.contact(bit);
  const { chord, guard } = samplingOf(job);
  const count = strokeCount(work, contact, bit, job.plan.scallop, range);
  const { corners, grows } = turningAlong(work, range);
  const radius = work.bounds(range.from, range.to)[1];
  const line = straighten(grows < 0 || grows === 0 ? [...corners].reverse() : corners, radius);
  const first = line[0];
  const start = nextTurn(first.theta, ctx.at?.theta ?? 0);
  const passes: Pass[] = [];
  // A ring at the end where strokes start: every one of them comes in sideways from wood that is already gone.
  const nodes = spiralNodes(ctx, tool, contact, {
    range: { from: first.x, to: first.x },
    walls: [],
    pitch: () => limits.stepOver,
    floor: () => 0,
    start,
  });
  const ring = follow(
    ctx,
    tool,
    sampleCourse(work, contact, bit, nodes, { chord, guard }),
    limits.finishFeed,
    `ring${name}`,
    true,
  );
  if (ring) passes.push(ring);

  const spacing = Math.sqrt(8 * (cuspRadius(bit) || bit.diameter / 2) * chord);
  const places = walls.flatMap((w) => [w.x - ASIDE, w.x + ASIDE]);
  const rules = { ...thinningOf(job, limits.finishFeed), shortest: 0 };
  const pass = new PassBuilder(ctx, tool);
  /** As slow as the most slender place on the way to x asks. */
  const feedTo = (x: number) => limits.finishFeed * easeOver(job.ease, 'finishing', pass.at?.x ?? x, x);
  const base = nextTurn(first.theta, ctx.at?.theta ?? 0) - first.theta;
  const sideways = (x: number, from: number, to: number) => {
    const n = Math.max(1, Math.ceil(((to - from) * radius) / spacing));
    let high = 0;
    for (let k = 0; k <= n; k++) high = Math.max(high, contact.lowest(x, from + ((to - from) * k) / n) + guard);
    return high;
  };
  for (let k = 0; k < count; k++) {
    const turn = base + (k * TURN) / count;
    const backward = grows === 0 && k % 2 === 1;
    const track = (backward ? [...line].reverse() : line).map((c) => ({ x: c.x, theta: c.theta + turn }));
    const samples = sampleTrack(contact, track, radius, spacing, places, { chord, guard });
    const kept = thin(samples, rules);
    const at = (i: number) => ({ x: samples.x[kept.index[i]], r: kept.r[i], theta: samples.theta[kept.index[i]] });
    const begin = at(0);
    if (k === 0 || grows !== 0) {
      // Beside the last start, where the ring and the last stroke have been; then on to this one.
      const theta = nextTurn(begin.theta, pass.at?.theta ?? 0);
      const shift = theta - begin.theta;
      pass.approach(begin.x, begin.r, theta);
      for (let i = 1; i < kept.index.length; i++) {
        const p = at(i);
        pass.cutTo(p.x, p.r, p.theta + shift, feedTo(p.x));
      }
      continue;
    }
    const from = pass.at!;
    const over = Math.max(sideways(begin.x, from.theta, begin.theta), begin.r, from.r);
    pass.cutTo(from.x, over, from.theta, feedTo(from.x));
    pass.cutTo(begin.x, over, begin.theta, feedTo(begin.x));
    for (let i = 0; i < kept.index.length; i++) {
      const p = at(i);
      pass.cutTo(p.x, p.r, p.theta, feedTo(p.x));
    }
  }
  const done = pass.finish('finishing', `${count} strokes${name}`);
  if (done) passes.push(done);
  return passes;
}
