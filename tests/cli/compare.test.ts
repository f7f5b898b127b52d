import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { filesIn, folderWith, stayput } from './run-cli.js';

const example = (name: string) => fileURLToPath(new URL(`../../examples/${name}`, import.meta.url));
const RIG = example('log-parked.yaml');
const LOG = example('log-parked.csv');
const AT = ['--at', '40.1,18.4'] as const;

test('the first line is the answer; findings with their evidence follow, then log and model side by side', async () => {
  const { stdout, stderr, code } = await stayput(['compare', RIG, LOG, ...AT]);
  expect([stderr, code]).toEqual(['', 0]);
  const text = stdout.replace(/\n */g, ' ');
  expect(text).toMatch(/^Something shades your panel from 06:00 to 10:00/);
  expect(text).toMatch(/Something draws 0\.3\d? A more day and night since 2026-03-20/);
  expect(text).toContain("the log's own irradiance");
  expect(text).toContain('stayput calibrate');
  for (const line of stdout.split('\n')) expect(line.length).toBeLessThanOrEqual(80);
});

test('JSON has the keys of the contract, and nothing else is printed', async () => {
  const { stdout, stderr, code } = await stayput(['compare', RIG, LOG, ...AT, '--json']);
  expect([stderr, code]).toEqual(['', 0]);
  const document = JSON.parse(stdout);
  expect(document).toMatchObject({ command: 'compare', rig: 'Plover', log: LOG, warnings: [], days: 36 });
  for (const key of ['socRmse', 'voltageRmse', 'harvestBias', 'loadBias'])
    expect(document.fit[key]).toEqual(expect.any(Number));
  for (const finding of document.findings)
    expect(finding).toMatchObject({
      code: expect.any(String),
      level: expect.stringMatching(/^(note|caution|danger)$/),
      path: expect.any(String),
      text: expect.any(String),
      evidence: expect.stringMatching(/\d/),
    });
  expect(document.hours).toHaveLength(24);
  expect(document.daily).toHaveLength(36);
  expect(document.traces).toBeUndefined();
});

test('a part of the log can be taken; --quiet leaves the answer', async () => {
  const quiet = await stayput(['compare', RIG, LOG, ...AT, '--from', '2026-03-25', '--to', '2026-04-02', '--quiet']);
  expect(quiet.code).toBe(0);
  expect(quiet.stdout.trim().split('\n').length).toBeLessThanOrEqual(2);
  const { stdout } = await stayput([
    'compare',
    RIG,
    LOG,
    ...AT,
    '--from',
    '2026-03-25',
    '--to',
    '2026-04-02',
    '--json',
  ]);
  expect(JSON.parse(stdout)).toMatchObject({ from: '2026-03-25', to: '2026-04-02', days: 9 });
});

test('a trip says where and when instead of --at', async () => {
  const cwd = folderWith({
    'trip.yaml': 'name: parked\nstops:\n  - { at: [40.1, 18.4], from: 2026-03-02, nights: 36 }\n',
  });
  const byTrip = await stayput(['compare', RIG, LOG, 'trip.yaml', '--json'], { cwd });
  const byAt = await stayput(['compare', RIG, LOG, ...AT, '--json']);
  expect(JSON.parse(byTrip.stdout)).toEqual(JSON.parse(byAt.stdout));
});

test('a clock that makes night of day is said before all else, and the panel is not judged by it', async () => {
  const { stdout } = await stayput(['compare', RIG, LOG, ...AT, '--zone', 'UTC-08:00', '--json']);
  const { findings, panel, untold } = JSON.parse(stdout);
  expect(findings[0]).toMatchObject({ code: 'log_clock', level: 'caution' });
  expect(findings[0].text).toMatch(/night of day/);
  expect(panel).toBeUndefined();
  expect(untold.join()).toContain('clock');
});

test('without irradiance the clear sky serves, scaled by the panel, and that is said', async () => {
  const narrow = readFileSync(LOG, 'utf8').replace(/;[^;\n]*$/gm, '');
  const cwd = folderWith({ 'log.csv': narrow });
  const { stdout } = await stayput(['compare', RIG, 'log.csv', ...AT, '--json'], { cwd });
  const { light, sources, findings } = JSON.parse(stdout);
  expect(light).toBe('clear sky');
  expect(sources.join()).toContain('best days');
  expect(findings.map((finding: { code: string }) => finding.code)).toContain('panel_shade');
});

