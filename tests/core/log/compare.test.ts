import { readFileSync } from 'node:fs';
import { type Comparison, compareLog, readLogTable, readRig } from '@stayput/core';
import type { LogFindingCode } from '@stayput/core/model';
import { describe, expect, test } from 'vitest';
import { bankLog, SEALED_LEAD } from '../../fixtures/log/invented-bank.js';
import { exampleLog, type InventedVan, inventedLog, localStamp, VAN } from '../../fixtures/log/invented-log.js';

const example = readRig(readFileSync(new URL('../../../examples/log-parked.yaml', import.meta.url), 'utf8')).rig;
const at = { latDeg: VAN.latDeg, lonDeg: VAN.lonDeg };

/** A van without any of the example's faults: what its rig says is what it is. */
const SOUND: InventedVan = {
  ...VAN,
  days: 24 - 1 / 24,
  solarFactor: 0.96,
  morningKeeps: 1,
  earlyDiffuse: 1,
  extraA: 0,
  alwaysOnA: 0.22,
};

/** The same with a draw all day that keeps its battery from being full by noon; its rig lists it. */
const HUNGRY: InventedVan = { ...SOUND, alwaysOnA: 1.27 };
const hungryRig = readRig(readFileSync(new URL('../../../examples/log-parked.yaml', import.meta.url), 'utf8'), {
  set: ['loads.always on.current=1.2 A'],
}).rig;

/** The log of a van as text, with the columns named. */
function logOf(van: InventedVan, columns = 'volt amp soc solar air light'.split(' ')) {
  const lines = inventedLog(van).rows.map((row) =>
    [
      localStamp(row.ms, van.offsetH(row.ms)),
      ...(columns.includes('volt') ? [row.voltV.toFixed(2)] : []),
      ...(columns.includes('amp') ? [row.currentA.toFixed(2)] : []),
      ...(columns.includes('soc') ? [(100 * row.soc).toFixed(1)] : []),
      ...(columns.includes('solar') ? [row.solarW.toFixed(1)] : []),
      ...(columns.includes('air') ? [row.airC.toFixed(1)] : []),
      ...(columns.includes('light') ? [row.irradianceWm2.toFixed(0)] : []),
    ].join(';'),
  );
  const names: Record<string, string> = {
    volt: 'Battery voltage (V)',
    amp: 'Battery current (A)',
    soc: 'State of charge (%)',
    solar: 'Solar power (W)',
    air: 'Battery temperature (C)',
    light: 'Irradiance (W/m2)',
  };
  const heading = ['Date and time', ...columns.map((column) => names[column])].join(';');
  return readLogTable([heading, ...lines, ''].join('\n'), { at, positive: 'charging', dateOrder: 'dmy' });
}

const compared = (van: InventedVan, columns?: string[], rig = example): Comparison =>
  compareLog(rig, logOf(van, columns), { where: { at } });

const found = (comparison: Comparison, code: LogFindingCode) =>
  comparison.findings.filter((finding) => finding.code === code);

describe('the example', () => {
  const comparison = compareLog(example, readLogTable(exampleLog(), { at }), { where: { at } });
  const truth = inventedLog().whole;

  test('the share of the promise that arrives is the invented one within 0.03, and inside its interval', () => {
    const share = truth.couldWh / truth.shouldWh;
    expect(Math.abs(comparison.panel!.share - share)).toBeLessThan(0.03);
    expect(comparison.panel!.low).toBeLessThan(share);
    expect(comparison.panel!.high).toBeGreaterThan(share);
  });

  test('most of it is lost before ten in the morning', () => {
    const [finding] = found(comparison, 'panel_shade');
    expect(finding!.args).toMatchObject({ kind: 'hours', toHour: VAN.beforeH });
    const early = comparison.panel!.hours.filter(({ hour }) => hour < VAN.beforeH);
    const lost = early.reduce((sum, { lostShare }) => sum + lostShare, 0);
    expect(Math.abs(lost - truth.lostEarlyShare)).toBeLessThan(0.05);
  });

  test('the draw that was added is found, with its size and its night', () => {
    const [finding] = found(comparison, 'draw_unlisted');
    expect(finding!.since).toBe('2026-03-20');
    expect(finding!.size!.value).toBeCloseTo(VAN.extraA, 1);
    expect(finding!.size!.low).toBeLessThan(VAN.extraA);
    expect(finding!.size!.high).toBeGreaterThan(VAN.extraA);
  });

  test('nothing is found that was not planted', () => {
    const planted = ['panel_shade', 'panel_even', 'draw_unlisted'];
    expect(comparison.findings.map(({ code }) => code).filter((code) => !planted.includes(code))).toEqual([]);
  });

  test('log and model stand side by side by hour and by day, over the same steps', () => {
    expect(comparison.hours).toHaveLength(24);
    expect(comparison.daily.map(({ date }) => date)).toContain('2026-03-08');
    const gap = comparison.daily.find(({ date }) => date === '2026-03-08')!;
    expect(gap.cover).toBe(0);
    expect(gap.logHarvestW).toBeNaN();
    expect(gap.modelHarvestW).toBeNaN();
    for (const key of ['socRmse', 'voltageRmse', 'harvestBias', 'loadBias'] as const)
      expect(comparison.fit[key]).toBeTypeOf('number');
  });
});

