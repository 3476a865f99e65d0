/** `batch`: a product line from one part document and a table of its variants. */
import { mkdirSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import type { Problem } from '../../shared/problems.ts';
import { reasonsOf } from '../batch/goods/index-page.ts';
import type { Variant } from '../batch/line.ts';
import { stickVariant } from '../batch/order-lists.ts';
import type { LineSticks } from '../batch/stick-line.ts';
import type { Part } from '../part.ts';
import { type BatchOptions, readInput, unreadable } from './batch-input.ts';
import { keyOf, programHash } from './batch-key.ts';
import { dropLists, writeLists } from './batch-lists.ts';
import { makeAll, type Run } from './batch-run.ts';
import { faultLines, timeLines, variantLines } from './batch-show.ts';
import { leftLines, stickLines } from './batch-sticks.ts';
import { type Kept, keptVariant, sweepUnfinished, takeOver } from './batch-store.ts';
import { DONE, FAULT, REFUSED, WRONG_INPUT } from './exit.ts';
import type { CommonOptions } from './make.ts';
import { progressOn } from './progress.ts';
import { problemLines } from './show.ts';

const write = (stream: NodeJS.WriteStream, lines: readonly string[]): void => {
  if (lines.length) stream.write(`${lines.join('\n')}\n`);
};
const cannotWrite = (out: string, code: string): Problem =>
  unreadable(
    '--out',
    `${out} cannot be written (${code})`,
    code === 'ENOSPC' ? 'a disk with room' : 'a folder that you may write to',
  );

function wrongInput(problems: readonly Problem[], options: CommonOptions): number {
  if (options.json)
    process.stdout.write(`${JSON.stringify({ verdict: 'invalid', exit: WRONG_INPUT, problems }, null, 2)}\n`);
  else write(process.stderr, problemLines(problems, process.stderr, false));
  return WRONG_INPUT;
}

/** What a run leaves, for telling. */
interface Outcome {
  readonly wanted: number;
  readonly done: readonly Kept[];
  readonly faults: readonly { variant: Variant; message: string }[];
  readonly files: readonly string[];
  readonly run: Run;
  readonly exit: number;
}

function tellJson(out: string, { wanted, done, faults, files, run, exit }: Outcome): void {
  const variants = done.map(({ made }) => ({
    name: made.variant.name,
    slug: made.variant.slug,
    row: made.variant.row,
    quantity: made.variant.quantity,
    verdict: made.verdict,
    seconds: made.seconds,
    reasons: reasonsOf(made),
  }));
  const told = faults.map((f) => ({ name: f.variant.name, row: f.variant.row, message: f.message }));
  const all = { exit, out, variants, faults: told, missing: wanted - done.length, run: run.figures, files };
  process.stdout.write(`${JSON.stringify(all, null, 2)}\n`);
}

function tellText(options: BatchOptions, { wanted, done, faults, files, run }: Outcome): void {
  const unproven = done.map((k) => k.made).filter((m) => m.verdict !== 'proven');
  write(process.stderr, faultLines(unproven, faults, process.stderr));
  if (!options.quiet) {
    write(process.stdout, variantLines(done.map((k) => k.made)));
    write(process.stdout, timeLines(wanted, done, run.figures));
    const { shard, out } = options;
    if (shard)
      write(process.stdout, [
        `shard     ${shard.part} of ${shard.of}; --merge puts the folders of all of them together`,
      ]);
    write(process.stdout, [`files     ${out}`, ...files.map((f) => `          ${f}`)]);
  }
  if (run.signal !== undefined)
    write(process.stderr, [
      `stopped: ${done.length} of ${wanted} are made and kept; the same command goes on from there`,
    ]);
}

/** Takes over what stands, makes what is missing, writes the line's own files. @throws Error of the file system */
async function runLine(
  part: Part,
  variants: readonly Variant[],
  sticks: LineSticks | undefined,
  options: BatchOptions,
): Promise<Outcome | Problem> {
  const { out, merge = [] } = options;
  const program = programHash();
  const keys = variants.map((v) => keyOf(v.part, program));
  mkdirSync(out, { recursive: true });
  sweepUnfinished(out, true);
  const kept: (Kept | undefined)[] = variants.map((v, i) => {
    const here = keptVariant(out, v, keys[i]!);
    if (here || !merge.some((from) => takeOver(out, from, v, keys[i]!))) return here;
    return keptVariant(out, v, keys[i]!);
  });
  const missing = variants.flatMap((variant, index) => (kept[index] ? [] : [{ index, variant, key: keys[index]! }]));
  if (missing.length && !options.shard) dropLists(out);
  const run = await makeAll(missing, {
    out,
    workers: options.workers ?? availableParallelism(),
    progress: progressOn(process.stderr, options.quiet === true),
    onMade: (index, seconds) => {
      kept[index] = keptVariant(out, variants[index]!, keys[index]!, seconds);
      return kept[index] !== undefined;
    },
  });
  if (run.folderFault) return cannotWrite(out, run.folderFault);
  const done = kept.filter((k) => k !== undefined);
  const unproven = done.some((k) => k.made.verdict !== 'proven') || sticks?.left.length;
  return {
    wanted: variants.length,
    done,
    faults: run.faults.map((f) => ({ variant: variants[f.index]!, message: f.message })),
    // A shard has no lists of its own; a run that was stopped has none yet.
    files: options.shard || run.signal !== undefined ? [] : writeLists(out, part, done, variants.length, sticks),
    run,
    exit: run.signal ?? (run.faults.length ? FAULT : unproven ? REFUSED : DONE),
  };
}

/** @returns the exit code */
export async function runBatch(file: string, options: BatchOptions): Promise<number> {
  const input = readInput(file, options);
  if ('problems' in input) return wrongInput(input.problems, options);
  if (!options.quiet) write(process.stderr, input.said);
  const { shard } = options;
  const { sticks } = input;
  if (sticks) {
    write(process.stderr, leftLines(sticks));
    if (!options.quiet) write(process.stderr, stickLines(sticks));
  }
  // Sticks are rows of the line as its variants are: made, proven and kept alike.
  const rows = [...input.variants, ...(sticks?.sticks ?? []).map((s, k) => stickVariant(s, k + 1))];
  const variants = shard ? rows.filter((_, i) => i % shard.of === shard.part - 1) : rows;
  try {
    const outcome = await runLine(input.part, variants, sticks, options);
    if ('severity' in outcome) return wrongInput([outcome], options);
    if (options.json) tellJson(options.out, outcome);
    else tellText(options, outcome);
    return outcome.exit;
  } catch (fault) {
    const { code } = fault as NodeJS.ErrnoException;
    if (!code) throw fault;
    return wrongInput([cannotWrite(options.out, code)], options);
  }
}
