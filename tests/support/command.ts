/** Runs the command as a person does, in a process of its own. */
import { spawn } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, relative, resolve } from 'node:path';

const ROOT = resolve(import.meta.dirname, '../..');

export interface Ran {
  code: number | null;
  out: string;
  err: string;
}

/** Ends a run from outside: looked at every few ms, the signal goes out as soon as `when` is true. */
export interface Ending {
  signal: NodeJS.Signals;
  when(): boolean;
}

/** @param args of `cavetto` @param env beside the process's own @param stop ms after which it is killed, or how else, for tests of that */
export function cavetto(
  args: readonly string[],
  env: Record<string, string> = {},
  stop?: number | Ending,
): Promise<Ran> {
  return new Promise((done, fail) => {
    const child = spawn(process.execPath, [join(ROOT, 'bin/cavetto.mjs'), ...args], {
      cwd: ROOT,
      env: { ...process.env, ...env },
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    let out = '';
    let err = '';
    child.stdout.setEncoding('utf8').on('data', (d: string) => {
      out += d;
    });
    child.stderr.setEncoding('utf8').on('data', (d: string) => {
      err += d;
    });
    const timer = typeof stop === 'number' ? setTimeout(() => child.kill('SIGKILL'), stop) : undefined;
    const watch =
      typeof stop === 'object'
        ? setInterval(() => {
            if (!stop.when()) return;
            clearInterval(watch);
            child.kill(stop.signal);
          }, 5)
        : undefined;
    child.on('error', fail).on('close', (code) => {
      clearTimeout(timer);
      clearInterval(watch);
      done({ code, out, err });
    });
  });
}

/** A folder for one test file; `remove` when done. */
export function scratch(): {
  dir: string;
  file(name: string, content: unknown): string;
  all(): string[];
  remove(): void;
} {
  const dir = mkdtempSync(join(tmpdir(), 'cavetto-'));
  return {
    dir,
    file: (name, content) => {
      const path = join(dir, name);
      writeFileSync(path, typeof content === 'string' ? content : JSON.stringify(content));
      return path;
    },
    all: () =>
      readdirSync(dir, { recursive: true, withFileTypes: true })
        .filter((e) => e.isFile())
        .map((e) => relative(dir, join(e.parentPath, e.name)))
        .sort(),
    remove: () => rmSync(dir, { recursive: true, force: true }),
  };
}
