import { existsSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { stayput } from './run-cli.js';

const CALL = ['calibrate', 'examples/log-parked.yaml', 'examples/log-parked.csv', '--at', '40.1,18.4'];
const folder = mkdtempSync(join(tmpdir(), 'stayput-calibrate-'));

test('values, what could not be told, the check, and the way on', async () => {
  const { code, stdout, stderr } = await stayput(CALL);
  expect([code, stderr]).toEqual([0, '']);
  for (const text of [
    'solar factor',
    'morning shade',
    'always-on draw',
    'Error on the days kept back',
    '--rig-out FILE',
  ])
    expect(stdout).toContain(text);
});

test('the rig file is written whole, checks clean, and is not written over', async () => {
  const out = join(folder, 'fitted.yaml');
  const { code, stderr } = await stayput([...CALL, '--rig-out', out, '--quiet']);
  expect([code, stderr]).toEqual([0, '']);
  const before = readFileSync('examples/log-parked.yaml', 'utf8');
  const after = readFileSync(out, 'utf8');
  expect(after.startsWith(before.slice(0, before.indexOf('  floor')))).toBe(true);
  expect(after).toContain('# Found in the log of 2026-03-02 to 2026-04-06');
  expect((await stayput(['check', out])).code).toBe(0);
  const again = await stayput([...CALL, '--rig-out', out]);
  expect([again.code, again.stderr]).toEqual([2, expect.stringContaining('--force')]);
});

test('--rig-out - prints the rig and nothing else', async () => {
  const { code, stdout } = await stayput([...CALL, '--rig-out', '-', '--fit', 'always-on']);
  expect(code).toBe(0);
  expect(stdout.startsWith('# Plover')).toBe(true);
  expect(stdout).toMatch(/name: always on, current: 0\.\d+ A/);
});

test('--json: fitted values, errors before and after, one document', async () => {
  const { code, stdout } = await stayput([...CALL, '--json', '--fit', 'solar,always-on', '--check-share', '25 %']);
  const told = JSON.parse(stdout);
  expect([code, told.command, told.rig]).toEqual([0, 'calibrate', 'Plover']);
  expect(told.fitted.map(({ name }: { name: string }) => name)).toEqual(['solar factor', 'always-on draw']);
  for (const { value, low, high } of told.fitted) expect(low <= value && value <= high).toBe(true);
  expect(Object.keys(told.before)).toEqual(['socRmse', 'voltageRmse', 'harvestBias', 'loadBias']);
  expect(Object.keys(told.after)).toEqual(Object.keys(told.before));
});

test('nothing fitted is exit code 1, and no rig is written', async () => {
  const out = join(folder, 'none.yaml');
  const { code, stdout, stderr } = await stayput([...CALL, '--fit', 'inverter', '--rig-out', out]);
  expect(code).toBe(1);
  expect(stdout).toContain('Nothing could be fitted');
  expect(stderr).toContain('no rig is written');
  expect(existsSync(out)).toBe(false);
});

test.each([
  [['--fit', 'dirt'], 'there is no dirt'],
  [['--check-share', '95'], 'at most 80 %'],
  [['--set', 'battery.count=2', '--rig-out', '-'], 'put it into examples/log-parked.yaml first'],
  [['--json', '--rig-out', '-'], 'both fill standard output'],
  [['--from', '2026-04-03'], 'a fit with its check needs 6'],
  [['--from', '2027-01-01'], 'none of its days lies after 2027-01-01'],
])('refused: %s', async (more, said) => {
  const { code, stdout, stderr } = await stayput([...CALL, ...more]);
  expect(code).toBe(2);
  if (more.includes('--json')) expect(JSON.parse(stdout).errors[0].message).toContain(said);
  else expect(stdout).toBe('');
  expect(stderr).toContain(said);
});

test('without a place it is asked for', async () => {
  const { code, stderr } = await stayput(CALL.slice(0, 3));
  expect(code).toBe(2);
  expect(stderr).toMatch(/--at|--place/);
});

test('a trip file says where and which days', async () => {
  const trip = join(folder, 'trip.yaml');
  writeFileSync(
    trip,
    'startSoc: 75 %\nstops:\n  - { at: [40.1, 18.4], from: 2026-03-05, nights: 10 }\n  - { at: [40.1, 18.4], nights: 12, drive: 0 h }\n',
  );
  const { code, stdout, stderr } = await stayput([...CALL.slice(0, 3), trip, '--json']);
  expect(stderr).toBe('');
  expect(code).toBe(0);
  const { trained, checked } = JSON.parse(stdout);
  expect([trained.from, checked.to]).toEqual(['2026-03-05', '2026-03-26']);
});
