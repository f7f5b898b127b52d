import { defineConfig } from 'vitest/config';
import cli from './packages/cli/package.json' with { type: 'json' };
import { faceAliases } from './packages/core/face.js';

export default defineConfig({
  define: { STAYPUT_VERSION: JSON.stringify(cli.version) }, // as the build of the command line writes it in
  resolve: {
    alias: faceAliases(),
  },
  test: {
    include: ['tests/**/*.test.ts'],
    setupFiles: ['tests/seed.ts'],
    benchmark: { include: ['tests/bench/**/*.bench.ts'] },
    testTimeout: 60_000,
    hookTimeout: 60_000,
    // Core is pure, so its modules can be shared: loading mathjs once a worker instead of once a file halves the suite.
    isolate: false,
    // Many tests wait for the program that they run: one worker for each of two cores, also where vitest would keep one free.
    maxWorkers: 2,
    // Every check is listed by its name and source.
    reporters: ['verbose'],
  },
});
