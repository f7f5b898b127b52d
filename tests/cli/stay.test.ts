import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { lengthOption, monthsOption } from '../../packages/cli/src/commands/stay.js';
import { FLAT_RIG, filesIn, folderWith, RIG, stayput, TRIP } from './run-cli.js';

const STAY = ['stay', 'rig.yaml', '--at', '41.7,-8.8', '--step', '1h', '--years', '2'] as const;
/** With a panel too small for the dark months. */
const SMALL = RIG.replace('200 W', '90 W');
const folder = () => folderWith({ 'rig.yaml': SMALL, 'trip.yaml': TRIP });

test('the answer comes first, in one sentence, and --quiet gives nothing else', async () => {
  const cwd = folder();
  const { stdout, stderr, code } = await stayput(STAY, { cwd });
  expect({ stderr, code }).toEqual({ stderr: '', code: 0 });
  const quiet = await stayput([...STAY, '--quiet'], { cwd });
  expect(quiet.stdout.trim().replace(/\n/g, ' ')).toMatch(
    /^At 41\.70, -8\.80 Wren can stay .*[\d.]+ days \(\w{3}\).*, and [\d.]+ days with no charging at all \(\w{3}\)\.$/,
  );
  expect(stdout.startsWith(quiet.stdout.trimEnd())).toBe(true);
  for (const words of ['9 in 10', 'half may be', 'Jan', 'Dec', '+1 panel', '+1 battery', 'To know', 'Have it checked'])
    expect(stdout).toContain(words);
  for (const line of stdout.split('\n')) expect([...line].length).toBeLessThanOrEqual(80);
});

test('in frost an unheated cabin is told, and a heated one ends the stay', async () => {
  const cwd = folderWith({ 'rig.yaml': RIG.replace(/\n.*name: lights.*/, '') });
  const oulu = ['stay', 'rig.yaml', '--place', 'Oulu', '--months', 'jan', '--step', '1h', '--years', '1'];
  const run = async (...more: string[]) => (await stayput([...oulu, ...more], { cwd })).stdout.replace(/\s+/g, ' ');
  expect(await run()).toMatch(/as long as you like.*the cabin is taken as not heated/);
  const heated = await run('--set', 'cabin.heated=18 degC');
  expect(heated).not.toMatch(/not heated/);
  // By hand: 400 Wh a day over 20 K are some 220 Wh over 13 K, as it also runs better; 1.05 kWh last 4 to 6 days.
  const days = Number(/can stay ([\d.]+) days/.exec(heated)![1]);
  expect(days).toBeGreaterThan(3.5);
  expect(days).toBeLessThan(6.5);
});

test('months that are alike are said once, not as a span from one to the same', async () => {
  // 80 % of 100 Ah at 12.8 V or so feed 40 W for a day, in whatever month.
  const lamp = 'name: Wren\nbattery: { chemistry: LFP, capacity: 100 Ah }\nloads: [{ name: lamp, power: 40 W }]\n';
  const cwd = folderWith({ 'rig.yaml': lamp });
  const { stdout } = await stayput([...STAY, '--months', 'jan-feb', '--quiet'], { cwd });
  expect(stdout.replace(/\n/g, ' ')).toMatch(
    /Wren can stay [\d.]+ days? in each month without a panel, nine times in ten/,
  );
});

test('where the sun is more than enough it says so', async () => {
  const { stdout } = await stayput([...STAY, '--quiet'], { cwd: folderWith({ 'rig.yaml': RIG }) });
  expect(stdout.replace(/\n/g, ' ')).toContain("Wren can stay as long as you like with the season's sun, and ");
});

test('without a panel it says so, and neither sun nor a panel more is spoken of', async () => {
  const { stdout, code } = await stayput(STAY, { cwd: folderWith({ 'rig.yaml': FLAT_RIG }) });
  expect(code).toBe(0);
  expect(stdout.replace(/\n/g, ' ')).toMatch(
    /^At 41\.70, -8\.80 Owl can stay [\d.]+ days \(\w{3}\) to [\d.]+ days \(\w{3}\) without a panel, nine times in ten\./,
  );
  expect(stdout).not.toContain('+1 panel');
});

test('--json is one document with the keys of the contract', async () => {
  const { stdout, stderr, code } = await stayput([...STAY, '--json', '--months', 'nov-jan'], { cwd: folder() });
  expect({ stderr, code }).toEqual({ stderr: '', code: 0 });
  const document = JSON.parse(stdout);
  expect(document).toMatchObject({ command: 'stay', rig: 'Wren', warnings: [], weatherYears: 2, horizonDays: 60 });
  expect(document.months.map(({ month }: { month: number }) => month)).toEqual([1, 11, 12]);
  for (const month of document.months) {
    for (const key of [
      'darkDays',
      'parkedDaysP10',
      'parkedDaysP50',
      'parkedDaysP90',
      'parkedDaysLow',
      'parkedDaysHigh',
    ])
      expect(month[key]).toEqual(expect.any(Number));
    expect(month.indefinite).toBe(month.parkedDaysP10 >= 60);
    expect(month.darkDays).toBeGreaterThanOrEqual(document.darkDays);
  }
  expect(document.targets).toBeUndefined();
});

