/** The command line: arguments in, an exit code out. What a command does stands in its own file. */
import { Command, CommanderError, InvalidArgumentError, Option } from 'commander';
import { VERSION } from '../build/version.ts';
import { DONE, FAULT, WRONG_INPUT } from './exit.ts';

const AFTER_HELP = `
Exit codes: 0 done and proven, 1 internal fault, 2 the input is wrong, 3 refused by fit or proof.
Progress goes to stderr; NO_COLOR is obeyed; CAVETTO_DEBUG=1 shows where an internal fault came from.`;

const LARGEST_COUNT = 10_000;

function workersOf(text: string): number {
  const count = Number(text);
  if (!/^\d+$/.test(text) || count < 1 || count > LARGEST_COUNT)
    throw new InvalidArgumentError(`workers are a whole number from 1 to ${LARGEST_COUNT}.`);
  return count;
}

function shardOf(text: string): { part: number; of: number } {
  const [part, of] = (/^(\d+)\/(\d+)$/.exec(text)?.slice(1) ?? []).map(Number);
  if (part === undefined || of === undefined || part < 1 || part > of || of > LARGEST_COUNT)
    throw new InvalidArgumentError('a shard is such as 2/4: the second of four.');
  return { part, of };
}

/** @param argv arguments after the command's own name @returns the exit code */
export async function main(argv: readonly string[]): Promise<number> {
  let code = DONE;
  const common = (command: Command): Command =>
    command
      .option('--json', 'one JSON object on stdout instead of text')
      .option('--quiet', 'no progress, and nothing on stdout but what was asked for');
  const program = new Command('cavetto')
    .description('Turned-and-carved parts on a router with a rotary axis: solid, plan, proof, programs, sheet, price.')
    .version(VERSION, '--version', 'print the version')
    .helpOption('--help', 'print this help')
    .helpCommand(false)
    .addHelpText('after', AFTER_HELP)
    .exitOverride()
    .configureOutput({ outputError: (text, write) => write(text.replace(/^error: /, '')) });
  common(program.command('make').argument('<PART.json>', 'part document'))
    .description('make solid, programs, setup sheet and report; exit 0 only if every program is proven')
    .requiredOption('--out <DIR>', 'folder in which a folder for the part appears')
    .option('--unproven', 'keep refused programs, named and marked as such')
    .action(async (file: string, options) => {
      // Loaded when asked for: help and templates need none of it.
      const { runMake } = await import('./make.ts');
      code = await runMake(file, options);
    });
  common(program.command('check').argument('<PART.json>', 'part document'))
    .description('check fit, loads, strength and proof without writing anything')
    .action(async (file: string, options) => {
      const { runCheck } = await import('./make.ts');
      code = await runCheck(file, options);
    });
  common(program.command('batch').argument('<PART.json>', 'part document'))
    .description('make a product line: every variant of a table, in parallel; goes on where an earlier run was stopped')
    .requiredOption('--table <ROWS.csv>', 'one variant a row: name, quantity, knobs or places of the document')
    .requiredOption('--out <DIR>', 'folder in which the line appears')
    .option('--workers <N>', 'how many variants are made at a time (default: one for each processor)', workersOf)
    .option('--shard <I/N>', 'make only the I-th of N equal parts of the table', shardOf)
    .option('--merge <DIR...>', 'take over what stands unchanged in these folders, from shards or earlier runs')
    .option('--bench <ID>', 'bench of the catalog, in place of the document’s')
    .addOption(
      new Option('--separator <WORD>', 'what separates the table’s columns').choices(['comma', 'semicolon', 'tab']),
    )
    .addOption(new Option('--decimal <WORD>', 'the decimal mark of the table’s numbers').choices(['point', 'comma']))
    .action(async (file: string, options) => {
      const { runBatch } = await import('./batch.ts');
      code = await runBatch(file, options);
    });
  common(program.command('templates').argument('[NAME]', 'print this one'))
    .description('list the part documents to start from, or print one')
    .action(async (name: string | undefined, options) => {
      const { runTemplates } = await import('./list.ts');
      code = runTemplates(name, options);
    });
  for (const command of program.commands)
    command.exitOverride().configureOutput({ outputError: (text, write) => write(text.replace(/^error: /, '')) });
  try {
    await program.parseAsync(argv, { from: 'user' });
    return code;
  } catch (fault) {
    if (fault instanceof CommanderError) return fault.exitCode === 0 ? DONE : WRONG_INPUT;
    const message = fault instanceof Error ? fault.message : String(fault);
    process.stderr.write(`internal fault: ${message.split('\n')[0]} (CAVETTO_DEBUG=1 shows where)\n`);
    if (process.env.CAVETTO_DEBUG && fault instanceof Error) process.stderr.write(`${fault.stack}\n`);
    return FAULT;
  }
}
