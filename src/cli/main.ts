/** The command line: arguments in, an exit code out. What a command does stands in its own file. */
import { Command, CommanderError, InvalidArgumentError } from 'commander';
import { VERSION } from '../build/version.ts';
import { batchCommand } from './batch-command.ts';
import { DONE, FAULT, WRONG_INPUT } from './exit.ts';
import { folderOf } from './folder.ts';

const AFTER_HELP = `
Exit codes: 0 done and proven, 1 internal fault, 2 the input is wrong, 3 refused by fit or proof.
Progress goes to stderr; NO_COLOR is obeyed; CAVETTO_DEBUG=1 shows where an internal fault came from.`;

/** A number of a pass as typed. */
function passNumber(text: string): number {
  if (!/^[1-9]\d{0,5}$/.test(text)) throw new InvalidArgumentError('a whole number from 1 on is wanted.');
  return Number(text);
}

/** @param argv arguments after the command's own name @returns the exit code */
export async function main(argv: readonly string[]): Promise<number> {
  let code = DONE;
  // A reader that has seen enough (a pager, `head`) is no fault of ours; the exit code still says how it ended.
  process.stdout.on('error', (fault: NodeJS.ErrnoException) => {
    if (fault.code !== 'EPIPE') throw fault;
  });
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
    .requiredOption('--out <DIR>', 'folder in which a folder for the part appears', folderOf)
    .option('--unproven', 'keep refused programs, named and marked as such')
    .option('--from-pass <K>', 'add a program that takes cutting up again at restart K', passNumber)
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
  common(program.command('match').argument('<PART.json>', 'part document as it was cut'))
    .description('find from caliper readings what was off, and correct the next part')
    .requiredOption(
      '--readings <FILE.csv>',
      'columns x, diameter and, where it matters, angle_deg; in the document’s units',
    )
    .option('--out <DIR>', 'also make the corrected document and its programs there', folderOf)
    .action(async (file: string, options) => {
      const { runMatch } = await import('./match.ts');
      code = await runMatch(file, options);
    });
  batchCommand(common(program.command('batch')), (exit) => {
    code = exit;
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
