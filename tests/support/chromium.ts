/** Finds a Chromium on this machine, or gets one. */
import { execFileSync } from 'node:child_process';
import { accessSync, constants, existsSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { chromium } from 'playwright';

const NAMES = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable'];

/** The page is drawn without a graphics card; the browser itself asks nothing of the network. */
export const FLAGS: readonly string[] = [
  '--no-sandbox',
  '--enable-unsafe-swiftshader',
  '--use-angle=swiftshader',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--no-first-run',
];

function installed(): string | undefined {
  if (process.env.CHROMIUM) return process.env.CHROMIUM;
  const folders = (process.env.PATH ?? '').split(delimiter);
  const paths = NAMES.flatMap((name) => ['/usr/bin', ...folders].map((folder) => join(folder, name)));
  return [...paths, chromium.executablePath()].find((path) => {
    try {
      accessSync(path, constants.X_OK);
      return true;
    } catch {
      return false;
    }
  });
}

/** Runs a command silently. @returns whether it went well */
function ran(command: string, args: readonly string[]): boolean {
  try {
    execFileSync(command, args, { stdio: 'ignore' });
    return true;
  } catch {
    return false;
  }
}

/**
 * @returns path of a Chromium: the one that CHROMIUM names, one of this machine, else one from the system's packages (as root on
 * Debian and its kin) or the browser automation's own @throws Error if there is none to be had
 */
export function findChromium(): string {
  const found = installed();
  if (found) return found;
  const fromPackages =
    process.getuid?.() === 0 && existsSync('/usr/bin/apt-get') && ran('apt-get', ['install', '-y', 'chromium']);
  if (!fromPackages) ran('npx', ['playwright', 'install', 'chromium']);
  const got = installed();
  if (!got) throw new Error('No Chromium here and none to be had: install one, or say where it is in CHROMIUM');
  return got;
}
