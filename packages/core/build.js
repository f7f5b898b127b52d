// Run by node after tsc: writes the JSON Schemas of the files that people write, from the built library.
import { mkdir, writeFile } from 'node:fs/promises';
import { jsonSchemas } from './dist/rig/index.js';

const folder = new URL('./schema/', import.meta.url);
await mkdir(folder, { recursive: true });
for (const [name, schema] of Object.entries(jsonSchemas()))
  await writeFile(new URL(`${name}.schema.json`, folder), `${JSON.stringify(schema, null, 2)}\n`);
