import { describe, expect, test } from 'vitest';
import { tonightFindingText } from '../../packages/cli/src/words/tonight-words.js';
import { folderWith, RIG, stayput } from './run-cli.js';

const folder = folderWith({ 'rig.yaml': RIG });
const call = (...options: string[]) =>
  stayput(['tonight', 'rig.yaml', '--place', 'Porto', '--now', '2026-10-10 18:00', ...options], { cwd: folder });
const DULL = ['--soc', '43', '--sky', 'dull, dull, fair'];

test('one screen of 40 lines by 80 columns answers: to spare, when the floor, what to do', async () => {
  const { stdout, stderr, code } = await call(...DULL);
  expect(code).toBe(0);
  expect(stderr).toBe('');
  const lines = stdout.trimEnd().split('\n');
  expect(lines.length).toBeLessThanOrEqual(40);
  expect(Math.max(...lines.map((line) => line.length))).toBeLessThanOrEqual(80);
  expect(stdout).toMatch(/Wren (can spare|lacks)|Nothing to spare/);
  expect(stdout).toMatch(/If nothing changes the floor of 20 %/);
  expect(stdout).toMatch(/battery at 43 % \(39 % to 47 %\)/);
  expect(stdout).toMatch(/Sun 11 Oct dull/);
  expect(stdout).toMatch(/100 ┤/);
});

test('--json has the keys of the contract', async () => {
  const { stdout, code } = await call(...DULL, '--json');
  expect(code).toBe(0);
  const document = JSON.parse(stdout) as Record<string, unknown>;
  expect(document).toMatchObject({
    command: 'tonight',
    rig: 'Wren',
    spareWh: { p10: expect.any(Number), p50: expect.any(Number), p90: expect.any(Number) },
    spareAtEndWh: { p10: expect.any(Number), p50: expect.any(Number), p90: expect.any(Number) },
    loads: expect.arrayContaining([expect.objectContaining({ name: 'fridge', costWh: expect.any(Number) })]),
  });
  expect(document).toHaveProperty('floorAt');
  expect(document).toHaveProperty('drive');
  expect(document).not.toHaveProperty('targets');
});

test('a promise that does not hold with the chance asked for ends with 1, one that does with 0', async () => {
  const missed = await call(...DULL, '--never-below', '42', '--chance', '90', '--quiet');
  expect(missed.code).toBe(1);
  expect(missed.stdout).toMatch(/target missed: never below 42 %/);
  const json = await call(...DULL, '--never-below', '42', '--json');
  expect(json.code).toBe(1);
  expect(json.stderr).toMatch(/target missed/);
  const met = await call('--soc', '95', '--sky', 'clear', '--never-below', '20');
  expect(met.code).toBe(0);
  expect(met.stdout).toMatch(/target met/);
});

test('a voltage on the plateau of LFP is answered with a wide band, and says so', async () => {
  const { stdout, code } = await call('--volts', '13.1 V', '--amps', '-2 A', '--days', '1');
  expect(code).toBe(0);
  expect(stdout).toMatch(/LFP stands at nearly the same\s+voltage/);
});

describe('bad input is told with what would be right', () => {
  test.each([
    [[], /what does the battery show\?.*--soc/],
    [['--soc', '103'], /soc|no state of charge/],
    [['--soc', '40', '--sky', 'dul'], /sky: "dul" is no sky \(did you mean dull\?\)/],
    [['--soc', '40', '--sky', 'dull', '--days', '2'], /leave out --days/],
    [['--soc', '40', '--chance', '20'], /above 50/],
    [['--volts', '30 V'], /stands between 8 and 16 V/],
    [['--soc', '40', '--drive', '10:00 for 1 h'], /no alternator/],
    [['--soc', '40', '--use', 'kettle 1 h'], /no load "kettle"/],
  ])('%j', async (options, message) => {
    const { stdout, stderr, code } = await call(...options);
    expect(code).toBe(2);
    expect(stdout).toBe('');
    expect(stderr).toMatch(message);
  });
});

test('each finding has its sentence', () => {
  const texts = [
    { code: 'charge_is_wide', args: { low: 0.3, high: 0.8, plateau: false } },
    { code: 'charge_is_wide', args: { low: 0.3, high: 0.8, plateau: true } },
    { code: 'below_floor_now', args: { soc: 0.1, floor: 0.2 } },
    { code: 'not_paid_back', args: { share: 0.5, days: 6 } },
    { code: 'cut_before_end', args: { share: 0.5 } },
    { code: 'rest_of_today', args: {} },
  ] as const;
  for (const one of texts) expect(tonightFindingText(one)).not.toMatch(/undefined|NaN/);
});

test('readings tell what the vehicle may be, and tonight follows those vehicles', async () => {
  const { writeFileSync } = await import('node:fs');
  writeFileSync(`${folder}/readings.yaml`, 'totals: [{ from: 2026-05-01, days: 20, solarPerDay: 400 Wh, empty: 0 }]\n');
  const told = await stayput(
    ['calibrate', 'rig.yaml', 'readings.yaml', '--place', 'Porto', '--ensemble-out', 'ensemble.json'],
    { cwd: folder },
  );
  expect(told.code).toBe(0);
  expect(told.stdout).toMatch(/By 2 readings over 20 days Wren uses/);
  expect(told.stdout).toMatch(/Twice the battery/);
  expect(told.stdout).toMatch(/What to read next/);
  expect(told.stderr).toMatch(/1000 vehicles/);
  const after = await call(...DULL, '--ensemble', 'ensemble.json', '--quiet');
  expect(after.code).toBe(0);
  const wrong = await call(...DULL, '--ensemble', 'rig.yaml');
  expect(wrong.code).toBe(2);
  expect(wrong.stderr).toMatch(/no ensemble/);
  const fit = await stayput(['calibrate', 'rig.yaml', 'readings.yaml', '--place', 'Porto', '--fit', 'solar'], {
    cwd: folder,
  });
  expect(fit.code).toBe(2);
  expect(fit.stderr).toMatch(/--fit goes with a log/);
});

test('picture and page show the next two days as a band, answer first', async () => {
  const plot = await call(...DULL, '--plot', '-');
  expect(plot.code).toBe(0);
  expect(plot.stdout).toMatch(/^<svg/);
  expect(plot.stdout).toContain('8 ways in 10');
  expect(plot.stdout).toContain('11 Oct');
  const page = await call(...DULL, '--report', '-');
  expect(page.code).toBe(0);
  expect(page.stdout).toMatch(/<h1>Wren: what can be used tonight/);
  expect(page.stdout.indexOf('If nothing changes the floor')).toBeGreaterThan(0);
  expect(page.stdout.indexOf('If nothing changes the floor')).toBeLessThan(page.stdout.indexOf('The next two days'));
});
