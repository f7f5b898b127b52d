import { readFileSync } from 'node:fs';
import { calibrate, compareLog, readLogTable, readRig } from '@stayput/core';
import { expect, test } from 'vitest';
import type { InventedVan } from '../../fixtures/log/invented-log.js';
import { csvOf, seededRows, seededVan } from '../../fixtures/log/seeded-vans.js';

const { rig } = readRig(readFileSync(new URL('../../../examples/log-parked.yaml', import.meta.url), 'utf8'));
const DAY_MS = 86_400_000;
/** What the generator's van gives of this rig's promise: its factor over the rig's dirt, mismatch and ageing (0.96 x 0.98). */
const promised = ({ solarFactor }: InventedVan) => solarFactor / (0.96 * 0.98);

type Faults = NonNullable<InventedVan['faults']>;
const logOf = (seed: number, faults: (startMs: number) => Faults, leaveOut = /^$/) => {
  const van = seededVan(seed);
  const lines = csvOf(seededRows({ ...van, faults: faults(van.startMs) }))
    .split('\n')
    .map((line) => line.split(','));
  const kept = lines[0]!.flatMap((heading, k) => (leaveOut.test(heading) ? [] : [k]));
  const text = lines.map((cells) => kept.map((k) => cells[k]).join(',')).join('\n');
  return { van, log: readLogTable(text, { zone: '+01:00' }) };
};
const where = ({ latDeg, lonDeg }: InventedVan) => ({ where: { at: { latDeg, lonDeg } } });
const compared = (...args: Parameters<typeof logOf>) => {
  const { van, log } = logOf(...args);
  return { van, ...compareLog(rig, log, where(van)) };
};
const halfOff =
  (fromDay: number, toDay = Infinity) =>
  (startMs: number) => ({
    offKeeps: 0.5,
    offFromMs: startMs + fromDay * DAY_MS,
    offToMs: startMs + toDay * DAY_MS,
  });

test.each([4, 12, 20, 27, 33])('half of the array off since a date is told with date and shares: seed %i', (seed) => {
  const { van, findings } = compared(seed, halfOff(12));
  const panel = findings.filter(({ code }) => code.startsWith('panel'));
  expect(panel[0]).toMatchObject({ code: 'panel_step', level: 'caution', path: 'solar' });
  const days = (Date.parse(panel[0]!.since!) - (van.startMs + 12 * DAY_MS)) / DAY_MS;
  expect(Math.abs(days)).toBeLessThan(2);
  const { keeps, level } = panel[0]!.args as { keeps: number; level: number };
  expect(Math.abs(keeps * level - 0.5 * promised(van))).toBeLessThan(0.1);
  expect(Math.abs(level - promised(van))).toBeLessThan(0.1);
  // what lacks beside it is told of the days before, and no average over both
  for (const { code, size } of panel.slice(1)) {
    expect(code).toBe('panel_even');
    expect(Math.abs(size!.value - promised(van))).toBeLessThan(0.1);
  }
});

test('a panel that is corrected within the log is told as that, with nothing amiss since', () => {
  const { findings } = compared(31, (startMs) => ({ offKeeps: 0.5, offFromMs: 0, offToMs: startMs + 11 * DAY_MS }));
  const [step, ...others] = findings.filter(({ code }) => code.startsWith('panel'));
  expect(step).toMatchObject({ code: 'panel_step', level: 'note' });
  expect(step!.until).toMatch(/^\d{4}-\d{2}-\d{2}$/);
  expect(others).toEqual([]);
});

test.each([
  ['sound vans', () => ({})],
  ['three days of snow that melts', halfOff(12, 15)],
] as [string, (startMs: number) => Faults][])('no step: %s', (_, faults) => {
  for (const seed of [1, 9, 17, 23, 31])
    expect(compared(seed, faults).findings.map(({ code }) => code)).not.toContain('panel_step');
});

test('without a light sensor a dull spell would look the same: no step and no shade is told', () => {
  for (const seed of [4, 20, 33])
    for (const { code } of compared(seed, halfOff(12), /irradiance/).findings)
      expect(['panel_step', 'panel_shade']).not.toContain(code);
});

test('a fit takes the days since the step, and says so', () => {
  const { van, log } = logOf(20, halfOff(8));
  const { fitted, notes } = calibrate(rig, log, { ...where(van), fit: ['solar', 'shade'], checkShare: 0 });
  expect(fitted.map(({ name }) => name)).toEqual(['solar factor']);
  expect(Math.abs(fitted[0]!.value - 0.5 * promised(van))).toBeLessThan(0.05);
  expect(notes.join()).toContain('the fit takes the days since');
});
