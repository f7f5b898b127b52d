import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { compareLog, readLogTable, tidyHeader, tidyLine } from '../../../packages/core/src/log/index.js';
import type { LogColumnName } from '../../../packages/core/src/log/types.js';
import { readRig } from '../../../packages/core/src/rig/index.js';
import { exampleLog } from '../../fixtures/log/invented-log.js';

// A panel of 186 W where the log is of 175 W: with the example's own, what the open hours give is 90.0 % of the promise, at the very edge of a finding.
const RIG = readRig(readFileSync(new URL('../../../examples/log-parked.yaml', import.meta.url), 'utf8'), {
  set: ['solar[0].power=186 W'],
}).rig;
const WHERE = { where: { at: '40.1,18.4' } } as const;
const AT = { latDeg: 40.1, lonDeg: 18.4 } as const;

const { table } = readLogTable(exampleLog(), { zone: 'Europe/Rome' });
const NAMES = Object.keys(table.values) as LogColumnName[];

/** The rows of the example as a tidy log, each written by one device or several, so many seconds apart, in columns of their own. */
function logOf(deviceOf: (name: LogColumnName) => number, apartMs: number): string {
  const devices = [...new Set(NAMES.map(deviceOf))].sort();
  const lines = [tidyHeader(NAMES)];
  for (let i = 0; i < table.rows; i++)
    for (const device of devices)
      lines.push(
        tidyLine({
          timeMs: table.timeMs[i]! + device * apartMs,
          values: Float64Array.from(NAMES, (name) =>
            deviceOf(name) === device ? table.values[name]![i]! : Number.NaN,
          ),
        }),
      );
  return `${lines.join('\n')}\n`;
}

const whole = readLogTable(
  logOf(() => 0, 0),
  { at: AT },
);
const apart = (name: LogColumnName) => (/^(solar|irradiance)/.test(name) ? 1 : 0);
const three = (name: LogColumnName) => (/^solar/.test(name) ? 1 : /^(irradiance|temperature)/.test(name) ? 2 : 0);

test.each([
  ['two devices, 20 s apart', apart, 20_000],
  ['two devices, at the same times', apart, 0],
  ['three devices, 20 s apart', three, 20_000],
] as const)('%s: the days of one device, and compare finds the same', (_name, deviceOf, apartMs) => {
  const log = readLogTable(logOf(deviceOf, apartMs), { at: AT });
  expect(log.reading.daily.map(({ date }) => date)).toEqual(whole.reading.daily.map(({ date }) => date));
  log.reading.daily.forEach((day, k) => {
    const was = whole.reading.daily[k]!;
    for (const key of ['chargedAh', 'dischargedAh', 'harvestWh'] as const)
      expect(Math.abs(day[key]! - was[key]!), `${day.date} ${key}`).toBeLessThan(0.01 * was[key]! + 0.05);
    expect([day.lowestSoc, day.highestSoc]).toEqual([was.lowestSoc, was.highestSoc]);
  });
  const found = (of: typeof whole) => compareLog(RIG, of, WHERE).findings.map(({ code }) => code);
  expect(found(log)).toEqual(found(whole));
  expect(found(log).length).toBeGreaterThan(1);
});
