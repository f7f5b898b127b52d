// npm run fuzz: bundles the fuzz with the model as it stands in src, and runs it; --help tells its options.
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'esbuild';
import { faceAliases } from '../../packages/core/face.js';

const here = fileURLToPath(new URL('.', import.meta.url));
const root = fileURLToPath(new URL('../../', import.meta.url));
const folder = await mkdtemp(join(tmpdir(), 'stayput-fuzz-'));

try {
  await build({
    entryPoints: { main: join(here, 'main.ts'), child: join(here, 'child.ts') },
    outdir: folder,
    outExtension: { '.js': '.mjs' },
    bundle: true,
    // errors are told apart by their names, and faults by where they arose
    keepNames: true,
    format: 'esm',
    platform: 'node',
    target: 'node20',
    logLevel: 'error',
    alias: faceAliases(),
    banner: { js: "import{createRequire as r}from'node:module';const require=r(import.meta.url);" },
  });
  const { main } = await import(pathToFileURL(join(folder, 'main.mjs')).href);
  process.exitCode = await main(process.argv.slice(2), root, join(folder, 'child.mjs'));
} finally {
  await rm(folder, { recursive: true, force: true });
}
