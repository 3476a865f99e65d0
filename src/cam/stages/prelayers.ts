/**
 * What roughing could not reach with its thicker bit (narrow coves, deep flutes) still stands higher than the finishing bit
 * may bite: taken down here in layers of one step-down, only where it stands.
 */
import { TURN } from '../../../shared/units.ts';
import { sampleCourse } from '../course.ts';
import type { Tool } from '../job.ts';
import { nextTurn } from '../link.ts';
import type { Pass, StageName } from '../path.ts';
import { ASIDE, floorAt, type Wall } from '../walls.ts';
import type { Span } from '../work.ts';
import type { StageContext } from './context.ts';
import { follow } from './follow.ts';
import { spiralNodes } from './spiral.ts';

/**
 * Share of the step-down that a layer takes. A rounded end meets rising wood beside its tip, where it stands higher than
 * the depth of the bite: up to a third more on the slopes beside a bead.
 */
const SHARE = { flat: 0.9, round: 0.7 } as const;
/** A bite may be this much deeper than the step-down before a layer is spent on it: the wood's grid shows a little too much. */
const SLACK = 0.1;

/** Wood counts as beside the bit where one this much wider touches it, mm: more than a cell of the map. */
const BESIDE = 0.7;

/** Angles looked at where work and wood are round. */
const LOOKS_ROUND = 12;
/** …and for wood beside the bit. */
const LOOKS_BESIDE = 24;

/** Wood over the work along x: one row each, at its worst angle. */
interface Standing {
  readonly xs: Float64Array;
  /** Highest tip height at which the bit still touches wood, mm. */
  readonly top: Float64Array;
  /** Deepest bite down to the work, mm. */
  readonly bite: Float64Array;
}

/**
 * How much stands along a range of tip positions.
 * @param spacing of the places along x, mm
 * @param where to look: where the work is round under the bit, where it is not, or all along (elsewhere nothing is said to stand)
 * @param ignore bites that do not count: up to `least` mm, and all at tip positions (x mm, θ radians) that are `cleared`
 */
export function standing(
  ctx: StageContext,
  tool: Tool,
  range: Span,
  spacing: number,
  where: 'round' | 'carved' | 'all',
  ignore?: { readonly least: number; cleared(x: number, theta: number): boolean },
): Standing {
  const { work, wood } = ctx;
  const { bit } = tool;
  const R = bit.diameter / 2;
  const contact = ctx.contact(bit);
  const n = Math.max(2, Math.ceil((range.to - range.from) / spacing) + 1);
  const xs = Float64Array.from({ length: n }, (_, i) => range.from + ((range.to - range.from) * i) / (n - 1));
  const top = new Float64Array(n);
  const bite = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const x = xs[i];
    const x0 = Math.max(work.from, x - R);
    const x1 = Math.min(work.to, x + R);
    const round = work.isRound(x0, x1);
    if (where === (round ? 'carved' : 'round')) continue;
    const around = Math.max(work.bounds(x0, x1)[1], wood.highestOver(x0, x1));
    const m = where === 'round' ? LOOKS_ROUND : Math.max(16, Math.ceil((TURN * around) / Math.max(1, R / 2)));
    const thetas = Float64Array.from({ length: m }, (_, j) => (j * TURN) / m);
    const low = new Float64Array(m);
    if (round) low.fill(contact.lowest(x, 0));
    else contact.along(new Float64Array(m).fill(x), thetas, low);
    for (let j = 0; j < m; j++) {
      const high = wood.lowest(bit, x, thetas[j]);
      if (high > top[i]) top[i] = high;
      const deep = high - low[j];
      if (deep <= bite[i] || (ignore && (deep <= ignore.least || ignore.cleared(x, thetas[j])))) continue;
      bite[i] = deep;
    }
  }
  return { xs, top, bite };
}

/** One layer: its depth below the top of the wood at each x, or one radius throughout. */
interface Layer {
  readonly below: number;
  readonly level: number | undefined;
  readonly from: number;
  readonly to: number;
  readonly label: string;
}

/**
 * The layers of a stretch. A broad end follows the wood's top at one depth after the other. A pointed one goes round at one
 * radius after the other: in a corner the wood rises beside its tip far more steeply than its own flank.
 */
