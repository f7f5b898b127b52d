import { describe, expect, test } from 'vitest';
import { folderWith, RIG, stayput } from './run-cli.js';

const VEHICLES =
  '{"ensemble": {"loads": [0.7, 1, 1.6], "heatLeak": [0.9, 1, 1.2], "harvest": [1, 0.95, 0.7], "shade": [0, 0, 0.2], "capacity": [1, 1, 0.8]}}';
const PARTS = `
batteries: [{ name: LFP 100, chemistry: LFP, capacity: 100 Ah, mass: 11 kg, price: 400 }]
panels: [{ name: flat 175, power: 175 W, mass: 3 kg, price: 190 }]
limits: { batteries: 2, panels: 2 }`;
const folder = folderWith({
  'rig.yaml': RIG,
  'fitted.yaml': `${RIG}\nensemble: ${VEHICLES.slice('{"ensemble": '.length, -1)}\n`,
  'vehicles.json': VEHICLES,
  'parts.yaml': PARTS,
  'wrong.json': '{"ensemble": {"loads": [1], "heatLeak": [1], "harvest": [-1], "shade": [0], "capacity": [1]}}',
});
const call = (...args: string[]) => stayput(args, { cwd: folder });
const AT = ['--place', 'Porto'];
const CALLS: Record<string, string[]> = {
  stay: [...AT, '--months', 'nov', '--years', '2'],
  simulate: [...AT, '--from', '2026-11-03', '--days', '5'],
  size: ['parts.yaml', ...AT, '--month', 'nov', '--years', '2', '--step', '30min'],
  tonight: [...AT, '--now', '2026-11-03 18:00', '--soc', '60', '--days', '1'],
};

describe.each(Object.entries(CALLS))('%s', (command, options) => {
  test('answers with the spread of the vehicles, from a file as from the rig itself', async () => {
    const without = await call(command, 'rig.yaml', ...options, '--json');
    const byFile = await call(command, 'rig.yaml', ...options, '--ensemble', 'vehicles.json', '--json');
    const within = await call(command, 'fitted.yaml', ...options, '--json');
    expect(byFile.stderr).toBe('');
    expect(JSON.parse(byFile.stdout)).toEqual(JSON.parse(within.stdout));
    expect(byFile.stdout).not.toBe(without.stdout);
    if (command !== 'tonight') expect(byFile.stdout).toMatch(/"vehicles": 3/);
  });

  test('says so on the screen, within 80 columns', async () => {
    const { stdout } = await call(command, 'rig.yaml', ...options, '--ensemble', 'vehicles.json');
    if (command !== 'tonight') expect(stdout).toMatch(/3\s+vehicles\s+that\s+this\s+may\s+be/);
    expect(Math.max(...stdout.split('\n').map((line) => line.length))).toBeLessThanOrEqual(80);
  });

  test('refuses a file that is none, with the place in it', async () => {
    const wrong = await call(command, 'rig.yaml', ...options, '--ensemble', 'wrong.json');
    expect(wrong.code).toBe(2);
    expect(wrong.stdout).toBe('');
    expect(wrong.stderr).toMatch(/wrong\.json.*ensemble\.harvest.*-1 where a number from 0 to 10/s);
    const other = await call(command, 'rig.yaml', ...options, '--ensemble', 'rig.yaml');
    expect(other.code).toBe(2);
    expect(other.stderr).toMatch(/this is no ensemble/);
  });
});

test('a target is met where it holds in nine of ten vehicles', async () => {
  const options = [...CALLS.simulate!, '--weather', 'dull', '--ensemble', 'vehicles.json', '--quiet'];
  const missed = await call('simulate', 'rig.yaml', ...options, '--never-below', '50');
  expect(missed.code).toBe(1);
  expect(missed.stdout).toMatch(/missed: never below 50 %: holds in \d+ % of 3\s+vehicles/);
  const met = await call('simulate', 'rig.yaml', ...options, '--never-below', '0', '--start-soc', '100');
  expect(met.stdout).toMatch(/met: never below 0 %: holds in 100 % of 3 vehicles/);
});

test('the picture and the page of a run show the band of the vehicles', async () => {
  const at = [...CALLS.simulate!, '--ensemble', 'vehicles.json'];
  const plot = await call('simulate', 'rig.yaml', ...at, '--plot', '-');
  expect(plot.stdout).toContain('8 in 10 vehicles');
  const page = await call('simulate', 'rig.yaml', ...at, '--report', '-');
  expect(page.stdout).toMatch(/of 3 vehicles that this may be/);
});
