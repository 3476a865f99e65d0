/**
 * What roughing could not reach with its thicker bit (narrow coves, deep flutes) still stands higher than the finishing bit
 * may bite: taken down here in layers of one step-down, only where it stands.
 */
import { TURN } from '../../../shared/units.ts';
import { sampleCourse } from '../course.ts';
import type { Tool } from '../job.ts';
import { nextTurn } from '../link.ts';
import type { Pass } from '../path.ts';
import type { Wall } from '../walls.ts';
import type { Span } from '../work.ts';
import type { StageContext } from './context.ts';
import { follow } from './follow.ts';
import { spiralNodes } from './spiral.ts';

/** A bite may be this much deeper than the step-down before a layer is spent on it: the wood's grid shows a little too much. */
const SLACK = 0.1;

/** Wood over the work along x: one row each, at its worst angle. */
interface Standing {
  readonly xs: Float64Array;
  /** Highest tip height at which the bit still touches wood, mm. */
  readonly top: Float64Array;
  /** Deepest bite down to the work, mm. */
  readonly bite: Float64Array;
}

/** How much stands along a range of tip positions. */
export function standing(ctx: StageContext, tool: Tool, range: Span): Standing {
  const { work, wood } = ctx;
  const { bit } = tool;
  const R = bit.diameter / 2;
  const contact = ctx.contact(bit);
  const n = Math.max(2, Math.ceil((range.to - range.from) / Math.max(0.5, R / 2)) + 1);
  const xs = Float64Array.from({ length: n }, (_, i) => range.from + ((range.to - range.from) * i) / (n - 1));
  const top = new Float64Array(n);
  const bite = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const x = xs[i];
    const x0 = Math.max(work.from, x - R);
    const x1 = Math.min(work.to, x + R);
    const around = Math.max(work.bounds(x0, x1)[1], wood.highestOver(x0, x1));
    const m = Math.max(16, Math.ceil((TURN * around) / Math.max(1, R / 2)));
    const thetas = Float64Array.from({ length: m }, (_, j) => (j * TURN) / m);
    const low = new Float64Array(m);
    if (work.isRound(x0, x1)) low.fill(contact.lowest(x, 0));
    else contact.along(new Float64Array(m).fill(x), thetas, low);
    for (let j = 0; j < m; j++) {
      const high = wood.lowest(bit, x, thetas[j]);
      if (high > top[i]) top[i] = high;
      if (high - low[j] > bite[i]) bite[i] = high - low[j];
    }
  }
  return { xs, top, bite };
}

/** Layers before the finishing spiral. @param range tip positions of the stretch @returns passes, none where nothing stands high */
export function layers(ctx: StageContext, tool: Tool, range: Span, walls: readonly Wall[], name: string): Pass[] {
  const { work, job } = ctx;
  const { bit, limits } = tool;
  const contact = ctx.contact(bit);
  const { xs, top, bite } = standing(ctx, tool, range);
  const n = xs.length;
  const passes: Pass[] = [];
  const high = (i: number) => bite[i] > limits.stepDown + SLACK;
  for (let b = n - 1; b >= 0; b--) {
    if (!high(b)) continue;
    let a = b;
    while (a > 0 && (high(a - 1) || (a > 1 && high(a - 2)))) a--;
    const stretch = { from: xs[Math.max(0, a - 1)], to: xs[Math.min(n - 1, b + 1)] };
    let deepest = 0;
    for (let i = a; i <= b; i++) deepest = Math.max(deepest, bite[i]);
    const count = Math.ceil((deepest - SLACK) / limits.stepDown) - 1;
    for (let k = 1; k <= count; k++) {
      const floor = (x: number): number => {
        const place = ((x - xs[0]) / (xs[n - 1] - xs[0])) * (n - 1);
        const i = Math.min(n - 2, Math.max(0, Math.floor(place)));
        return Math.max(0, Math.max(top[i], top[i + 1]) - k * limits.stepDown);
      };
      const nodes = spiralNodes(ctx, tool, contact, {
        range: stretch,
        walls,
        pitch: () => limits.stepOver,
        floor,
        start: nextTurn(0, ctx.at?.theta ?? 0),
      });
      const samples = sampleCourse(work, contact, bit, nodes, { chord: job.tolerance, guard: job.tolerance });
      const pass = follow(
        ctx,
        tool,
        samples,
        limits.feed,
        `layer ${k} of ${count}, x ${stretch.from.toFixed(0)} to ${stretch.to.toFixed(0)}${name}`,
        true,
      );
      if (pass) passes.push(pass);
    }
    b = a;
  }
  return passes;
}
