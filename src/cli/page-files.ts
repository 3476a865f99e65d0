/** The built page: made anew if a source is younger than it, then read whole into memory. */
import { existsSync, readdirSync, readFileSync, renameSync, rmSync, statSync, utimesSync } from 'node:fs';
import { join, relative, sep } from 'node:path';

/** Everything that the page is made of, beside node_modules; a folder counts with all below it. */
const SOURCES = ['src', 'shared', 'templates', 'vite.config.ts', 'package.json', 'package-lock.json'];

/** @returns ms since the epoch of the latest change at or below a path; folders count, so that a file taken away is seen */
export function lastChange(path: string): number {
  const stat = statSync(path);
  if (!stat.isDirectory()) return stat.mtimeMs;
  return readdirSync(path).reduce((latest, name) => Math.max(latest, lastChange(join(path, name))), stat.mtimeMs);
}

/** @param root of the project @returns whether dist/ is missing or older than a source */
export function isStale(root: string): boolean {
  const index = join(root, 'dist/index.html');
  if (!existsSync(index)) return true;
  const built = statSync(index).mtimeMs;
  return SOURCES.some((name) => existsSync(join(root, name)) && lastChange(join(root, name)) > built);
}

/**
 * Builds the page into dist/, which is replaced at once when the new one is whole.
 * @param root of the project @throws Error of the bundler, in its words
 */
export async function buildPage(root: string): Promise<void> {
  const { build } = await import('vite');
  const began = new Date();
  const beside = join(root, `dist-${process.pid}.tmp`);
  // The bundler obeys this before its own mode: a shell that says otherwise would get the libraries' slow halves.
  const environment = process.env.NODE_ENV;
  process.env.NODE_ENV = 'production';
  try {
    await build({
      configFile: join(root, 'vite.config.ts'),
      logLevel: 'error',
      build: { outDir: beside, emptyOutDir: true },
    });
    // What changed while the bundler was reading is younger than this.
    utimesSync(join(beside, 'index.html'), began, began);
    rmSync(join(root, 'dist'), { recursive: true, force: true });
    renameSync(beside, join(root, 'dist'));
  } finally {
    if (environment === undefined) delete process.env.NODE_ENV;
    else process.env.NODE_ENV = environment;
    rmSync(beside, { recursive: true, force: true });
  }
}

/** @param dir of the built page @returns path from it, with slashes → bytes */
export function readPage(dir: string): Map<string, Uint8Array> {
  const files = readdirSync(dir, { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile());
  return new Map(
    files.map((entry) => {
      const path = join(entry.parentPath, entry.name);
      return [relative(dir, path).split(sep).join('/'), readFileSync(path)] as const;
    }),
  );
}
