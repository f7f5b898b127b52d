import { once } from 'node:events';
import { createWriteStream } from 'node:fs';
import { join } from 'node:path';
import { example, inFolder, middleOf, timed } from './program.js';
import type { Measure } from './report.js';

const RIG = example('heron.yaml');
const YEAR = ['--at', '41.7,-8.8', '--from', '2026-01-01', '--days', '365'];

/** Whole commands as people run them, their start included. */
export async function benchCommands(): Promise<Measure[]> {
  const help = await middleOf(9, ['--help']);
  const year = await middleOf(5, ['simulate', RIG, ...YEAR]);
  const paged = await inFolder((folder) =>
    middleOf(3, ['simulate', RIG, ...YEAR, '--report', 'page.html', '--force', '--quiet'], folder),
  );
  const stay = await middleOf(3, ['stay', RIG, '--at', '41.7,-8.8']);
  const tonight = await middleOf(3, [
    'tonight',
    RIG,
    '--place',
    'Porto',
    '--now',
    '2026-10-10 18:00',
    '--soc',
    '43',
    '--sky',
    'dull, dull, fair',
  ]);
  return [
    { name: 'command: --help', value: help, unit: 's', goal: 0.15 },
    { name: 'command: simulate, one year at 10 min', value: year, unit: 's', goal: 0.5 },
    { name: 'command: what a report of that year adds', value: paged - year, unit: 's', goal: 2 },
    { name: 'command: stay, 12 months of 10 years', value: stay, unit: 's' },
    { name: 'command: tonight', value: tonight, unit: 's', goal: 1 },
  ];
}

const ROWS = 1_000_000;

/** An invented log by the minute, 60 MB or so. */
async function writeLog(path: string): Promise<void> {
  const file = createWriteStream(path);
  file.write('Time;Battery voltage (V);Battery current (A);State of charge (%);Solar power (W);Irradiance (W/m2)\n');
  let soc = 80;
  let lines: string[] = [];
  for (let k = 0; k < ROWS; k++) {
    const ms = Date.UTC(2024, 0, 1) + k * 60_000;
    const light = Math.max(0, 700 * -Math.cos((((ms / 3.6e6) % 24) * Math.PI) / 12));
    const amps = (0.12 * light - 25 - 10 * ((k >> 4) & 1)) / 13.1;
    soc = Math.min(100, Math.max(15, soc + amps / 60));
    const stamp = new Date(ms).toISOString().slice(0, 16).replace('T', ' ');
    lines.push(
      `${stamp};${(13 + 0.02 * amps).toFixed(2)};${amps.toFixed(2)};${soc.toFixed(1)};${(0.12 * light).toFixed(0)};${light.toFixed(0)}`,
    );
    if (lines.length === 50_000 || k === ROWS - 1) {
      if (!file.write(`${lines.join('\n')}\n`)) await once(file, 'drain');
      lines = [];
    }
  }
  file.end();
  await once(file, 'close');
}

/** A log of a million rows read and tidied, and read and compared. */
export function benchLog(): Promise<Measure[]> {
  return inFolder(async (folder) => {
    const log = join(folder, 'log.csv');
    await writeLog(log);
    const at = ['--at', '40.1,18.4'];
    const tidied = await timed(['log', log, ...at, '--tidy', join(folder, 'tidy.csv'), '--quiet']);
    const compared = await timed(['compare', example('log-parked.yaml'), log, ...at, '--quiet']);
    return [
      { name: 'log: a million rows read and tidied', value: tidied.seconds, unit: 's', goal: 5 },
      { name: 'log: rows read and tidied', value: ROWS / 1000 / tidied.seconds, unit: 'k rows/s', more: true },
      { name: 'log: a million rows read and compared', value: compared.seconds, unit: 's', goal: 5 },
      ...(tidied.peakMb && compared.peakMb
        ? [
            { name: 'log: most memory, tidied', value: tidied.peakMb, unit: 'MB', goal: 500 },
            { name: 'log: most memory, compared', value: compared.peakMb, unit: 'MB', goal: 500 },
          ]
        : []),
    ];
  });
}