function planOf(
  tool: Tool,
  between: { top: Float64Array; from: number; to: number },
  deepest: number,
  depth: number,
): Layer[] {
  const { top, from, to } = between;
  if (tool.bit.kind !== 'vee' && tool.bit.kind !== 'tapered-ball') {
    const count = Math.ceil((deepest - SLACK) / depth) - 1;
    // As many as are needed, and the last cut with them, all of one depth: full layers would leave a steep flank no reserve.
    return Array.from({ length: count }, (_, k) => ({
      below: ((k + 1) * deepest) / (count + 1),
      level: undefined,
      from,
      to,
      label: `layer ${k + 1} of ${count}`,
    }));
  }
  const highest = Math.max(...top);
  const count = Math.ceil((highest - Math.min(...top) + deepest - SLACK) / depth) - 1;
  const layers: Layer[] = [];
  for (let k = 1; k <= count; k++) {
    const level = highest - k * depth;
    const over = [...top.keys()].filter((i) => top[i] > level);
    const x = (i: number) => from + ((to - from) * i) / Math.max(1, top.length - 1);
    layers.push({
      below: 0,
      level,
      from: x(over[0]),
      to: x(over[over.length - 1]),
      label: `layer ${k} of ${count}`,
    });
  }
  return layers;
}

/** Layers before the finishing spiral. @param range tip positions of the stretch @returns passes, none where nothing stands high */
export function layers(
  ctx: StageContext,
  tool: Tool,
  range: Span,
  walls: readonly Wall[],
  name: string,
  stage: StageName = 'finishing',
): Pass[] {
  const { work, job } = ctx;
  const { bit, limits } = tool;
  const contact = ctx.contact(bit);
  const pointed = bit.kind === 'vee' || bit.kind === 'tapered-ball';
  const spacing = pointed ? 0.25 : Math.max(0.5, bit.diameter / 4);
  const { xs, top, bite } = standing(ctx, tool, range, spacing, 'all');
  const n = xs.length;
  const passes: Pass[] = [];
  const depth = limits.stepDown * (bit.kind === 'flat' ? SHARE.flat : SHARE.round);
  const high = (i: number) => bite[i] > depth + SLACK;
  /** Height at x at which the bit touches wood, or one so much wider. */
  const stands = (x: number, wider?: number): number => {
    let most = 0;
    for (let j = 0; j < LOOKS_BESIDE; j++)
      most = Math.max(most, ctx.wood.lowest(bit, x, (j * TURN) / LOOKS_BESIDE, wider));
    return most;
  };
  for (let b = n - 1; b >= 0; b--) {
    if (!high(b)) continue;
    let a = b;
    while (a > 0 && (high(a - 1) || (a > 1 && high(a - 2)))) a--;
    const stretch = { from: xs[Math.max(0, a - 1)], to: xs[Math.min(n - 1, b + 1)] };
    // Beside wood that stands upright the layers come down no faster than on it, until the bit is clear of it.
    let deepest = 0;
    for (let i = Math.max(0, a - 2); i <= Math.min(n - 1, b + 2); i++) {
      const more = pointed ? 0 : stands(xs[i], BESIDE) - top[i];
      const raised = more > limits.stepDown ? more : 0;
      top[i] += raised;
      if (i >= a && i <= b) deepest = Math.max(deepest, bite[i] + raised);
    }
    const between = { top: top.subarray(a, b + 1), from: xs[a], to: xs[b] };
    const highest = (x: number): number => {
      const place = ((x - xs[0]) / (xs[n - 1] - xs[0])) * (n - 1);
      const i = Math.min(n - 2, Math.max(0, Math.floor(place)));
      return Math.max(top[i], top[i + 1]);
    };
    // Right beside a wall the work is lower than at any place looked at.
    for (const w of walls)
      for (const x of [w.x - ASIDE, w.x + ASIDE])
        if (x > stretch.from && x < stretch.to) {
          const low = floorAt(work, contact, bit, x)[0];
          if (stands(x) - low > depth + SLACK) deepest = Math.max(deepest, highest(x) - low);
        }
    for (const layer of planOf(tool, between, deepest, depth)) {
      const level = (x: number): number => {
        if (layer.level !== undefined) return layer.level;
        return Math.max(0, highest(x) - layer.below);
      };
      const part = {
        from: Math.max(stretch.from, layer.from - spacing),
        to: Math.min(stretch.to, layer.to + spacing),
      };
      const nodes = spiralNodes(ctx, tool, contact, {
        range: part,
        walls,
        pitch: () => limits.stepOver,
        floor: level,
        ...(pointed ? {} : { air: highest }),
        start: nextTurn(0, ctx.at?.theta ?? 0),
      });
      const samples = sampleCourse(work, contact, bit, nodes, { chord: job.tolerance, guard: job.tolerance });
      const label = `${layer.label}, x ${part.from.toFixed(0)} to ${part.to.toFixed(0)}${name}`;
      const pass = follow(ctx, tool, samples, limits.feed, label, true, stage);
      if (pass) passes.push(pass);
    }
    b = a;
  }
  return passes;
}
