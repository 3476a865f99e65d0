/** Starts the page as a person does, once for all browser tests, and tells them where it is. */
import { spawn } from 'node:child_process';
import { resolve } from 'node:path';
import type { TestProject } from 'vitest/node';
import { findChromium } from './chromium.ts';

declare module 'vitest' {
  export interface ProvidedContext {
    address: string;
    chromium: string;
  }
}

const ROOT = resolve(import.meta.dirname, '../..');

export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const child = spawn(process.execPath, ['bin/start.mjs', '--no-open', '--port', '0'], {
    cwd: ROOT,
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  const gone = new Promise<void>((done) => child.once('close', () => done()));
  const address = await new Promise<string>((done, fail) => {
    let said = '';
    const hear = (words: string) => {
      said += words;
      const at = said.match(/^Cavetto is at (http:\S+) /m);
      if (at) done(at[1]!);
    };
    child.stdout.setEncoding('utf8').on('data', hear);
    child.stderr.setEncoding('utf8').on('data', hear);
    child.once('error', fail);
    child.once('close', (code) => fail(new Error(`the page was not served (exit ${code}): ${said}`)));
  });
  project.provide('address', address);
  project.provide('chromium', findChromium());
  return async () => {
    child.kill();
    await gone;
  };
}
