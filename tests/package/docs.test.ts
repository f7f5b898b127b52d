import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { emptyFolder, run } from './packed.js';
import { ROOT } from './production-tree.js';

/** It reads and writes all of the library: 10 s on an idle machine. */
const TAKES_A_WHILE_MS = 240_000;

const folder = emptyFolder();
afterAll(() => folder.remove());

test(
  'the library documents itself without a warning: each name has its words, and each type it needs is there',
  async () => {
    const typedoc = `${ROOT}/node_modules/typedoc/bin/typedoc`;
    const options = ['--options', `${ROOT}/packages/core/typedoc.json`, '--out', folder.path];
    // Its warnings are in the error that a code other than 0 throws.
    const { stdout, stderr } = await run(process.execPath, [typedoc, ...options]);
    expect(stdout + stderr).not.toMatch(/warning|error/i);
    expect(readdirSync(join(folder.path, 'functions'))).toContain('simulate.html');
  },
  TAKES_A_WHILE_MS,
);
