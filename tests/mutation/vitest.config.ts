import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

/** The tests that a change in the model must not pass by: of its rooms and against outside sources. */
export default defineConfig({
  root: fileURLToPath(new URL('../../', import.meta.url)),
  resolve: {
    alias: { '@stayput/core': fileURLToPath(new URL('../../packages/core/src/index.ts', import.meta.url)) },
  },
  test: {
    include: [
      'tests/core/{battery,wire,simulate,place,charge,solar,load}/**/*.test.ts',
      'tests/published/**/*.test.ts',
    ],
    exclude: ['tests/core/browser.test.ts'],
    testTimeout: 20_000,
    isolate: false,
  },
});
