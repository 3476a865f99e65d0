/** The arguments of `batch`. */
import { type Command, InvalidArgumentError, Option } from 'commander';
import type { BatchOptions, Shard } from './batch-input.ts';
import { mostOf, stockOf } from './batch-sticks.ts';
import { folderOf } from './folder.ts';

const LARGEST_COUNT = 10_000;

function workersOf(text: string): number {
  const count = Number(text);
  if (!/^\d+$/.test(text) || count < 1 || count > LARGEST_COUNT)
    throw new InvalidArgumentError(`workers are a whole number from 1 to ${LARGEST_COUNT}.`);
  return count;
}

function shardOf(text: string): Shard {
  const [part, of] = (/^(\d+)\/(\d+)$/.exec(text)?.slice(1) ?? []).map(Number);
  if (part === undefined || of === undefined || part < 1 || part > of || of > LARGEST_COUNT)
    throw new InvalidArgumentError('a shard is such as 2/4: the second of four.');
  return { part, of };
}

/** @param command `batch`, its common options already on it @param onEnd gets the exit code */
export function batchCommand(command: Command, onEnd: (code: number) => void): Command {
  return command
    .argument('<PART.json>', 'part document')
    .description('make a product line: every variant of a table, in parallel; goes on where an earlier run was stopped')
    .requiredOption('--table <ROWS.csv>', 'one variant a row: name, quantity, knobs or places of the document')
    .requiredOption('--out <DIR>', 'folder in which the line appears', folderOf)
    .option('--workers <N>', 'how many variants are made at a time (default: one for each processor)', workersOf)
    .option('--shard <I/N>', 'make only the I-th of N equal parts of the table', shardOf)
    .option('--merge <DIR...>', 'take over what stands unchanged in these folders, from shards or earlier runs')
    .option(
      '--stock <LENGTH...>',
      'several pieces on one stick: lengths of stock in mm, 1200x4 for four of them',
      stockOf,
    )
    .option('--rack <ROWS.csv>', 'the same from a table: name, length, quantity, material, section')
    .option('--most <N>', 'pieces on one stick at the most', mostOf)
    .option('--bench <ID>', 'bench of the catalog, in place of the document’s')
    .addOption(
      new Option('--separator <WORD>', 'what separates the table’s columns').choices(['comma', 'semicolon', 'tab']),
    )
    .addOption(new Option('--decimal <WORD>', 'the decimal mark of the table’s numbers').choices(['point', 'comma']))
    .action(async (file: string, options: BatchOptions) => {
      const { runBatch } = await import('./batch.ts');
      onEnd(await runBatch(file, options));
    });
}
