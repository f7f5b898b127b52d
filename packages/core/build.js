// Run by node after tsc: bundles the library, one file an entry and what they share, with all that it stands on, so that it imports
// fast and needs nothing installed beside it; writes the JSON Schemas of the files that people write; and clears dist/ of what was
// built from sources that are gone, as it would be packed too.
import { existsSync } from 'node:fs';
import { mkdir, readdir, rm, writeFile } from 'node:fs/promises';
import { basename } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { jsonSchemas } from './dist/rig/index.js';
import { englishOnly } from './english-only.js';
import { FACES } from './face.js';
import { licences, packagesIn } from './licences.js';

const here = fileURLToPath(new URL('.', import.meta.url));

const dist = new URL('./dist/', import.meta.url);
for (const path of await readdir(dist, { recursive: true })) {
  const source = /^(.*?)\.(?:d\.ts|js)$/.exec(path)?.[1];
  if (source !== undefined && !existsSync(new URL(`./src/${source}.ts`, import.meta.url)))
    await rm(new URL(path, dist), { force: true });
}

const schemas = new URL('./schema/', import.meta.url);
await mkdir(schemas, { recursive: true });
for (const [name, schema] of Object.entries(jsonSchemas()))
  await writeFile(new URL(`${name}.schema.json`, schemas), `${JSON.stringify(schema, null, 2)}\n`);

const { outputFiles, metafile } = await build({
  write: false,
  metafile: true,
  absWorkingDir: here,
  entryPoints: FACES.map((face) => `dist/${face}.js`),
  outdir: 'bundle',
  bundle: true,
  splitting: true,
  chunkNames: 'shared-[hash]',
  format: 'esm',
  // Neither Node's modules nor a browser's names: it runs wherever ESM does.
  platform: 'neutral',
  mainFields: ['module', 'main'],
  target: 'es2022',
  plugins: [englishOnly],
  legalComments: 'none', // the licences are written whole, below
});
const bundle = new URL('./bundle/', import.meta.url);
await mkdir(bundle, { recursive: true });
const written = new Map(outputFiles.map(({ path, contents }) => [basename(path), contents]));
written.set('LICENSES-OF-PARTS.txt', await licences(packagesIn(metafile, here)));
for (const [name, contents] of written) await writeFile(new URL(name, bundle), contents);
// Stale files go last: whoever imports the library meanwhile finds it whole.
for (const name of await readdir(bundle)) if (!written.has(name)) await rm(new URL(name, bundle), { force: true });
