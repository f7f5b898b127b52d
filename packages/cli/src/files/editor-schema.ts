import { readFile, stat } from 'node:fs/promises';
import { dirname, join, relative, resolve, sep } from 'node:path';
import { fileURLToPath } from 'node:url';

export type SchemaKind = 'rig' | 'trip';

/** The JSON Schemas that are shipped beside the bundled program, whose code stands in chunks/. */
const SHIPPED = fileURLToPath(new URL('../schema/', import.meta.url));
/** Where an installed package keeps them. */
const INSTALLED = ['node_modules/@stayput/core/schema', 'node_modules/@stayput/cli/dist/schema'];

export const schemaFile = (kind: SchemaKind) => `${kind}.schema.json`;

export const readSchema = (kind: SchemaKind): Promise<string> => readFile(join(SHIPPED, schemaFile(kind)), 'utf8');

/**
 * Where an editor finds a schema from a file in `folder`: beside it, in the packages installed in it or above it, or in
 * this program where that lies below the folder. Undefined when nowhere: a path elsewhere would say nothing to others.
 */
export async function schemaNear(folder: string, kind: SchemaKind): Promise<string | undefined> {
  const here = resolve(folder);
  const beside = join(here, schemaFile(kind));
  const above = [...new Set(parents(here))].flatMap((parent) => INSTALLED.map((path) => join(parent, path)));
  const own = SHIPPED.startsWith(here + sep) ? [SHIPPED] : [];
  for (const path of [beside, ...[...above, ...own].map((place) => join(place, schemaFile(kind)))])
    if ((await stat(path).catch(() => undefined))?.isFile()) return asRelative(relative(here, path));
  return undefined;
}

function parents(folder: string): string[] {
  const above = dirname(folder);
  return above === folder ? [folder] : [folder, ...parents(above)];
}

/** As an editor reads it: with slashes, and beginning with a dot. */
function asRelative(path: string): string {
  const slashed = path.split(sep).join('/');
  return slashed.startsWith('.') ? slashed : `./${slashed}`;
}
