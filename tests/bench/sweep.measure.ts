import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Measure } from './report.js';

const PROGRAM = fileURLToPath(new URL('../../packages/cli/dist/stayput.js', import.meta.url));
const RIG = fileURLToPath(new URL('../../examples/heron.yaml', import.meta.url));
const FEW = 1_000;
const MANY = 10_000;

interface Swept {
  readonly seconds: number;
  /** largest resident set of the program with its workers [MB]; undefined where /proc is not */
  readonly peakMb: number | undefined;
}

/** One-year variants at 10 min of the battery's capacity alone, by the program as it is shipped. */
function sweep(variants: number, workers: number): Promise<Swept> {
  const folder = mkdtempSync(join(tmpdir(), 'stayput-bench-'));
  const last = 50 + 0.04 * (variants - 1);
  const args = [
    '--at',
    '41.7,-8.8',
    '--vary',
    `battery.capacity=50:0.04:${last} Ah`,
    '--out',
    join(folder, 'rows.csv'),
  ];
  const start = performance.now();
  const child = spawn(process.execPath, [PROGRAM, 'sweep', RIG, ...args, '--quiet', '--workers', String(workers)]);
  let peakMb: number | undefined;
  const watch = setInterval(() => {
    const status = `/proc/${child.pid}/status`;
    const found = existsSync(status) && /VmHWM:\s*(\d+) kB/.exec(readFileSync(status, 'utf8'));
    if (found) peakMb = Number(found[1]) / 1e3;
  }, 100);
  return new Promise((resolve, reject) => {
    child.on('error', reject);
    child.on('close', (code) => {
      clearInterval(watch);
      rmSync(folder, { recursive: true });
      if (code === 0) resolve({ seconds: (performance.now() - start) / 1000, peakMb });
      else reject(new Error(`the sweep ended with ${code}`));
    });
  });
}

/** What a start costs is taken off the ratio, as it is the same for any number of workers. */
export async function benchSweep(): Promise<Measure[]> {
  const [start, one, two] = [await sweep(1, 1), await sweep(FEW, 1), await sweep(FEW, 2)];
  const many = await sweep(MANY, 2);
  return [
    { name: `sweep: ${MANY} one-year variants of the battery, 2 workers`, value: many.seconds, unit: 's', goal: 15 },
    { name: `sweep: one variant of ${FEW}, 1 worker`, value: (1e3 * (one.seconds - start.seconds)) / FEW, unit: 'ms' },
    {
      name: `sweep: speed of 2 workers over 1, ${FEW} variants`,
      value: (one.seconds - start.seconds) / (two.seconds - start.seconds),
      unit: 'x',
      more: true,
    },
    {
      name: 'sweep: cost of a variant among many over among few',
      value: perVariant(many, MANY, start) / perVariant(two, FEW, start),
      unit: 'x',
    },
    ...(many.peakMb && two.peakMb
      ? [
          { name: `sweep: most memory, ${FEW} variants`, value: two.peakMb, unit: 'MB' },
          { name: `sweep: most memory, ${MANY} variants`, value: many.peakMb, unit: 'MB' },
        ]
      : []),
  ];
}

const perVariant = ({ seconds }: Swept, variants: number, start: Swept) => (seconds - start.seconds) / variants;
