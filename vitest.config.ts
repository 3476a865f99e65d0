import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
    testTimeout: 120_000,
    hookTimeout: 120_000,
    // A test that prints is a test that hides something: the console must stay silent.
    onConsoleLog: (log) => {
      throw new Error(`a test wrote to the console: ${log}`);
    },
  },
});
