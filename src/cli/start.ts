/** `npm start`: the page, built if need be, served to this machine, and shown. */
import { join } from 'node:path';
import { Command, CommanderError, InvalidArgumentError } from 'commander';
import { DONE, FAULT, WRONG_INPUT } from './exit.ts';
import { hasScreen, openBrowser } from './open-browser.ts';
import { buildPage, isStale, readPage } from './page-files.ts';
import { serve } from './serve.ts';

/** The browser keeps documents per address, so the page comes back to the same port whenever it can. */
const HOME_PORT = 4173;
const NEIGHBOURS = 9;

function portOf(text: string): number {
  const port = Number(text);
  if (!/^\d+$/.test(text) || port > 65535) throw new InvalidArgumentError('a port is a whole number from 0 to 65535.');
  return port;
}

/** @param argv arguments after the command's name @param root of the project @returns exit code; while serving the process stays */
export async function start(argv: readonly string[], root: string): Promise<number> {
  const command = new Command('npm start --')
    .description('Serves the workshop page to this machine.')
    .option(
      '--port <PORT>',
      `port to serve on, 0 for any free one (default: ${HOME_PORT} or a free one after it)`,
      portOf,
    )
    .option('--no-open', 'do not open a browser')
    .exitOverride()
    .configureOutput({ outputError: (text, write) => write(text.replace(/^error: /, '')) });
  try {
    command.parse(argv, { from: 'user' });
  } catch (fault) {
    if (fault instanceof CommanderError) return fault.exitCode === 0 ? DONE : WRONG_INPUT;
    throw fault;
  }
  const { port, open } = command.opts<{ port?: number; open: boolean }>();
  if (isStale(root)) {
    process.stdout.write('Building the page, a few seconds…\n');
    await buildPage(root);
  }
  const near = Array.from({ length: NEIGHBOURS + 1 }, (_, i) => HOME_PORT + i);
  try {
    const served = await serve(readPage(join(root, 'dist')), port === undefined ? near : [port]);
    process.stdout.write(`Cavetto is at ${served.address} (Ctrl+C ends it)\n`);
    if (port === undefined && served.port !== HOME_PORT)
      process.stdout.write(
        `Port ${HOME_PORT} is taken; parts kept by the page at that port are not seen at this one.\n`,
      );
    if (open && hasScreen(process.env, process.platform)) openBrowser(served.address);
    return DONE;
  } catch (fault) {
    const { code, message } = fault as NodeJS.ErrnoException;
    if (code === undefined) throw fault;
    process.stderr.write(`The page cannot be served: ${message}\n`);
    return FAULT;
  }
}
