/** Resolves the carvings of a design: where each lies, what it turns, cuts or drills. */
import type { Problem, ProblemCode } from '../../shared/problems.ts';
import { SAME_X } from '../../shared/tolerances.ts';
import type { Cutter, Ground } from './carving.ts';
import { type Carving, carvingKind } from './carvings/registry.ts';
import type { Break, Hole } from './field.ts';
import type { PlacedElement } from './layout.ts';
import type { TurnedOutline } from './outline.ts';
import { type Reach, reachBreaks } from './reach.ts';

export interface Carved {
  /** In the order of the document, with the index of the carving each belongs to. */
  cutters: { index: number; cutter: Cutter }[];
  holes: Hole[];
  breaks: Break[];
  /** Sum of all twists, radians. */
  twist(x: number): number;
  problems: Problem[];
}

const round = (mm: number) => String(Math.round(mm * 1000) / 1000);

/** Where a carving lies. @param outlineBounds of the turned outline inside a range @returns its reach, or what is wrong with it */
export function reachOf(
  c: Carving,
  outline: TurnedOutline,
  girth: number,
  outlineBounds: (x0: number, x1: number) => [number, number],
): Reach | { at: string; message: string; allowed: string } {
  const { placed, length } = outline;
  const snap = (x: number) =>
    [0, length, ...placed.map((p) => p.to)].find((joint) => Math.abs(joint - x) <= SAME_X) ?? x;
  let from = c.from ?? 0;
  let to = c.to ?? length;
  if (c.over) {
    const [first, last] = c.over;
    if (c.from !== undefined || c.to !== undefined)
      return { at: 'over', message: 'a carving lies over elements or from–to, not both', allowed: 'leave one out' };
    if (last < first || last >= placed.length)
      return {
        at: 'over',
        message: `there are no elements ${first} to ${last}`,
        allowed: `0 to ${placed.length - 1}, the smaller first`,
      };
    from = placed[first]!.from + (c.inset ?? 0);
    to = placed[last]!.to - (c.inset ?? 0);
  }
  from = snap(from);
  to = snap(to);
  const within = `0 to ${round(length)}`;
  if (from < 0)
    return { at: c.over ? 'inset' : 'from', message: `starts at ${round(from)} mm, before the form`, allowed: within };
  if (to > length)
    return { at: c.over ? 'inset' : 'to', message: `ends at ${round(to)} mm, beyond the form`, allowed: within };
  if (!(to - from > SAME_X))
    return {
      at: c.over ? 'inset' : 'to',
      message: `from ${round(from)} to ${round(to)} mm is nothing`,
      allowed: 'an end beyond its start',
    };
  const natural = carvingKind(c.carving).runOut?.(c, girth, outlineBounds(from, to)[1]);
  if (natural === undefined) return { from, to, chuckEnd: 'square', tailEnd: 'square', run: 0 };
  const ending = c as { ends?: Reach['chuckEnd']; tailEnd?: Reach['tailEnd']; run?: number };
  const chuckEnd = ending.ends ?? 'round';
  return {
    from,
    to,
    chuckEnd,
    tailEnd: ending.tailEnd ?? chuckEnd,
    run: Math.min(ending.run ?? natural, (to - from) / 2),
  };
}

/** @param outlineBounds bounds of the turned outline strictly inside a range */
export function carve(
  carvings: readonly Carving[],
  outline: TurnedOutline,
  girth: number,
  outlineBounds: (x0: number, x1: number) => [number, number],
): Carved {
  const problems: Problem[] = [];
  const wrong = (code: ProblemCode, index: number, at: string, message: string, allowed: string | undefined) =>
    problems.push({
      code,
      severity: 'refuse',
      path: `carvings[${index}]${at && `.${at}`}`,
      message,
      ...(allowed === undefined ? {} : { allowed }),
    });
  const reaches = carvings.map((c, index) => {
    const reach = reachOf(c, outline, girth, outlineBounds);
    if (!('at' in reach)) return reach;
    wrong('carving-range', index, reach.at, reach.message, reach.allowed);
    return undefined;
  });
  const breaks: Break[] = [];
  const twists: ((x: number) => number)[] = [];
  carvings.forEach((c, index) => {
    const reach = reaches[index];
    const kind = carvingKind(c.carving);
    if (!reach || !kind.turns) return;
    twists.push(kind.turns(c, reach));
    breaks.push(...(kind.bends?.(c, reach) ?? []));
  });
  const twist =
    twists.length === 0
      ? () => 0
      : twists.length === 1
        ? twists[0]!
        : (x: number) => twists.reduce((sum, turning) => sum + turning(x), 0);
  const ground: Ground = { outline: outline.radius, twist, girth, length: outline.length, outlineBounds };
  const cutters: Carved['cutters'] = [];
  const holes: Hole[] = [];
  carvings.forEach((c, index) => {
    const reach = reaches[index];
    const kind = carvingKind(c.carving);
    if (!reach) return;
    if (kind.cuts) {
      const on = outline.placed.find((p) => p.outline.kept && p.from < reach.to && p.to > reach.from);
      if (on) {
        wrong(
          'carving-range',
          index,
          '',
          `lies on the pommel form[${on.index}], which keeps the blank’s section`,
          beside(on),
        );
        return;
      }
      const cutter = kind.cuts(c, reach, ground);
      if ('message' in cutter) wrong('carving-too-deep', index, cutter.at, cutter.message, cutter.allowed);
      else {
        cutters.push({ index, cutter });
        breaks.push(...reachBreaks(reach));
      }
    }
    if (kind.drills) {
      const drilled = kind.drills(c, reach, ground);
      if ('message' in drilled) wrong('carving-too-deep', index, drilled.at, drilled.message, drilled.allowed);
      else holes.push(...drilled);
    }
  });
  // A twist of nothing angular bends nothing.
  return { cutters, holes, breaks: cutters.length ? breaks : [], twist, problems };
}

const beside = (p: PlacedElement) => `up to ${round(p.from)} or from ${round(p.to)}`;
