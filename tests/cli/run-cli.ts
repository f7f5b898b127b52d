import { spawn } from 'node:child_process';
import { mkdtempSync, readdirSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** The program as it is shipped; `npm run build` makes it. */
export const PROGRAM = fileURLToPath(new URL('../../packages/cli/dist/stayput.js', import.meta.url));

export interface Ended {
  readonly stdout: string;
  readonly stderr: string;
  readonly code: number | null;
}

const ENV = { PATH: process.env.PATH, LC_ALL: 'C.UTF-8', COLUMNS: '80', TZ: 'UTC' };

/** Runs the program in a folder, as its own process, with nothing of this one's environment but the path. */
export function stayput(
  args: readonly string[],
  { cwd, env = {}, stdin = '' }: { cwd?: string; env?: Record<string, string>; stdin?: string | Uint8Array } = {},
): Promise<Ended> {
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

/** The program, running, for tests that meddle with it. */
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
