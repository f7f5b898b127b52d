import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { calibrate, readLogTable, readRig } from '../../../packages/core/src/index.js';
import { bankLog, type InventedBank, type RestedCurve, SEALED_LEAD } from '../../fixtures/log/invented-bank.js';

/** A rig whose battery is rated 100 Ah, as is the monitor. */
const rigOf = (chemistry: string) =>
  readRig(`battery: { chemistry: ${chemistry}, capacity: 100 Ah }\nloads: [{ name: always on, current: 0.4 A }]`).rig;

const BANK: Omit<InventedBank, 'curve' | 'depthAh'> = {
  seed: 3,
  capacityAh: 80,
  monitorAh: 100,
  ohm: 0.02,
  days: 24,
  absorptionV: 14.4,
  offsetV: 0.03,
};

const fitted = (chemistry: string, bank: InventedBank) =>
  calibrate(rigOf(chemistry), readLogTable(bankLog(bank), { zone: 'UTC' }), {
    where: { at: '40.1,18.4' },
    fit: ['capacity', 'resistance'],
  });
const fittedBy = ({ fitted: all }: ReturnType<typeof calibrate>, name: string) => all.find((one) => one.name === name);

test('sealed lead-acid: a monitor set to 100 Ah does not hide that 80 are left (curve: Linden & Reddy, from memory)', () => {
  const calibration = fitted('AGM', { ...BANK, curve: SEALED_LEAD, depthAh: 56 });
  const capacity = fittedBy(calibration, 'capacity')!;
  expect(capacity.by).toContain('voltage');
  expect([capacity.low <= 80, capacity.high >= 80]).toEqual([true, true]);
  expect(Math.abs(capacity.value / 80 - 1)).toBeLessThan(0.15); // what makers' curves differ by
  expect(capacity.high).toBeLessThan(98);
  expect(calibration.rig.battery.health).toBeCloseTo(capacity.value / 100, 6);
});

test('of two batteries the file is told what each has, and what both have', () => {
  const { rig } = readRig(
    'battery: { chemistry: AGM, capacity: 30 Ah, count: 2 }\nloads: [{ name: lamp, current: 0.4 A }]',
  );
  const log = readLogTable(bankLog({ ...BANK, curve: SEALED_LEAD, depthAh: 56 }), { zone: 'UTC' });
  const capacity = fittedBy(calibrate(rig, log, { where: { at: '40.1,18.4' }, fit: ['capacity'] }), 'capacity')!;
  const [{ path, value, comment } = { path: [], value: '', comment: '' }] = capacity.writes;
  expect(path).toEqual(['battery', 'capacity']);
  const [, bank, each] = /: (\d+) Ah \(.*\) in the whole bank, ([\d.]+ Ah) in each of its 2 batteries\.$/.exec(
    comment!,
  )!;
  expect(each).toBe(value);
  expect(Math.abs(Number(bank) - 2 * Number.parseFloat(each!))).toBeLessThan(0.6); // rounding
  expect(Math.abs(Number(bank) / 80 - 1)).toBeLessThan(0.15);
});

test('sealed lead-acid that is hardly discharged: the counter is no measurement, and that is said', () => {
  const calibration = fitted('AGM', { ...BANK, curve: SEALED_LEAD, depthAh: 25 });
  expect(fittedBy(calibration, 'capacity')).toBeUndefined();
  expect(calibration.untold.find(({ fit }) => fit === 'capacity')!.why).toContain('cannot be estimated from voltage');
});

test('without voltage and state of charge neither capacity nor resistance can be told', () => {
  const text = bankLog({ ...BANK, curve: SEALED_LEAD, depthAh: 56 })
    .split('\n')
    .map((line) =>
      line
        .split(',')
        .filter((_, k) => k !== 1 && k !== 3)
        .join(','),
    )
    .join('\n');
  const { fitted: all, untold } = calibrate(rigOf('AGM'), readLogTable(text, { zone: 'UTC', positive: 'charging' }), {
    where: { at: '40.1,18.4' },
    fit: ['capacity', 'resistance'],
  });
  expect(all).toEqual([]);
  expect(untold.map(({ name, why }) => `${name}: ${why}`).join('\n')).toMatch(
    /resistance: the log has no voltage[\s\S]*capacity: cannot be estimated/,
  );
});

test.each([0.01, 0.02, 0.04])('a resistance of %s ohm is in the interval', (ohm) => {
  const { low, high } = fittedBy(fitted('LFP', { ...BANK, ohm, curve: FLAT, depthAh: 40 }), 'resistance')!;
  expect(1000 * ohm).toBeGreaterThan(low);
  expect(1000 * ohm).toBeLessThan(high);
  expect((high - low) / (1000 * ohm)).toBeLessThan(0.6);
});

/** A plain flat plateau: no outside curve is needed where only differences count. */
const FLAT: RestedCurve = { soc: [0, 0.1, 1], volts: [10, 12.8, 13.3] };

const CELL = new URL('../../../../shared/data/battery/lfp-26650-cell-rested-voltage-20c.csv', import.meta.url);

describe.skipIf(!existsSync(CELL))(
  'with the rested voltage of a measured LFP cell (open data beside the repository, else skipped)',
  () => {
    /** ARTS-Lab, University of South Carolina, 26650 cell characterization, 2023: SoC = 1 − discharged / 2.19 Ah; four cells. */
    const curve = (): RestedCurve => {
      const points = readFileSync(CELL, 'utf8')
        .trim()
        .split('\n')
        .slice(1)
        .map((line) => line.split(',').map(Number))
        .map(([, ah, volts]) => ({ soc: Math.max(0, 1 - ah! / 2.19), volts: 4 * volts! }))
        .reverse();
      return { soc: points.map(({ soc }, k) => (k === 0 ? 0 : soc)), volts: points.map(({ volts }) => volts) };
    };

    test.each([60, 70, 80, 90])(
      '%s Ah left of 100 are found from the knee within 5 %, though the monitor counts 100',
      (capacityAh) => {
        const bank = { ...BANK, capacityAh, ohm: 0.012, absorptionV: 14.2, curve: curve(), depthAh: 0.95 * capacityAh };
        const capacity = fittedBy(fitted('LFP', bank), 'capacity')!;
        expect(capacity.by).toContain('voltage');
        expect(Math.abs(capacity.value / capacityAh - 1)).toBeLessThan(0.05);
        expect([capacity.low <= capacityAh, capacity.high >= capacityAh]).toEqual([true, true]);
      },
    );

    test('before the knee the voltage of LFP tells nothing, and that is said', () => {
      const bank = { ...BANK, ohm: 0.012, absorptionV: 14.2, curve: curve(), depthAh: 56 };
      const { untold } = fitted('LFP', bank);
      expect(untold.find(({ fit }) => fit === 'capacity')!.why).toContain('flat until the last tenth');
    });
  },
);
