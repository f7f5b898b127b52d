// Run by node after tsc: writes the JSON Schemas of the files that people write, from the built library, and clears dist/ of
// what was built from sources that are gone, as it would be packed too.
import { existsSync } from 'node:fs';
import { mkdir, readdir, rm, writeFile } from 'node:fs/promises';
import { jsonSchemas } from './dist/rig/index.js';

const folder = new URL('./schema/', import.meta.url);
await mkdir(folder, { recursive: true });
for (const [name, schema] of Object.entries(jsonSchemas()))
  await writeFile(new URL(`${name}.schema.json`, folder), `${JSON.stringify(schema, null, 2)}\n`);

const dist = new URL('./dist/', import.meta.url);
for (const path of await readdir(dist, { recursive: true })) {
  const source = /^(.*?)\.(?:d\.ts|js)$/.exec(path)?.[1];
  if (source !== undefined && !existsSync(new URL(`./src/${source}.ts`, import.meta.url)))
    await rm(new URL(path, dist), { force: true });
}
