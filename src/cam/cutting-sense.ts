/**
 * How a pass cuts: along the grain or across it, climbing or conventional. The grain runs along the axis, the spindle turns
 * clockwise seen from above (M3), and the rotary only ever turns on (θ grows), so wood still to be cut lies at larger θ for
 * strokes along x, and where x is heading for turns around. Facing the way of the bit, wood on its right is climbed into:
 * there the tooth enters where the chip is thick. Looking down on the bit with +x to the right, larger θ lies toward −y;
 * so a stroke toward +x climbs, and so does a spiral toward −x.
 */
import type { Tool } from './job.ts';
import { CUT, type Pass } from './path.ts';

/** Shares 0…1 of the way that a set of passes goes in wood at feed. */
export interface Sense {
  /** Along the grain; the rest goes round, across it. */
  readonly along: number;
  /** Climbing; of the rest, what goes straight round or straight down is neither. */
  readonly climb: number;
  readonly conventional: number;
}

/** @param passes of one bit or one stage @returns undefined where nothing is cut */
export function senseOf(passes: readonly Pass[]): Sense | undefined {
  let whole = 0;
  let along = 0;
  let climb = 0;
  let conventional = 0;
  for (const { moves } of passes)
    for (let i = 1; i < moves.count; i++) {
      if (moves.kind[i] !== CUT) continue;
      const dx = moves.x[i]! - moves.x[i - 1]!;
      const round = ((moves.r[i]! + moves.r[i - 1]!) / 2) * (moves.theta[i]! - moves.theta[i - 1]!);
      const way = Math.hypot(dx, round);
      if (!(way > 0)) continue;
      whole += way;
      const lengthwise = Math.abs(dx) > Math.abs(round);
      if (lengthwise) along += way;
      if (dx === 0) continue;
      if (dx > 0 === lengthwise) climb += way;
      else conventional += way;
    }
  return whole > 0 ? { along: along / whole, climb: climb / whole, conventional: conventional / whole } : undefined;
}

const percent = (share: number): string => `${Math.round(100 * share)} %`;

/** One plain sentence on how a bit's passes cut. @param what the stage's name */
export function senseSentence(what: string, sense: Sense): string {
  const grain =
    sense.along > 0.9
      ? 'along the grain'
      : sense.along < 0.1
        ? 'across the grain, where wood is likelier to tear: keep the bit sharp'
        : `${percent(sense.along)} along the grain, the rest across it`;
  const way =
    sense.climb > 0.9
      ? 'climbing'
      : sense.conventional > 0.9
        ? 'conventional'
        : sense.climb + sense.conventional < 0.1
          ? 'straight round'
          : `${percent(sense.climb)} climbing, ${percent(sense.conventional)} conventional`;
  return `${what} goes ${grain}; ${way} with a spindle that turns clockwise from above.`;
}

/** A sentence for each stage of a bit, in the order of cutting. */
export function senseSentences(tool: Tool, programs: readonly { tool: Tool; passes: readonly Pass[] }[]): string[] {
  const passes = programs.filter((p) => p.tool.bit === tool.bit).flatMap((p) => p.passes);
  return [...new Set(passes.map((p) => p.stage))].flatMap((stage) => {
    const sense = senseOf(passes.filter((p) => p.stage === stage));
    return sense ? [senseSentence(stage.charAt(0).toUpperCase() + stage.slice(1), sense)] : [];
  });
}
