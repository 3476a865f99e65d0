/** `batch`: a product line from one part document and a table of its variants. */
import { existsSync, mkdirSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { benches } from '../../shared/catalog.ts';
import type { Problem } from '../../shared/problems.ts';
import { reasonsOf } from '../batch/goods/index-page.ts';
import type { Variant } from '../batch/line.ts';
import type { Decimal } from '../batch/line-numbers.ts';
import { readLine } from '../batch/line-table.ts';
import type { Separator } from '../batch/line-text.ts';
import { stickVariant } from '../batch/order-lists.ts';
import { type LineSticks, type RackLength, sticksOf } from '../batch/stick-line.ts';
import { type Part, writePart } from '../part.ts';
import { keyOf, programHash } from './batch-key.ts';
import { dropLists, writeLists } from './batch-lists.ts';
import { makeAll, type Run } from './batch-run.ts';
import { faultLines, timeLines, variantLines } from './batch-show.ts';
import { leftLines, stickLines } from './batch-sticks.ts';
import { inTheWay, type Kept, keptVariant, sweepUnfinished, takeOver } from './batch-store.ts';
import { DONE, FAULT, REFUSED, WRONG_INPUT } from './exit.ts';
import type { CommonOptions } from './make.ts';
import { progressOn } from './progress.ts';
import { readPart } from './read-part.ts';
import { readTable } from './read-table.ts';
import { problemLines } from './show.ts';

/** One of n equal parts of a table. */
export interface Shard {
  readonly part: number;
  readonly of: number;
}

export interface BatchOptions extends CommonOptions {
  readonly table: string;
  readonly out: string;
  readonly workers?: number;
  readonly shard?: Shard;
  readonly merge?: readonly string[];
  readonly bench?: string;
  /** Lengths of stock onto which pieces are nested; left out, every piece has a blank of its own. */
  readonly stock?: readonly RackLength[];
  readonly most?: number;
  readonly separator?: Separator;
  readonly decimal?: Decimal;
}

const write = (stream: NodeJS.WriteStream, lines: readonly string[]): void => {
  if (lines.length) stream.write(`${lines.join('\n')}\n`);
};
const unreadable = (path: string, message: string, allowed: string): Problem => ({
  code: 'unreadable',
  severity: 'refuse',
  path,
  message,
  allowed,
});

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

/** The part and the variants that this run is about, or what is wrong before anything is made. */
function readInput(
  file: string,
  options: BatchOptions,
): { part: Part; variants: Variant[]; sticks?: LineSticks; said: string[] } | { problems: readonly Problem[] } {
  const read = readPart(file);
  if ('problems' in read) return read;
  const { part } = read;
  if (options.bench !== undefined && !benches.some((b) => b.id === options.bench))
    return {
      problems: [
        unreadable('--bench', `no bench is called "${options.bench}"`, `one of ${benches.map((b) => b.id).join(', ')}`),
      ],
    };
  const written = JSON.parse(writePart(part)) as object;
  const raw = options.bench === undefined ? written : { ...written, bench: options.bench };
  const table = readTable(options.table);
  if ('problem' in table) return { problems: [table.problem] };
  const { separator, decimal } = options;
  const line = readLine(raw, table.text, { ...(separator ? { separator } : {}), ...(decimal ? { decimal } : {}) });
  if ('problems' in line)
    return {
      problems: line.problems.map((p) =>
        p.path.startsWith('line ') ? { ...p, path: `${options.table}: ${p.path}` } : p,
      ),
    };
  for (const folder of options.merge ?? [])
    if (!existsSync(folder))
      return { problems: [unreadable('--merge', `there is no folder ${folder}`, 'output folders of other runs')] };
  const { stock: rack, most } = options;
  const sticks = rack && sticksOf(line.variants, { rack, ...(most === undefined ? {} : { most }) });
  const way = inTheWay(
    options.out,
    [...line.variants, ...(sticks?.sticks ?? [])].map((v) => v.slug),
  );
  return way ? { problems: [way] } : { part, ...line, ...(sticks ? { sticks } : {}) };
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
  if (!options.quiet)
    write(
      process.stderr,
      input.said.map((s) => `${options.table}: ${s}`),
    );
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