test('a sound van: no fault of panel, charge or wiring is found', () => {
  for (const seed of [11, 12, 13]) {
    const { findings } = compared({ ...SOUND, seed });
    expect(findings.filter(({ level }) => level !== 'note')).toEqual([]);
  }
});

describe('planted faults are found, and nothing else of their kind', () => {
  const cases: [string, LogFindingCode, InventedVan, LogFindingCode[]?][] = [
    ['an evenly weak panel', 'panel_even', { ...SOUND, solarFactor: 0.7 }],
    [
      'half of the array off since a day',
      'panel_step',
      { ...HUNGRY, faults: { offKeeps: 0.5, offFromMs: Date.UTC(2026, 2, 13, 23) } },
      ['counter_drift'],
    ],
    ['a controller that is too small', 'panel_clipped', { ...HUNGRY, faults: { clipW: 70 } }, ['counter_drift']],
    // so ended, the battery is never full either
    [
      'a charge that ends early',
      'charge_ends_early',
      { ...SOUND, faults: { endsAtSoc: 0.75, heldV: 13.6 } },
      ['counter_drift'],
    ],
    ['a cold battery that refuses', 'charge_cold', { ...SOUND, faults: { refusesBelowC: 0, warmerK: -14 } }],
    [
      'loads cut at half charge',
      'load_cut',
      { ...SOUND, startSoc: 0.7, solarFactor: 0.5, faults: { cutsBelowSoc: 0.55 } },
      ['panel_even', 'counter_drift'],
    ],
    [
      'a fridge that works harder',
      'fridge_climbing',
      { ...SOUND, faults: { leakTimes: 2.2, leakFromMs: Date.UTC(2026, 2, 14, 23) } },
    ],
    ['a counter that loses', 'counter_drift', { ...SOUND, faults: { counterLossPerDay: 0.2 } }],
  ];
  const own: LogFindingCode[] = cases.map(([, code]) => code);
  for (const [what, code, van, andSo = []] of cases)
    test(what, () => {
      const rig = van.alwaysOnA === HUNGRY.alwaysOnA ? hungryRig : example;
      const codes = compared(van, undefined, rig).findings.map((finding) => finding.code);
      expect(codes).toContain(code);
      const others = codes.filter((one) => own.includes(one) && one !== code);
      expect(others.filter((one) => !andSo.includes(one))).toEqual([]);
    });
});

describe('a battery of less than its rating, under a monitor that is set to the rating', () => {
  const rig = readRig(
    'battery: { chemistry: AGM, capacity: 100 Ah }\nloads: [{ name: always on, current: 0.4 A }]',
  ).rig;
  const bank = { seed: 3, monitorAh: 100, ohm: 0.02, days: 24, absorptionV: 14.4, offsetV: 0.03, curve: SEALED_LEAD };
  const codes = (capacityAh: number, depthAh: number) => {
    const log = readLogTable(bankLog({ ...bank, capacityAh, depthAh }), { zone: 'UTC' });
    return found(compareLog(rig, log, { where: { at } }), 'capacity_low');
  };

  test('is found by its voltage (curve: Linden & Reddy, from memory)', () => {
    const [finding] = codes(70, 50);
    expect(finding).toMatchObject({ level: 'caution', path: 'battery.capacity' });
    expect(Math.abs(finding!.size!.value / 0.7 - 1)).toBeLessThan(0.15);
  });

  test('is not found where the battery is sound, or hardly discharged', () => {
    expect(codes(100, 60)).toEqual([]);
    expect(codes(70, 20)).toEqual([]);
  });
});
