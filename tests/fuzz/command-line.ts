import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { TargetName } from './targets.js';

const WHERE = ['--at', '41.7,-8.8', '--from', '2026-07-05', '--days', '2', '--quiet'];

/** Calls of the program that read one file of each kind, with `FILE` in its place and `RIG` for a sound rig. */
const CALLS: Readonly<Partial<Record<TargetName, readonly (readonly string[])[]>>> = {
  rig: [
    ['check', 'FILE'],
    ['check', 'FILE', '--json'],
    ['wires', 'FILE'],
    ['simulate', 'FILE', ...WHERE],
  ],
  trip: [
    ['check', 'RIG', 'FILE'],
    ['check', 'RIG', 'FILE', '--json'],
  ],
  weather: [['simulate', 'RIG', ...WHERE, '--weather', 'FILE']],
  log: [
    ['log', 'FILE'],
    ['log', 'FILE', '--json'],
    ['log', 'FILE', '--tidy', '-', '--quiet'],
  ],
};

export const CALLED = Object.keys(CALLS) as TargetName[];

/** What is wrong with how the built program takes an input, if anything. */
export async function faultOfCall(
  root: string,
  target: TargetName,
  input: Uint8Array,
  choice: number,
  maxMs: number,
): Promise<string | undefined> {
  const folder = mkdtempSync(join(tmpdir(), 'stayput-fuzz-'));
  try {
    const file = join(folder, 'input');
    writeFileSync(file, input);
    const calls = CALLS[target]!;
    const call = calls[choice % calls.length]!;
    const named: Readonly<Record<string, string>> = { FILE: file, RIG: join(root, 'examples/heron.yaml') };
    const { code, stderr } = await ended(
      [join(root, 'packages/cli/dist/stayput.js'), ...call.map((word) => named[word] ?? word)],
      maxMs,
    );
    const said = `stayput ${call.join(' ')}: exit ${code}\n${stderr.slice(0, 2000)}`;
    if (code === null || code < 0 || code > 2) return said;
    if (code === 2 && stderr.trim() === '') return `without a word: ${said}`;
    return /^\s+at .+:\d+:\d+\)?$|a fault of ours|\bnode:internal\b/m.test(stderr) ? said : undefined;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function ended(args: readonly string[], maxMs: number): Promise<{ code: number | null; stderr: string }> {
  return new Promise((resolve) => {
    const child = spawn(process.execPath, args, { stdio: ['ignore', 'ignore', 'pipe'] });
    const timer = setTimeout(() => child.kill('SIGKILL'), maxMs);
    let stderr = '';
    child.stderr.setEncoding('utf8').on('data', (text: string) => {
      stderr += text;
    });
    child.on('close', (code) => {
      clearTimeout(timer);
      resolve({ code, stderr });
    });
  });
}
