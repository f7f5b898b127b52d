import { spawn } from 'node:child_process';
import { mkdtempSync, readdirSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Readable, Writable } from 'node:stream';
import { fileURLToPath } from 'node:url';
import { createIo } from '../../packages/cli/src/io.js';
import { run } from '../../packages/cli/src/run.js';

/** The program as it is shipped; `npm run build` makes it. */
export const PROGRAM = fileURLToPath(new URL('../../packages/cli/dist/stayput.js', import.meta.url));

export interface Ended {
  readonly stdout: string;
  readonly stderr: string;
  readonly code: number | null;
}

const ENV = { PATH: process.env.PATH, LC_ALL: 'C.UTF-8', COLUMNS: '80', TZ: 'UTC' };

interface Around {
  readonly cwd?: string;
  readonly env?: Readonly<Record<string, string>>;
  readonly stdin?: string | Uint8Array;
}

/** One call after another, as a process has one working folder. */
let last: Promise<unknown> = Promise.resolve();

/**
 * Runs one call of the program within this process: its streams, environment and exit code are the call's own. For what only a process
 * has (signals, pipes, the time zone, workers, files that are shipped beside the program), see `stayputProcess`.
 */
export function stayput(args: readonly string[], around: Around = {}): Promise<Ended> {
  const next = last.then(() => inside(args, around));
  last = next.catch(() => {});
  return next;
}

async function inside(args: readonly string[], { cwd, env = {}, stdin = '' }: Around): Promise<Ended> {
  const [stdout, stderr] = [textSink(), textSink()];
  const outside = {
    argv: [process.execPath, PROGRAM, ...args],
    env: { ...ENV, ...env },
    platform: process.platform,
    stdin: Readable.from(stdin.length > 0 ? [Buffer.from(stdin)] : []),
    stdout: stdout.stream,
    stderr: stderr.stream,
    exitCode: 0,
  };
  const before = process.cwd();
  if (cwd !== undefined) process.chdir(cwd);
  try {
    await run(createIo(outside as unknown as NodeJS.Process), args);
  } finally {
    process.chdir(before);
  }
  return { stdout: stdout.text(), stderr: stderr.text(), code: outside.exitCode };
}

function textSink() {
  const chunks: Buffer[] = [];
  const stream = new Writable({
    write(chunk: Buffer, _, done) {
      chunks.push(chunk);
      done();
    },
  });
  return { stream, text: () => Buffer.concat(chunks).toString() };
}

/** Runs the program as it is shipped, as its own process, with nothing of this one's environment but the path. */
export function stayputProcess(args: readonly string[], { cwd, env = {}, stdin = '' }: Around = {}): Promise<Ended> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [PROGRAM, ...args], { cwd, env: { ...ENV, ...env } });
    let stdout = '';
    let stderr = '';
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      stdout += text;
    });
    child.stderr.setEncoding('utf8').on('data', (text: string) => {
      stderr += text;
    });
    child.on('error', reject);
    child.on('close', (code) => resolve({ stdout, stderr, code }));
    child.stdin.on('error', () => {}); // it may end before it has read everything
    child.stdin.end(stdin);
  });
}

/** The program as it is shipped, running, for tests that meddle with it. */
export const start = (args: readonly string[], cwd: string) =>
  spawn(process.execPath, [PROGRAM, ...args], { cwd, env: ENV });

/** A fresh folder that holds these files. */
export function folderWith(files: Readonly<Record<string, string | Uint8Array>>): string {
  const folder = mkdtempSync(join(tmpdir(), 'stayput-test-'));
  for (const [name, content] of Object.entries(files)) writeFileSync(join(folder, name), content);
  return folder;
}

export const filesIn = (folder: string) => readdirSync(folder).sort();

/** An invented rig that never runs flat in a clear summer … */
export const RIG = `name: Wren
battery:
  chemistry: LFP
  capacity: 100 Ah
  floor: 20 %
solar:
  - name: roof
    power: 200 W
loads:
  - { name: fridge, kind: fridge, volume: 40 L, setpoint: 5 degC, rated: { energy: 0.4 kWh/day, ambient: 25 degC } }
  - { name: lights, power: 10 W, when: sunset to 22:30 }
`;

/** … and one that does, without a panel. */
export const FLAT_RIG = RIG.replace(/solar:[\s\S]*?loads:/, 'loads:').replace('name: Wren', 'name: Owl');

export const TRIP = `name: Invented round
startSoc: 90 %
weather: clear
stops:
  - { at: [41.7, -8.8], from: 2026-07-03, nights: 3, drive: 2 h }
  - { at: [43.6, -8.1], nights: 2, drive: 3 h }
`;

/** Summer at one place, with weather that needs no table. */
export const SUMMER = ['--at', '41.7,-8.8', '--from', '2026-07-01', '--weather', 'clear'] as const;
