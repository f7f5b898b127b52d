import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { filesIn, folderWith, stayput } from './run-cli.js';

const EXAMPLE = fileURLToPath(new URL('../../examples/log-parked.csv', import.meta.url));
const AT = ['--at', '40.1,18.4'] as const;

test('the first line is the answer; days, columns, reasons and gaps follow', async () => {
  const { stdout, stderr, code } = await stayput(['log', EXAMPLE, ...AT]);
  expect([stderr, code]).toEqual(['', 0]);
  expect(stdout.replaceAll('\n', ' ')).toMatch(
    /^\d+ Wh of sun and [\d.]+ Ah out of the battery a day, lowest \d+ %, full on \d+ of 35 days, 0\.4\d A always on \(.* rows over 36 days, .* kept, \d+ corrected, 2 rejected\)\./,
  );
  expect(stdout).toContain('positive in the log is discharging');
  expect(stdout).toMatch(/Fri 20 Mar .* 0\.4\d/);
  expect(stdout).toContain('the clock had lost the time');
  expect(stdout).toMatch(/1 gap, 34 h/);
  for (const line of stdout.split('\n')) expect(line.length).toBeLessThanOrEqual(80);
});

test('JSON has the keys of the contract, and nothing else is printed', async () => {
  const { stdout, stderr, code } = await stayput(['log', EXAMPLE, ...AT, '--json']);
  expect([stderr, code]).toEqual(['', 0]);
  const document = JSON.parse(stdout);
  expect(document).toMatchObject({ command: 'log', file: EXAMPLE, warnings: [] });
  const { rows, columns, span, gaps, daily } = document;
  expect(rows.kept + rows.corrected + rows.rejected).toBe(rows.read);
  expect(columns.voltage).toMatchObject({ heading: 'Battery voltage (V)', unit: 'V', tidy: 'battery_v' });
  expect(span).toMatchObject({ from: '2026-03-01T23:00:00Z', to: '2026-04-06T21:50:00Z' });
  expect(gaps).toHaveLength(1);
  expect(daily).toHaveLength(35);
  expect(daily[0]).toMatchObject({ date: '2026-03-02', rows: 144 });
});

test('the tidy log reads as itself; the rejects name each row that was not kept', async () => {
  const cwd = folderWith({});
  const first = await stayput(['log', EXAMPLE, ...AT, '--tidy', 'tidy.csv', '--rejects', 'rejects.csv', '--json'], {
    cwd,
  });
  expect(first.code).toBe(0);
  // both are written at once, and either may be done first
  for (const name of ['tidy.csv', 'rejects.csv']) expect(first.stderr).toContain(`wrote ${name}`);
  expect(filesIn(cwd)).toEqual(['rejects.csv', 'tidy.csv']);
  const { rows } = JSON.parse(first.stdout);
  const rejects = readFileSync(`${cwd}/rejects.csv`, 'utf8').trim().split('\n');
  expect(rejects[0]).toBe('line,outcome,reason,row');
  expect(rejects.length - 1).toBe(rows.corrected + rows.rejected);
  const tidy = readFileSync(`${cwd}/tidy.csv`, 'utf8');
  expect(tidy.split('\n')[0]).toBe('time,battery_v,battery_a,soc,battery_c,solar_w,irradiance_w_m2');
  const again = await stayput(['log', 'tidy.csv', '--tidy', '-'], { cwd });
  expect(again).toMatchObject({ stdout: tidy, stderr: '', code: 0 });
});

test('a log comes through standard input, and in UTF-16 as well', async () => {
  const text = readFileSync(EXAMPLE, 'utf8');
  const whole = await stayput(['log', EXAMPLE, ...AT, '--json']);
  const utf16 = Buffer.from(`\ufeff${text}`, 'utf16le');
  for (const stdin of [text, utf16, Buffer.from(utf16).swap16()]) {
    const piped = await stayput(['log', '-', ...AT, '--json'], { stdin });
    expect({ ...JSON.parse(piped.stdout), file: EXAMPLE }).toEqual(JSON.parse(whole.stdout));
  }
});

