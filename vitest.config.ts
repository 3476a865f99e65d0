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
        // A browser takes a core or two for itself, so its tests come last and one file at a time.
        test: {
          ...shared,
          name: 'browser',
          include: ['tests/ui/browser/**/*.test.ts'],
          globalSetup: 'tests/support/page-served.ts',
          maxWorkers: 1,
          sequence: { groupOrder: 1 },
        },
      },
    ],
  },
});
