import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';
import { testsOfRoom } from './rooms.js';

const files = testsOfRoom().map((name) => `tests/mutation/bundle/${name}.test.mjs`);

class AsListed extends BaseSequencer {
  override async sort(specs: TestSpecification[]) {
    const place = ({ moduleId }: TestSpecification) => files.findIndex((file) => moduleId.endsWith(file));
    return specs.sort((a, b) => place(a) - place(b));
  }
}

/** The tests of one room, as bundle.js makes them. */
export default defineConfig({
  root: fileURLToPath(new URL('../../', import.meta.url)),
  test: {
    include: files,
    setupFiles: ['tests/seed.ts'],
    sequence: { sequencer: AsListed },
    isolate: false,
    // A test that is slow on a busy machine has noticed nothing: only Stryker's own, wide limit ends a mutant.
    testTimeout: 0,
    hookTimeout: 0,
  },
});
