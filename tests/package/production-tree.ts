import { existsSync, readFileSync, realpathSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const ROOT = fileURLToPath(new URL('../..', import.meta.url)).replace(/\/$/, '');

export interface Manifest {
  readonly name: string;
  readonly version: string;
  readonly license?: string;
  readonly scripts?: Readonly<Record<string, string>>;
  readonly dependencies?: Readonly<Record<string, string>>;
  readonly devDependencies?: Readonly<Record<string, string>>;
  readonly peerDependencies?: Readonly<Record<string, string>>;
}

export interface Installed {
  readonly folder: string;
  readonly manifest: Manifest;
}

export function manifestOf(folder: string): Manifest {
  return JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
}

/** A package as Node finds it from a folder. */
export function installedFrom(folder: string, name: string): Installed {
  for (let at = folder; at !== dirname(at); at = dirname(at)) {
    const found = join(at, 'node_modules', name);
    if (existsSync(join(found, 'package.json'))) {
      const real = realpathSync(found);
      return { folder: real, manifest: manifestOf(real) };
    }
  }
  throw new Error(`${name} is not installed for ${folder}`);
}

/** Everything that these dependencies of a folder need to run, themselves included, once each. */
export function treeOf(folder: string, names: readonly string[]): Installed[] {
  const found = new Map<string, Installed>();
  const visit = (from: string, name: string) => {
    const one = installedFrom(from, name);
    if (found.has(one.folder)) return;
    found.set(one.folder, one);
    for (const next of Object.keys(one.manifest.dependencies ?? {})) visit(one.folder, next);
  };
  for (const name of names) visit(folder, name);
  return [...found.values()].sort((a, b) => (a.manifest.name < b.manifest.name ? -1 : 1));
}

/** What is bundled into the library, and what those parts need in turn. */
export const coreTree = (): Installed[] =>
  treeOf(`${ROOT}/packages/core`, Object.keys(manifestOf(`${ROOT}/packages/core`).devDependencies ?? {}));
