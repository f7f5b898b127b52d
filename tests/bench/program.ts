import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const PROGRAM = fileURLToPath(new URL('../../packages/cli/dist/stayput.js', import.meta.url));
export const example = (name: string) => fileURLToPath(new URL(`../../examples/${name}`, import.meta.url));

export interface Timed {
  readonly seconds: number;
  /** largest resident set of the program with its workers [MB]; undefined where /proc is not */
  readonly peakMb: number | undefined;
}

/** Runs the program as it is shipped, as its own process, and throws away what it prints. */
export function timed(args: readonly string[], cwd?: string): Promise<Timed> {
  const start = performance.now();
  const child = spawn(process.execPath, [PROGRAM, ...args], { cwd, stdio: ['ignore', 'ignore', 'inherit'] });
  let peakMb: number | undefined;
  const watch = setInterval(() => {
    const status = `/proc/${child.pid}/status`;
    const found = existsSync(status) && /VmHWM:\s*(\d+) kB/.exec(readFileSync(status, 'utf8'));
    if (found) peakMb = Number(found[1]) / 1e3;
  }, 50);
  return new Promise((resolve, reject) => {
    child.on('error', reject);
    child.on('close', (code) => {
      clearInterval(watch);
      if (code === 0 || code === 1) resolve({ seconds: (performance.now() - start) / 1000, peakMb });
      else reject(new Error(`stayput ${args[0]} ended with ${code}`));
    });
  });
}

/** The middle of several runs. */
export async function middleOf(runs: number, args: readonly string[], cwd?: string): Promise<number> {
  const seconds: number[] = [];
  for (let k = 0; k < runs; k++) seconds.push((await timed(args, cwd)).seconds);
  return seconds.sort((a, b) => a - b)[runs >> 1]!;
}

/** A folder that is there while the work goes on. */
export async function inFolder<T>(work: (folder: string) => Promise<T>): Promise<T> {
  const folder = mkdtempSync(join(tmpdir(), 'stayput-bench-'));
  try {
    return await work(folder);
  } finally {
    rmSync(folder, { recursive: true });
  }
}
