import { expect, test } from 'vitest';
import { readLog, readLogTable } from '../../../packages/core/src/log/index.js';
import { exampleLog, type InventedVan, inventedLog, PLANTED, VAN } from '../../fixtures/log/invented-log.js';

const ZONE = { zone: 'Europe/Rome' } as const;

test('the example log is what its generator makes', async () => {
  await expect(exampleLog()).toMatchFileSnapshot('../../../examples/log-parked.csv');
});

test('the invented panel gives about 71 % of what it should, most of the loss before ten in the morning', () => {
  const { gaveWh, promisedWh, lostEarlyShare } = inventedLog();
  expect(Math.abs(gaveWh / promisedWh - 0.71)).toBeLessThan(0.01);
  expect(lostEarlyShare).toBeGreaterThan(0.6);
});

test('each planted fault of the example is found, and nothing else', () => {
  const { rows, reasons, gapHours, gapCount, currentSign, socResets } = readLog(exampleLog(), ZONE);
  const count = Object.fromEntries(reasons.map(({ code, count: n }) => [code, n]));
  expect(count).toEqual({
    'clock reset': PLANTED.lostClockRows,
    duplicate: PLANTED.duplicates,
    'out of order': PLANTED.lateRows,
    'text in a number cell': PLANTED.textCells,
    'impossible value': PLANTED.impossible,
    spike: PLANTED.spikes,
    'cut short': PLANTED.cutShort,
  });
  expect(rows.kept + rows.corrected + rows.rejected).toBe(rows.read);
  expect([gapCount, gapHours]).toEqual([1, PLANTED.gapH]);
  expect(currentSign).toMatchObject({ positive: 'discharging', by: 'state of charge' });
  expect(socResets).toEqual([]);
});

test('after mending, every row stands at its true time, with what the van had there', () => {
  const { table } = readLogTable(exampleLog(), ZONE);
  const truth = new Map(inventedLog().rows.map((row) => [row.ms, row]));
  expect(table.rows).toBeGreaterThan(4900);
  for (let k = 0; k < table.rows; k++) {
    expect(truth.has(table.timeMs[k]!), `no true row at ${table.timeMs[k]}`).toBe(true);
    const row = truth.get(table.timeMs[k]!)!;
    const { voltage, current, soc } = table.values;
    if (!Number.isNaN(voltage![k]!)) expect(Math.abs(voltage![k]! - row.voltV)).toBeLessThanOrEqual(0.00501);
    if (!Number.isNaN(current![k]!)) expect(Math.abs(current![k]! - row.currentA)).toBeLessThanOrEqual(0.00501);
    if (!Number.isNaN(soc![k]!)) expect(Math.abs(soc![k]! - row.soc)).toBeLessThanOrEqual(0.000501);
  }
});

/** Sums of the truth by day, worked out here. */
function truthOf(van: InventedVan) {
  const { rows } = inventedLog(van);
  const days = new Map<string, { inAh: number; outAh: number; harvestWh: number; lowest: number }>();
  for (const { ms, currentA, solarW, soc } of rows) {
    const date = new Date(ms + van.offsetH(ms) * 3.6e6).toISOString().slice(0, 10);
    const day = days.get(date) ?? { inAh: 0, outAh: 0, harvestWh: 0, lowest: 1 };
    days.set(date, day);
    const hours = van.stepMin / 60;
    if (currentA > 0) day.inAh += currentA * hours;
    else day.outAh -= currentA * hours;
    day.harvestWh += solarW * hours;
    day.lowest = Math.min(day.lowest, soc);
  }
  return days;
}

test('the days agree with the generator: charge in and out, harvest, lowest', () => {
  const { daily } = readLog(exampleLog(), ZONE);
  const truth = truthOf(VAN);
  const whole = daily.filter(({ gapH }) => gapH === 0);
  expect(whole.length).toBe(33); // the gap touches three of 36
  for (const day of whole) {
    const { inAh, outAh, harvestWh, lowest } = truth.get(day.date)!;
    // cells are rounded to 0.01 A, 1 W and 0.1 %, and the planted cells that were cleared are up to 10 min of 10 A or 100 W
    expect(Math.abs(day.chargedAh! - inAh)).toBeLessThan(0.6);
    expect(Math.abs(day.dischargedAh! - outAh)).toBeLessThan(0.6);
    expect(Math.abs(day.harvestWh! - harvestWh)).toBeLessThan(35);
    expect(Math.abs(day.lowestSoc! - lowest)).toBeLessThan(0.0011);
  }
});

test.each([
  { alwaysOnA: 0.15, noiseA: 0.02, seed: 7 },
  { alwaysOnA: 0.4, noiseA: 0.05, seed: 8 },
  { alwaysOnA: 1.2, noiseA: 0.1, seed: 9 },
])(
  'an always-on draw of $alwaysOnA A is found within 0.1 A under noise of $noiseA A, with and without 0.3 A more',
  (part) => {
    const van = { ...VAN, ...part, days: 36 - 1 / 24 };
    const text = [
      'time (UTC),battery voltage (V),battery current (A),SoC (%),solar power (W)',
      ...inventedLog(van).rows.map(({ ms, voltV, currentA, soc, solarW }) =>
        [new Date(ms).toISOString(), voltV, currentA, 100 * soc, solarW].join(','),
      ),
    ].join('\n');
    const { daily, counterAh } = readLog(text, ZONE);
    for (const { date, alwaysOnA } of daily) {
      const truth = part.alwaysOnA + (date >= '2026-03-20' ? van.extraA : 0);
      expect(Math.abs(alwaysOnA! - truth), date).toBeLessThan(0.1);
    }
    // the generator's counter takes 100 Ah as full
    expect(Math.abs(counterAh! - van.capacityAh)).toBeLessThan(5);
  },
);
