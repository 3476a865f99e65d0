/** `make` and `check`: the whole pipeline on one part document, with and without files. */
import { join } from 'node:path';
import type { Problem } from '../../shared/problems.ts';
import { type BuildOptions, type Built, build } from '../build.ts';
import type { Part } from '../part.ts';
import { DONE, exitOf, WRONG_INPUT } from './exit.ts';
import { progressOn } from './progress.ts';
import { readPart } from './read-part.ts';
import {
  bySeverity,
  checkLines,
  findingLines,
  loadLines,
  loadsOf,
  problemLines,
  strengthLines,
  summaryLines,
  tally,
} from './show.ts';
import { solidThread } from './solid-thread.ts';
import { writeWhole } from './write-whole.ts';

export interface CommonOptions {
  readonly json?: boolean;
  readonly quiet?: boolean;
}
export interface MakeOptions extends CommonOptions {
  readonly out: string;
  readonly unproven?: boolean;
  readonly fromPass?: number;
}

/** Prints lines, if there are any. */
export const say = (stream: NodeJS.WriteStream, lines: readonly string[]): void => {
  if (lines.length) stream.write(`${lines.join('\n')}\n`);
};

/** Reads and builds, with progress. @returns the build, or what is wrong with the document */
async function buildFile(
  file: string,
  options: CommonOptions,
  how: BuildOptions,
): Promise<{ built: Built } | { problems: Problem[] }> {
  const read = readPart(file);
  if ('problems' in read) return read;
  return { built: await buildPart(read.part, options, how) };
}

/** Builds a part with progress on stderr. */
export async function buildPart(part: Part, options: CommonOptions, how: BuildOptions): Promise<Built> {
  const show = progressOn(process.stderr, options.quiet === true);
  try {
    return await build(part, {
      ...how,
      onProgress: (share, what) => {
        show.at(share, what);
        return true;
      },
    });
  } finally {
    show.done();
  }
}

/** What `--json` prints. */
function jsonOf(verdict: Built['verdict'], exit: number, problems: readonly Problem[], more: object = {}): string {
  return `${JSON.stringify({ verdict, exit, problems: bySeverity(problems), ...more }, null, 2)}\n`;
}

/** Says what is wrong with what was given. @returns the exit code */
export function wrongInput(problems: readonly Problem[], options: CommonOptions): number {
  if (options.json) process.stdout.write(jsonOf('invalid', WRONG_INPUT, problems));
  else say(process.stderr, problemLines(problems, process.stderr, false));
  return WRONG_INPUT;
}

/** @returns the exit code */
export async function runMake(file: string, options: MakeOptions): Promise<number> {
  const result = await buildFile(file, options, {
    solid: solidThread,
    unproven: options.unproven === true,
    ...(options.fromPass === undefined ? {} : { fromPass: options.fromPass }),
  });
  if ('problems' in result) return wrongInput(result.problems, options);
  return handOver(result.built, options);
}

/**
 * Writes the files of a build and says how it went.
 * @param beside files to be written with them; `told` goes into the JSON
 * @returns the exit code
 */
export function handOver(
  built: Built,
  options: MakeOptions,
  beside: ReadonlyMap<string, string> = new Map(),
  told: object = {},
): number {
  if (built.verdict === 'invalid') return wrongInput(built.problems, options);
  const exit = exitOf(built.verdict);
  const all = built.files.size ? new Map([...beside, ...built.files]) : built.files;
  const folder = join(options.out, built.slug);
  try {
    if (all.size) writeWhole(folder, all);
  } catch (fault) {
    const { code, message } = fault as NodeJS.ErrnoException;
    if (!code) throw fault;
    return wrongInput(
      [
        {
          code: 'unreadable',
          severity: 'refuse',
          path: '--out',
          message: `${folder} cannot be written (${code})`,
          allowed: message.includes('ENOSPC') ? 'a disk with room' : 'a folder that you may write to',
        },
      ],
      options,
    );
  }
  const files = [...all.keys()];
  if (options.json) {
    process.stdout.write(
      jsonOf(built.verdict, exit, built.problems, { ...told, folder, files, report: built.report ?? null }),
    );
    return exit;
  }
  const stream = exit === DONE ? process.stdout : process.stderr;
  if (exit !== DONE || !options.quiet) {
    say(stream, problemLines(built.problems, stream, true));
    say(stream, findingLines(built.proof?.findings ?? [], stream));
  }
  if (!options.quiet) say(process.stdout, summaryLines(built, process.stdout));
  if (files.length && !options.quiet)
    say(process.stdout, [`files     ${folder}`, ...files.map((f) => `          ${f}`)]);
  return exit;
}

/** @returns the exit code */
export async function runCheck(file: string, options: CommonOptions): Promise<number> {
  const result = await buildFile(file, options, { solid: 'none' });
  if ('problems' in result) return wrongInput(result.problems, options);
  const { built } = result;
  if (built.verdict === 'invalid') return wrongInput(built.problems, options);
  const exit = exitOf(built.verdict);
  if (options.json) {
    process.stdout.write(
      jsonOf(built.verdict, exit, built.problems, {
        report: built.report ?? null,
        strength: built.strength ?? null,
        loads: loadsOf(built),
      }),
    );
    return exit;
  }
  const lines = [
    ...checkLines(built.problems, process.stdout),
    ...findingLines(built.proof?.findings ?? [], process.stdout),
  ];
  say(process.stdout, lines);
  if (!options.quiet) {
    const against = tally(built.problems);
    if (against) say(process.stdout, [`against   ${against}`]);
    say(process.stdout, summaryLines(built, process.stdout));
    say(process.stdout, strengthLines(built));
    say(process.stdout, loadLines(built));
  }
  return exit;
}
