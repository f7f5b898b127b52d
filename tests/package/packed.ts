import { execFile } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { ROOT } from './production-tree.js';

export const run = promisify(execFile);

/** Runs npm, which comes with Node. */
export const npm = (args: readonly string[], cwd: string) =>
  run('npm', args, { cwd, shell: process.platform === 'win32', maxBuffer: 1e8 });

export interface Packed {
  readonly tarball: string;
  /** paths within the package */
  readonly files: readonly string[];
}

/** What `npm pack` makes of a package, as built by `npm run build`. */
export async function packed(name: 'core' | 'cli', folder: string): Promise<Packed> {
  const { stdout } = await npm(['pack', '--json', '--pack-destination', folder], `${ROOT}/packages/${name}`);
  const [about] = JSON.parse(stdout);
  return {
    tarball: join(folder, about.filename),
    files: about.files.map(({ path }: { path: string }) => path),
  };
}

/** A folder away from any workspace, gone when the tests of a file are done. */
export function emptyFolder(): { readonly path: string; remove(): void } {
  const path = mkdtempSync(join(tmpdir(), 'stayput-pack-'));
  return { path, remove: () => rmSync(path, { recursive: true, force: true }) };
}

export const bytesOf = (path: string): ArrayBuffer => {
  const { buffer, byteOffset, byteLength } = readFileSync(path);
  return buffer.slice(byteOffset, byteOffset + byteLength) as ArrayBuffer;
};