test('a time zone that makes night of day is said, from the harvest', async () => {
  const { stdout, code } = await stayput(['log', EXAMPLE, ...AT, '--zone', 'Australia/Sydney']);
  expect(code).toBe(0);
  expect(stdout.replace(/\s+/g, ' ')).toMatch(
    /Australia\/Sydney makes night of day; by the sun the log's clock runs at about UTC\+0[12]:\d\d/,
  );
});

const HEAD = 'time (UTC),voltage (V),current (A)\n';
test.each([
  ['an empty file', '', [], /log\.csv.*empty/],
  ['not a CSV', 'just\nsome words\n', [], /log\.csv:1.*not a log/],
  ['a binary file', Uint8Array.from({ length: 4096 }, (_, i) => (i * 37) % 256), [], /log\.csv.*binary/],
  ['one row', `${HEAD}2026-04-01T00:00:00,13,1\n`, [], /log\.csv:2.*one row is no log/],
  ['no time column', 'voltage (V),current (A)\n13,1\n13,2\n', [], /log\.csv:1.*no column of time.*time=/],
  ['nothing but gaps', `${HEAD}2026-04-01T00:00:00,,\n2026-04-01T00:10:00,--,NaN\n`, [], /none can be used.*no value/],
  ['an unknown zone', HEAD, ['--zone', 'Nowhere'], /"Nowhere" is not a time zone.*Europe/],
  ['an unknown order', HEAD, ['--date-order', 'ydm'], /ymd, dmy, mdy/],
  [
    'a column that is not there',
    `${HEAD}2026-04-01T00:00:00,13,1\n`,
    ['--column', 'voltage=U'],
    /no column is headed "U".*voltage \(V\)/,
  ],
  ['a place that is not', HEAD, ['--place', 'Atlantis'], /Atlantis/],
] as const)('%s: one clear message, exit 2, nothing written', async (_, content, args, says) => {
  const cwd = folderWith({ 'log.csv': content });
  const { stdout, stderr, code } = await stayput(
    ['log', 'log.csv', ...args, '--tidy', 'tidy.csv', '--rejects', 'r.csv'],
    { cwd },
  );
  expect(stderr).toMatch(says);
  expect([stdout, code]).toEqual(['', 2]);
  expect(filesIn(cwd)).toEqual(['log.csv']);
});

test('a missing log, a folder and two outputs in one file are refused', async () => {
  const cwd = folderWith({ 'log.csv': HEAD });
  for (const [args, says] of [
    [['none.csv'], /none\.csv.*no such log/],
    [['.'], /\. is a folder/],
    [['log.csv', '--tidy', 'a.csv', '--rejects', 'a.csv'], /--tidy and --rejects name the same file/],
    [['log.csv', '--tidy', '-', '--json'], /--json and --tidy - would both fill standard output/],
    [['log.csv', '--tidy', 'log.csv', '--force'], /log\.csv is read by this command/],
  ] as const) {
    const { stderr, code } = await stayput(['log', ...args], { cwd });
    expect(stderr).toMatch(says);
    expect(code).toBe(2);
  }
});

test('half a million rows come through in little memory', async () => {
  const cwd = folderWith({});
  const lines = [HEAD.trim()];
  for (let k = 0; k < 500_000; k++)
    lines.push(`${new Date(1.77e12 + k * 10_000).toISOString()},13.${k % 10},${(k % 7) - 3}`);
  const { stdout, code } = await stayput(['log', '-', '--json', '--positive', 'charging'], {
    cwd,
    stdin: lines.join('\n'),
    env: { NODE_OPTIONS: '--max-old-space-size=96' },
  });
  expect(code).toBe(0);
  expect(JSON.parse(stdout).rows).toEqual({ read: 500_000, kept: 500_000, corrected: 0, rejected: 0 });
});
