// npm run bench: runs what the .measure.ts files measure, prints a table, and keeps the figures in bench-results.json to compare with next time.
// The model is bundled as the command line bundles it: that is the code people run.
import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'esbuild';
import { faceAliases } from '../../packages/core/face.js';

const here = fileURLToPath(new URL('.', import.meta.url));
const root = fileURLToPath(new URL('../../', import.meta.url));
const results = join(root, 'bench-results.json');
const folder = await mkdtemp(join(tmpdir(), 'stayput-bench-'));

const files = (await readdir(here)).filter((name) => name.endsWith('.measure.ts')).sort();
const measures = [];
try {
  for (const name of [...files, 'report.ts'])
    await build({
      entryPoints: [join(here, name)],
      outfile: join(folder, name.replace(/\.ts$/, '.mjs')),
      bundle: true,
      minifySyntax: true,
      format: 'esm',
      platform: 'node',
      target: 'node20',
      alias: faceAliases(),
      define: { 'import.meta.url': JSON.stringify(import.meta.url) },
      banner: { js: "import{createRequire as r}from'node:module';const require=r(process.argv[1]);" },
    });
  const { tableOf } = await import(pathToFileURL(join(folder, 'report.mjs')).href);
  for (const name of files) {
    const bench = await import(pathToFileURL(join(folder, name.replace(/\.ts$/, '.mjs'))).href);
    for (const run of Object.values(bench)) measures.push(...(await run()));
  }
  const before = await readFile(results, 'utf8').then(JSON.parse, () => []);
  console.log(tableOf(measures, before));
  await writeFile(results, `${JSON.stringify(measures, null, 2)}\n`);
} finally {
  await rm(folder, { recursive: true });
}
