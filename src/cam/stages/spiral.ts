/** The corners of a spiral along the work: what finishing and its layers before it share. */
import { radians, TURN } from '../../../shared/units.ts';
import type { Heights } from '../contact-heights.ts';
import type { Node } from '../course.ts';
import type { Tool } from '../job.ts';
import { ASIDE, floorAt, type Wall } from '../walls.ts';
import type { Span } from '../work.ts';
import type { StageContext } from './context.ts';

/** Height kept above a wall's top while the tip crosses it, mm, and how far the work turns meanwhile, radians. */
const OVER_WALL = 0.03;
const CROSS = radians(3);
const CLIMB = radians(12);

/** What a spiral is made of. */
export interface Winding {
  /** Tip positions, mm: wound from `to` down to `from`. */
  readonly range: Span;
  readonly walls: readonly Wall[];
  /** Advance a turn at x, mm. */
  pitch(x: number): number;
  /** Height at x that the tip does not go below, mm; 0 where only the work binds. */
  floor(x: number): number;
  /** Height at x above which the bit meets no wood, mm; left out where the floor never changes by more than a bite. */
  air?(x: number): number;
  /** Angle to start at, radians. */
  readonly start: number;
}

/** Places between two turns at which the floor is looked at: wood that stands upright fits between their ends. */
const BETWEEN = 6;
/** Share of a step-down that the tip may come down from one of these to the next without going round: a gentle ramp. */
const GENTLE = 1 / 4;

/**
 * From the larger x to the smaller: a ramp in that is no steeper than the bit may, a full ring at both ends and on both
 * sides of every wall, the pitch between; θ grows throughout. At a wall the tip climbs, or comes down beside it by at most
 * a step-down each turn; so it does where the floor changes by more than a bite from one turn to the next.
 * @returns nodes of the course, θ strictly growing
 */
export function spiralNodes(ctx: StageContext, tool: Tool, contact: Heights, winding: Winding): Node[] {
  const { work, wood } = ctx;
  const { bit, limits } = tool;
  const { range, pitch } = winding;
  const nodes: Node[] = [];
  let theta = winding.start;
  let x = range.to;
  const to = (angle: number, place: number, floor = winding.floor(place)) => {
    theta += angle;
    x = place;
    nodes.push({ theta, x, floor });
  };
  const steepest = Math.tan(radians(limits.rampAngle_deg));
  /** What the tip stands on at a place: the floor, or the work where that is higher. */
  const standsAt = (place: number) => Math.max(winding.floor(place), floorAt(work, contact, bit, place)[0], 0);
  const descend = (from: number, place: number) => {
    const low = standsAt(place);
    const drop = from - low;
    if (drop <= 0) return;
    const turns = Math.max(drop / limits.stepDown, drop / steepest / (TURN * Math.max(1, low)));
    to(turns * TURN, place, low);
  };
  /** Past the side of wood that stands upright: on at the higher level, up or down in the clear before or after it. */
  const stepOver = (angle: number, place: number, here: number, there: number, air: number) => {
    const most = Math.max(here, there);
    if (here < most) {
      to(TURN, x);
      to(CLIMB, x, most);
    }
    to(angle, place, most);
    if (there >= most) return;
    const clear = Math.min(most, air);
    if (clear < most) to(CLIMB, place, clear);
    descend(clear, place);
    to(TURN, place);
  };
  /** On to a place by `angle`, along the floor as long as it changes by no more than a bite. */
  const goOn = (angle: number, place: number) => {
    const { air } = winding;
    if (!air) return to(angle, place);
    const start = x;
    const places = Array.from({ length: BETWEEN }, (_, k) => start + ((place - start) * (k + 1)) / BETWEEN);
    const even = (heights: readonly number[]) => Math.max(...heights) - Math.min(...heights) <= limits.stepDown;
    // The work's own slopes are followed as they are: only where the floor itself changes does the work count too.
    if (even([start, ...places].map((p) => winding.floor(p)))) return to(angle, place);
    const levels = [start, ...places].map(standsAt);
    if (even(levels)) return to(angle, place);
    for (const [k, next] of places.entries()) {
      const [here, there] = [levels[k]!, levels[k + 1]!];
      const most = there > here ? limits.stepDown : GENTLE * limits.stepDown;
      if (Math.abs(there - here) <= most) to(angle / BETWEEN, next);
      else stepOver(angle / BETWEEN, next, here, there, air(next));
    }
  };
  let top = 0;
  for (let k = 0; k < 36; k++) top = Math.max(top, wood.lowest(bit, x, winding.start + (k * TURN) / 36));
  to(0, x, top);
  descend(top, x);
  to(CROSS, x);
  to(TURN, x);
  const stops = [...winding.walls].filter((w) => w.x > range.from && w.x < range.to).reverse();
  for (let k = 0; k <= stops.length; k++) {
    const wall = stops[k];
    const stop = wall ? wall.x + (wall.below === 'level' ? 0 : ASIDE) : range.from;
    while (x > stop + 1e-9) {
      let p = pitch(x);
      p = Math.min(p, pitch(Math.max(stop, x - p)));
      // No sliver of a turn at the end: the last two share what is left.
      if (x - stop < 2 * p && x - stop > p) p = (x - stop) / 2;
      if (x - p <= stop + 1e-9) goOn((TURN * (x - stop)) / p, stop);
      else goOn(TURN, x - p);
    }
    to(TURN, stop);
    if (!wall) break;
    if (wall.below === 'level') continue;
    const beyond = wall.x - ASIDE;
    const here = Math.max(floorAt(work, contact, bit, stop)[1], winding.floor(stop));
    const there = Math.max(floorAt(work, contact, bit, beyond)[1], winding.floor(beyond));
    const over = Math.max(here, there) + OVER_WALL;
    to(there > here ? CLIMB : CROSS, stop, over);
    to(CROSS, beyond, over);
    if (wall.below === 'lower') descend(over, beyond);
    to(CROSS, beyond);
    to(TURN, beyond);
  }
  return nodes;
}