describe('what cannot be compared is refused, in words that say what would be right', () => {
  const hourly = (everyDays: number) =>
    ['time,Battery voltage (V),Battery current (A)']
      .concat(
        Array.from({ length: 8 }, (_, k) => `2026-03-${String(1 + k * everyDays).padStart(2, '0')} 12:00,13.1,-0.5`),
      )
      .join('\n');
  const cases: [string, string, string[], RegExp][] = [
    ['an empty file', '', [...AT], /the file is empty/],
    ['no CSV', 'hello, this is no log', [...AT], /one line only/],
    ['one row', 'time,voltage (V)\n2026-03-02 00:00,13.1\n', [...AT], /one row is no log/],
    ['no time', 'voltage (V),current (A)\n13,1\n13,2\n', [...AT], /no column of time/],
    [
      'a row every few days',
      hourly(3),
      [...AT, '--positive', 'charging'],
      /more than a day apart.*an hour apart or less/,
    ],
    [
      'a row every six hours',
      `time,Battery voltage (V)\n${[0, 6, 12, 18].map((h) => `2026-03-02 ${h}:00,13.1`).join('\n')}`,
      [...AT],
      /6 h apart/,
    ],
    ['nowhere', '', [], /--place NAME, or --at LAT,LON/],
  ];
  for (const [what, log, where, message] of cases)
    test(what, async () => {
      const cwd = folderWith({ 'log.csv': log });
      const { stdout, stderr, code } = await stayput(['compare', RIG, 'log.csv', ...where], { cwd });
      expect([stdout, code]).toEqual(['', 2]);
      expect(stderr).toMatch(message);
      expect(stderr).not.toMatch(/\n\s+at /);
    });

  test('days that the log does not have', async () => {
    const { stderr, code } = await stayput(['compare', RIG, LOG, ...AT, '--from', '2027-01-01']);
    expect(code).toBe(2);
    expect(stderr).toMatch(/from 2026-03-02 to 2026-04-06/);
  });

  test('a weather file of other days', async () => {
    const weather = example('coast-weather-invented.csv');
    const { stderr, code } = await stayput(['compare', RIG, LOG, ...AT, '--weather', weather]);
    expect(code).toBe(2);
    expect(stderr).toMatch(/holds 2026-10-01.*the run needs 2026-03-0/);
  });

  test('two of them from standard input', async () => {
    const { stderr, code } = await stayput(['compare', '-', '-', ...AT]);
    expect(code).toBe(2);
    expect(stderr).toMatch(/only one of rig, log and trip/);
  });

  test('a result file that exists is kept', async () => {
    const cwd = folderWith({ 'out.txt': 'mine' });
    const { code } = await stayput(['compare', RIG, LOG, ...AT, '--out', 'out.txt'], { cwd });
    expect(code).toBe(2);
    expect(readFileSync(`${cwd}/out.txt`, 'utf8')).toBe('mine');
    expect(filesIn(cwd)).toEqual(['out.txt']);
  });
});

test('a page and a picture of it, whatever the rig is called', async () => {
  const cwd = folderWith({ 'rig.yaml': readFileSync(RIG, 'utf8').replace('name: Plover', 'name: "<b>&\\"]]>"') });
  const ended = await stayput(['compare', 'rig.yaml', LOG, ...AT, '--report', 'page.html', '--plot', 'soc.svg'], {
    cwd,
  });
  expect(ended.code).toBe(0);
  const page = readFileSync(`${cwd}/page.html`, 'utf8');
  expect(page).toContain('Something shades your panel');
  expect(page).not.toContain('<b>&');
  expect(page.match(/<svg/g)!.length).toBeGreaterThanOrEqual(2);
  expect(readFileSync(`${cwd}/soc.svg`, 'utf8')).toMatch(/^<svg[\s\S]*state of charge, log and model/);
});

test.each(['compare', 'calibrate'])(
  '%s: what is dangerous in the rig is hidden neither by --quiet nor by --json',
  async (command) => {
    const flooded = readFileSync(RIG, 'utf8').replace('chemistry: LFP', 'chemistry: flooded\n  stands: cabin');
    const cwd = folderWith({ 'rig.yaml': flooded });
    const danger = /danger.*hydrogen/;
    expect((await stayput([command, 'rig.yaml', LOG, ...AT, '--quiet'], { cwd })).stdout.replace(/\n */g, ' ')).toMatch(
      danger,
    );
    expect((await stayput([command, 'rig.yaml', LOG, ...AT, '--quiet', '--json'], { cwd })).stderr).toMatch(danger);
  },
);