test('a target met is 0, missed is 1 and says where; beyond the horizon it is refused', async () => {
  const cwd = folder();
  const winter = [...STAY, '--months', 'dec', '--quiet'] as const;
  const met = await stayput([...winter, '--at-least', '1d'], { cwd });
  expect(met.code).toBe(0);
  expect(met.stdout).toContain('target met: at least 1.0 day');
  const missed = await stayput([...winter, '--at-least', '59 days'], { cwd });
  expect(missed.code).toBe(1);
  expect(missed.stdout.replace(/\n/g, ' ')).toMatch(/target missed: .* only [\d.]+ days \(Dec\)/);
  const json = await stayput([...winter, '--at-least', '59', '--json'], { cwd });
  expect(json.code).toBe(1);
  expect(JSON.parse(json.stdout).targets).toEqual([
    { target: 'at-least', met: false, text: expect.stringContaining('Dec') },
  ]);
  expect(json.stderr).toContain('target missed');
  const beyond = await stayput([...winter, '--at-least', '90d'], { cwd });
  expect(beyond).toMatchObject({ code: 2, stdout: '' });
  expect(beyond.stderr).toContain('--horizon 90');
});

test('a trip is answered stop by stop and month by place, a place that comes twice once', async () => {
  const cwd = folderWith({
    'rig.yaml': SMALL,
    'trip.yaml': `${TRIP}  - { at: [41.7, -8.8], nights: 5, drive: 3 h }\n`,
  });
  const call = ['stay', 'rig.yaml', 'trip.yaml', '--step', '1h'] as const;
  const { stdout, code } = await stayput([...call, '--plot', 'grid.svg'], { cwd });
  expect(code).toBe(0);
  expect(stdout).toContain('The hardest of 3 stops: ');
  expect(stdout.match(/^41\.70, -8\.80 /gm)).toHaveLength(3); // two stops, and one row of the grid
  const svg = readFileSync(join(cwd, 'grid.svg'), 'utf8');
  expect(svg.match(/<path[^>]* fill="#c27a16" fill-opacity="[\d.]+"[^>]*><title>4[13]\.\d\d, /g)).toHaveLength(24);
  expect(svg).not.toMatch(/NaN|undefined|Infinity/);
  const document = JSON.parse((await stayput([...call, '--json'], { cwd })).stdout);
  expect(document.places).toHaveLength(2);
  expect(document.stops.map(({ from, nights, month }: Record<string, unknown>) => [from, nights, month])).toEqual([
    ['2026-07-03', 3, 7],
    ['2026-07-06', 2, 7],
    ['2026-07-08', 5, 7],
  ]);
});

test('--plot writes a whole SVG whose text can be read, light and dark', async () => {
  const cwd = folder();
  const { stderr, code } = await stayput([...STAY, '--plot', 'stay.svg'], { cwd });
  expect({ stderr, code }).toEqual({ stderr: 'wrote stay.svg\n', code: 0 });
  const svg = readFileSync(join(cwd, 'stay.svg'), 'utf8');
  expect(svg).toMatch(/^<svg [\s\S]*<\/svg>\n$/);
  for (const part of ['<title id="stay-title">', '<desc id="stay-desc">', 'role="img"', 'prefers-color-scheme: dark'])
    expect(svg).toContain(part);
  expect(svg.match(/<path[^>]* fill="#c27a16"[^>]*><title>\w{3}: /g)).toHaveLength(12);
  expect(svg.match(/<path[^>]* fill="#c27a16"/g)).toHaveLength(13); // twelve months and the key
  expect(svg).not.toMatch(/NaN|undefined|Infinity/);
});

test.each([
  [['--months', 'juno'], 'jun-aug,dec'],
  [['--months', '13'], 'jun-aug,dec'],
  [['--from-soc', '120'], 'percentage'],
  [['--at-least', 'long'], 'such as 4d'],
  [['--horizon', '0'], 'give days'],
  [['--horizon', '400'], '1 to 365'],
  [['--years', '0'], '1 to 1000'],
  [['--place', 'Porto'], 'cannot be used with'],
])('a wrong call is told and is exit code 2: %j', async (options, words) => {
  const cwd = folder();
  const { stdout, stderr, code } = await stayput([...STAY, ...options], { cwd });
  expect({ stdout, code }).toEqual({ stdout: '', code: 2 });
  expect(stderr).toContain(words);
  expect(filesIn(cwd)).toEqual(['rig.yaml', 'trip.yaml']);
});

test('a trip says where and when: --months and --at beside it are refused', async () => {
  const cwd = folder();
  for (const options of [
    ['--months', 'jun'],
    ['--at', '41.7,-8.8'],
  ]) {
    const { code, stderr } = await stayput(['stay', 'rig.yaml', 'trip.yaml', ...options], { cwd });
    expect(code).toBe(2);
    expect(stderr).toContain('the trip file says');
  }
  expect((await stayput(['stay', 'rig.yaml'], { cwd })).stderr).toContain('where does the rig stand?');
});

test.each([
  ['jun-aug,dec', [6, 7, 8, 12]],
  ['Nov-Feb', [1, 2, 11, 12]],
  ['3, march', [3]],
  ['september', [9]],
])('months as %s', (text, months) => {
  expect(monthsOption(text)).toEqual(months);
});

test.each([
  ['4d', 4],
  ['2.5 days', 2.5],
  ['7', 7],
])('a length as %s', (text, days) => {
  expect(lengthOption(text)).toBe(days);
});
