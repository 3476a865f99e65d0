import { defineConfig } from 'vitest/config';
import { LongFirst } from './tests/support/sequence.ts';

const shared = {
  testTimeout: 120_000,
  hookTimeout: 120_000,
};

export default defineConfig({
  test: {
    // A test that prints is a test that hides something: the console must stay silent.
    onConsoleLog: (log) => {
      throw new Error(`a test wrote to the console: ${log}`);
    },
    sequence: { sequencer: LongFirst },
    projects: [
      {
        test: {
          ...shared,
          name: 'node',
          maxWorkers: 2,
          include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
          exclude: ['tests/ui/browser/**'],
          sequence: { groupOrder: 0 },
        },
      },
      {
        // A browser takes a core or more for itself, so its tests come last, two files at a time: one alone leaves half a core
        // idle while it waits for the page. Each is slower than alone, so each has more time.
        test: {
          ...shared,
          name: 'browser',
          include: ['tests/ui/browser/**/*.test.ts'],
          testTimeout: 240_000,
          globalSetup: 'tests/support/page-served.ts',
          maxWorkers: 2,
          // What a page shows comes when it comes: on a busy machine a second, which is the default, is too short.
          expect: { poll: { timeout: 60_000 } },
          sequence: { groupOrder: 1 },
        },
      },
    ],
  },
});
