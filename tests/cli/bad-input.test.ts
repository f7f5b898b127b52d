import { execFileSync } from 'node:child_process';
import { mkdirSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { filesIn, folderWith, RIG, SUMMER, stayput, TRIP } from './run-cli.js';

const utf16 = (text: string) => Buffer.concat([Buffer.from([0xff, 0xfe]), Buffer.from(text, 'utf16le')]);
const weatherCsv = (hours: number) =>
  [
    'time (UTC),GHI (W/m2),air temperature (C)',
    ...Array.from(
      { length: hours },
      (_, i) =>
        `${new Date(Date.UTC(2026, 6, 10) + i * 3.6e6).toISOString().slice(0, 16)}Z,${i % 24 > 6 && i % 24 < 19 ? 500 : 0},20`,
    ),
  ].join('\n');

interface Bad {
  readonly name: string;
  readonly files: Readonly<Record<string, string | Uint8Array>>;
  readonly args: readonly string[];
  readonly says: RegExp;
}

const rig = (name: string, content: string | Uint8Array, says: RegExp): Bad => ({
  name,
  files: { 'rig.yaml': content },
  args: ['rig.yaml', ...SUMMER],
  says,
});
const trip = (name: string, from: RegExp | string, to: string, says: RegExp): Bad => ({
  name,
  files: { 'rig.yaml': RIG, 'trip.yaml': TRIP.replace(from, to) },
  args: ['rig.yaml', 'trip.yaml'],
  says,
});
const call = (name: string, args: readonly string[], says: RegExp): Bad => ({
  name,
  files: { 'rig.yaml': RIG, 'trip.yaml': TRIP },
  args,
  says,
});

const BAD: Bad[] = [
  { name: 'a missing file', files: {}, args: ['rig.yaml', ...SUMMER], says: /rig\.yaml.*no such rig/ },
  { name: 'a folder', files: {}, args: ['folder', ...SUMMER], says: /folder is a folder/ },
  { name: 'a path through a file', files: { 'rig.yaml': RIG }, args: ['rig.yaml/x', ...SUMMER], says: /rig\.yaml\/x/ },
  rig(
    'a binary file',
    Uint8Array.from({ length: 4096 }, (_, i) => (i * 37) % 256),
    /rig\.yaml.*binary/,
  ),
  rig('an empty file', '', /rig\.yaml.*empty/),
  rig('nothing but comments', '# nothing\n', /rig\.yaml.*(empty|nothing)/),
  rig('UTF-16', utf16(RIG), /rig\.yaml.*UTF-16.*UTF-8/),
  rig('tabs', RIG.replace('  chemistry', '\tchemistry'), /rig\.yaml:3.*tab/),
  rig('a key written twice', `${RIG}name: Other\n`, /rig\.yaml:12.*twice/),
  rig('a wrong unit', RIG.replace('100 Ah', '100 A'), /rig\.yaml:4.*battery\.capacity.*100 A.*Ah/),
  rig('a bare number', RIG.replace('100 Ah', '100'), /rig\.yaml:4.*battery\.capacity/),
  rig('a misspelt key', RIG.replace('capacity', 'capcity'), /rig\.yaml:4.*did you mean capacity/),
  rig('a rig of 10 MB', `${RIG}${'# a comment that is long and says nothing\n'.repeat(250_000)}`, /rig\.yaml.*10.* MB/),
  rig('a trip in the place of a rig', TRIP, /rig\.yaml.*trip/),
  trip('a latitude of 91', '41.7', '91', /trip\.yaml:5.*stops\[0\]\.at.*91/),
  trip(
    'a zone that does not exist',
    'nights: 3',
    'nights: 3, zone: Europe/Lisbonn',
    /trip\.yaml:5.*zone.*Europe\/Lisbon/,
  ),
  trip('a day that does not exist', '2026-07-03', '2026-02-30', /trip\.yaml:5.*2026-02-30/),
  trip('a weather file that is missing', 'clear', 'sun.csv', /sun\.csv.*no such weather file/),
  {
    name: 'a trip before the weather file begins',
    files: { 'rig.yaml': RIG, 'trip.yaml': TRIP.replace('clear', 'sun.csv'), 'sun.csv': weatherCsv(240) },
    args: ['rig.yaml', 'trip.yaml'],
    says: /sun\.csv: the file holds .* the run needs/,
  },
  {
    name: 'a weather file that is none',
    files: { 'rig.yaml': RIG, 'sun.csv': 'a,b\n1,2\n' },
    args: ['rig.yaml', ...SUMMER.slice(0, 4), '--weather', 'sun.csv'],
    says: /sun\.csv/,
  },
  call('a latitude of 91 in the call', ['rig.yaml', '--at', '91,0'], /--at.*91/),
  call(
    'a date that does not exist in the call',
    ['rig.yaml', '--at', '41,0', '--from', '2026-02-30'],
    /--from.*2026-10-03/,
  ),
  call('no place', ['rig.yaml'], /--place NAME.*--at LAT,LON/),
  call('a place nobody knows', ['rig.yaml', '--place', 'Qqqqqq'], /Qqqqqq/),
  call('a trip and a place', ['rig.yaml', 'trip.yaml', '--place', 'Porto'], /leave it out/),
  call('two places', ['rig.yaml', '--at', '1,1', '--place', 'Porto'], /--at.*--place|--place.*--at/),
  call('a misspelt option', ['rig.yaml', ...SUMMER, '--jsn'], /did you mean --json/i),
  call('a step that does not divide the hour', ['rig.yaml', ...SUMMER, '--step', '7min'], /--step.*10min/s),
  call('more steps than memory', ['rig.yaml', ...SUMMER, '--days', '3660', '--step', '1min'], /3,660 days.*--step/),
  call('a share in the place of a percentage', ['rig.yaml', ...SUMMER, '--start-soc', '0.9'], /did you mean 90/),
  call('a setting that leads nowhere', ['rig.yaml', ...SUMMER, '--set', 'batery.capacity=50 Ah'], /batery/),
  call(
    'a setting with a wrong unit',
    ['rig.yaml', ...SUMMER, '--set', 'battery.capacity=50 W'],
    /--set battery\.capacity=50 W/,
  ),
  call('rig and trip from standard input', ['-', '-'], /standard input/),
];

test.each(BAD)('$name: says so, exit 2, nothing written, no stack trace', async ({ files, args, says }) => {
  const cwd = folderWith(files);
  mkdirSync(join(cwd, 'folder'));
  const before = filesIn(cwd);
  const { stdout, stderr, code } = await stayput(['simulate', ...args, '--out', 'result.txt', '--trace', 'trace.csv'], {
    cwd,
  });
  expect(stderr).toMatch(says);
  expect(code).toBe(2);
  expect(stdout).toBe('');
  expect(filesIn(cwd)).toEqual(before);
  expect(stderr).not.toMatch(/\n\s+at |node:|\.js:\d/);
});

test('a load that is below 0 W in all conditions is refused; one that runs at a certain hour is not', async () => {
  const load = (power: string) => RIG.replace('power: 10 W', `power: "${power}"`);
  const cwd = folderWith({
    'never.yaml': load('cabin - 100'),
    'evening.yaml': load('hour > 17 and hour < 19 ? 30 : -1'),
  });
  const never = await stayput(['check', 'never.yaml'], { cwd });
  expect(never.stderr).toMatch(/loads\[1\]\.power: the expression is below 0 W in all conditions/);
  expect(never.code).toBe(2);
  expect((await stayput(['check', 'evening.yaml'], { cwd })).code).toBe(0);
});

test.skipIf(process.platform === 'win32')(
  'a pipe as input, an empty output name and a link to nothing are refused at once',
  async () => {
    const cwd = folderWith({ 'rig.yaml': RIG });
    execFileSync('mkfifo', [join(cwd, 'pipe')]);
    symlinkSync('gone/file', join(cwd, 'link'));
    for (const [args, says] of [
      [['check', 'pipe'], /pipe is a pipe, not a file: give - for the rig/],
      [['log', 'pipe'], /pipe is a pipe, not a file: give - for the log/],
      [['check', '/dev/null'], /\/dev\/null is a device/],
      [['check', 'rig.yaml', '--out', ''], /an output has an empty name/],
      [['check', 'rig.yaml', '--out', 'link'], /link is a link to gone\/file, which is not there/],
    ] as const) {
      const { stderr, code } = await stayput(args, { cwd });
      expect(stderr).toMatch(says);
      expect(code).toBe(2);
    }
  },
);

test('a run of eleven years is made', async () => {
  const cwd = folderWith({ 'rig.yaml': RIG });
  const { code, stderr } = await stayput(
    ['simulate', 'rig.yaml', ...SUMMER, '--days', '4018', '--step', '1h', '--quiet'],
    { cwd },
  );
  expect([code, stderr]).toEqual([0, '']);
});

test('a byte-order mark is no mistake', async () => {
  const cwd = folderWith({ 'rig.yaml': `\ufeff${RIG}` });
  expect(await stayput(['check', 'rig.yaml', '--json'], { cwd })).toMatchObject({ code: 0, stderr: '' });
});

test('three mistakes get three messages with their lines, the first line says how many', async () => {
  const cwd = folderWith({
    'rig.yaml': RIG.replace('capacity', 'capcity').replace('200 W', '200 V').replace('40 L', '40'),
  });
  const { stderr, code } = await stayput(['check', 'rig.yaml'], { cwd });
  const lines = stderr.trimEnd().split('\n');
  expect(code).toBe(2);
  expect(lines[0]).toMatch(/^stayput: \d+ things to correct/);
  expect(lines.some((line) => /rig\.yaml:4.*did you mean capacity/.test(line))).toBe(true);
  expect(lines.some((line) => /rig\.yaml:8.*solar\[0\]\.power/.test(line))).toBe(true);
  expect(lines.some((line) => /rig\.yaml:10.*volume/.test(line))).toBe(true);
});

test.each([
  [['simulat', 'rig.yaml'], /did you mean simulate/i],
  [[], /Usage/],
  [['check'], /missing required argument/i],
  [['check', 'a', 'b', 'c'], /too many arguments/i],
] as const)('a wrong call %j is exit 2, on standard error', async (args, says) => {
  const { stdout, stderr, code } = await stayput(args);
  expect(stderr).toMatch(says);
  expect({ code, stdout }).toEqual({ code: 2, stdout: '' });
});

test('characters that steer a terminal do not reach it from a file', async () => {
  const cwd = folderWith({ 'rig.yaml': RIG.replace('name: Wren', 'name: "Wr\\e[31men\\u202e"') });
  const { stdout, stderr } = await stayput(['check', 'rig.yaml'], { cwd });
  for (const steering of ['\u001b', '\u202e']) expect(stdout + stderr).not.toContain(steering);
});
