import { spawnSync } from 'node:child_process';
import { copyFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { barText } from '../../packages/cli/src/show/rate.js';
import { socByDay, sparkline, stretches } from '../../packages/cli/src/show/sparkline.js';
import { folderWith, PROGRAM, RIG, stayput, stayputProcess } from './run-cli.js';

test('a small picture has one cell a value, all between empty and full', () => {
  expect(sparkline([0, 0.49, 0.51, 1, 1.2, -0.1])).toBe('▁▄▅██▁');
  expect(stretches([1, 1, 3, 3, 5, 5], 3)).toEqual([1, 3, 5]);
  expect(stretches([1, 2, 3], 8)).toHaveLength(8); // a course that is shorter than its picture
  expect(stretches([7], 2)).toEqual([7, 7]);
});

test('each day has its own part of the trace', () => {
  const soc = Float64Array.from({ length: 60 }, (_, i) => i);
  const day = (date: string, h: number) => ({ date, startMs: h * 3.6e6 });
  const run = {
    trace: { grid: { startMs: 0, stepH: 1, steps: 60 }, soc },
    days: [day('a', 0), day('b', 24), day('c', 48)],
  };
  const parts = socByDay(run as unknown as Parameters<typeof socByDay>[0]);
  expect(parts.map((part) => [part[0], part.length])).toEqual([
    [0, 24],
    [24, 24],
    [48, 12],
  ]);
});

test('a bar tells how far a long work is', () => {
  expect(barText(0)).toBe('[....................] 0 %');
  expect(barText(0.5)).toBe('[##########..........] 50 %');
  expect(barText(1)).toBe('[####################] 100 %');
});

test('days have a picture of their charge where there is room and signs for it, and pages of text fit', async () => {
  const cwd = folderWith({ 'rig.yaml': RIG });
  const run = [
    'simulate',
    'rig.yaml',
    '--at',
    '41.7,-8.8',
    '--from',
    '2026-07-01',
    '--days',
    '3',
    '--weather',
    'clear',
    '--detail',
  ];
  const day = async (env: Record<string, string>) =>
    (await stayput(run, { cwd, env })).stdout.match(/^\w{3} \d+ Jul .*$/gm)!;
  for (const line of await day({ COLUMNS: '120' })) expect(line).toMatch(/ {2}[▁▂▃▄▅▆▇█]{8}$/);
  for (const line of await day({ COLUMNS: '60' })) expect(line).toMatch(/°C$/);
  for (const line of await day({ COLUMNS: '120', LC_ALL: 'C' })) expect(line).toMatch(/deg C$/);
});

// What is slow and has many columns: each command's tables at the widths that people have.
test.each([
  ['check rig.yaml trip.yaml'],
  ['simulate rig.yaml trip.yaml'],
  ['wires rig.yaml'],
  ['yield rig.yaml --place Porto --years 1'],
  ['stay rig.yaml --place Porto --years 1 --months jun-jul'],
  ['sweep rig.yaml --at 41.7,-8.8 --weather clear --days 2 --vary battery.count=1,2'],
  ['log export.csv --zone Europe/Lisbon'],
  ['compare parked.yaml export.csv --at 41.7,-8.8'],
  ['calibrate parked.yaml export.csv --at 41.7,-8.8'],
  ['size rig.yaml parts.yaml --place Porto --years 1 --month jun'],
])(
  '%s fits 20, 60, 80 and 120 columns and ends with what to do next',
  async (call) => {
    const cwd = folderWith({});
    const examples = fileURLToPath(new URL('../../examples/', import.meta.url));
    for (const [from, to] of [
      ['heron.yaml', 'rig.yaml'],
      ['north-west-coast.yaml', 'trip.yaml'],
      ['log-parked.yaml', 'parked.yaml'],
      ['log-parked.csv', 'export.csv'],
      ['parts.yaml', 'parts.yaml'],
    ] as const)
      copyFileSync(join(examples, from), join(cwd, to));
    const runs = call.startsWith('sweep') ? stayputProcess : stayput; // a sweep has workers
    for (const COLUMNS of ['20', '60', '80', '120']) {
      const { stdout, stderr } = await runs(call.split(' '), { cwd, env: { COLUMNS } });
      expect(stderr).toBe('');
      const wide = stdout.split('\n').filter((line) => [...line].length > Number(COLUMNS));
      expect(wide).toEqual([]);
      expect(
        stdout
          .trimEnd()
          .split('\n')
          .slice(COLUMNS === '20' ? -16 : -4)
          .join('\n'),
      ).toMatch(/Next:\s/);
      expect(stdout).not.toContain('\u001b');
    }
    const quiet = await runs([...call.split(' '), '--quiet'], { cwd });
    expect(quiet.stdout).not.toMatch(/Next:\s/);
  },
  120_000,
);

const hasScript = spawnSync('script', ['--version']).status === 0;

test.skipIf(!hasScript)(
  'long work shows how far it is to who watches, and not with --quiet (needs the script command)',
  () => {
    const cwd = folderWith({ 'rig.yaml': RIG });
    const onTerminal = (more: string) =>
      spawnSync(
        'script',
        [
          '-qec',
          `${process.execPath} ${PROGRAM} stay rig.yaml --place Porto --years 1 --months jun ${more}`,
          '/dev/null',
        ],
        { cwd, encoding: 'utf8', env: { PATH: process.env.PATH, LC_ALL: 'C.UTF-8', TERM: 'xterm' } },
      ).stdout;
    expect(onTerminal('')).toMatch(/\[[#.]{20}\] \d+ % {2}following stays/);
    expect(onTerminal('--quiet')).not.toContain('following');
  },
);
