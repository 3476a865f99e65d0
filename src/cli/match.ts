/** `match`: caliper readings of a finished part → what was off, and the next part corrected. */
import { believedMatch } from '../build/believed.ts';
import { causesTold, matchedPart } from '../build/matched.ts';
import { slugOf } from '../build/slug.ts';
import type { Match } from '../cam/match.ts';
import { readReadings } from '../part/readings.ts';
import { writePart } from '../part.ts';
import { resolvePart } from '../resolve.ts';
import { DONE } from './exit.ts';
import { buildPart, type CommonOptions, handOver, say, wrongInput } from './make.ts';
import { readPart, readText } from './read-part.ts';
import { solidThread } from './solid-thread.ts';

export interface MatchOptions extends CommonOptions {
  readonly readings: string;
  readonly out?: string;
}

/** @returns the exit code */
export async function runMatch(file: string, options: MatchOptions): Promise<number> {
  const read = readPart(file);
  if ('problems' in read) return wrongInput(read.problems, options);
  const { part } = read;
  const { job, problems } = resolvePart(part);
  if (!job) return wrongInput(problems, options);
  const table = readText(options.readings, 'table of readings');
  if ('problems' in table) return wrongInput(table.problems, options);
  const found = readReadings(table.text, part.units === 'inch', job.field.length);
  if ('problems' in found)
    return wrongInput(
      found.problems.map((p) => ({ ...p, path: `${options.readings}, ${p.path}` })),
      options,
    );
  const believed = believedMatch(part, job, found.readings);
  if ('problem' in believed) return wrongInput([{ ...believed.problem, path: options.readings }], options);
  const { match } = believed;
  const causes = causesTold(match, job.control.radial.letter);
  if (!options.json) say(process.stdout, [...(options.quiet ? [] : rowLines(match)), ...causes]);
  const told = { match: { ...match, told: causes } };
  if (!options.out) {
    if (options.json) process.stdout.write(`${JSON.stringify({ exit: DONE, problems: [], ...told }, null, 2)}\n`);
    return DONE;
  }
  const corrected = matchedPart(part, job, match);
  const built = await buildPart(corrected, options, { solid: solidThread });
  const beside = new Map([[`${slugOf(part.name)}.matched.part.json`, writePart(corrected)]]);
  return handOver(built, { ...options, out: options.out }, beside, told);
}

/** The readings beside what was wanted and what is explained, mm across. */
function rowLines(match: Match): string[] {
  const n = (v: number, signed = true) => `${signed && v > 0 ? '+' : ''}${v.toFixed(2)}`.padStart(9);
  return [
    '        x   wanted measured      off explained  left over',
    ...match.rows.map((r) =>
      [
        n(r.x, false),
        n(r.wanted, false),
        n(r.diameter, false),
        n(r.diameter - r.wanted),
        n(r.explained),
        `${n(r.residual)}${r.odd ? '   odd: measure again, it was left out' : ''}`,
      ].join(''),
    ),
    `off by ${match.before.toFixed(3)} mm across on average, ${match.after.toFixed(3)} mm once corrected`,
  ];
}
