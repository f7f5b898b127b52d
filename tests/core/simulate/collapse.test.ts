import { readRig, simulate, withoutTrip } from '@stayput/core';
import { expect, test } from 'vitest';

const SUMMER = withoutTrip({ at: '41.7, -8.8', from: '2026-07-03', days: 2, weather: 'clear' });

test.each([
  ['1 Ah', '5 %', '10 W'],
  ['8.68 Ah', '5 %', '10 W'],
  ['1 Ah', '100 %', '400 W'],
  ['1 Ah', '50 %', '60 W'],
])(
  '%s at %s of health that cannot bear %s: the voltage collapses, the load is cut, and the ledger closes',
  (capacity, health, power) => {
    const rig = readRig(
      JSON.stringify({
        battery: { chemistry: 'LFP', capacity, health, disconnect: 0 },
        loads: [{ name: 'lamp', power }],
      }),
    ).rig;
    for (const stepH of [1, 1 / 6, 1 / 60])
      for (const startSoc of [1, 0.7, 0.3, 0.1]) {
        const { summary, trace } = simulate(rig, { ...SUMMER, startSoc }, { stepH });
        expect(Math.abs(summary.ledgerErrorWh)).toBeLessThan(1e-9);
        expect(summary.unservedWh).toBeGreaterThan(0);
        // no battery gives more than it holds
        expect(summary.loadWh).toBeLessThanOrEqual(-summary.storedChangeWh);
        expect(trace.batteryV.every((volts) => volts > 5 && volts < 15)).toBe(true);
      }
  },
);

test.each([
  'battery: { chemistry: AGM, capacity: 2.14 Ah, disconnect: 0, floor: 0, cable: { length: 1 m, section: 4 mm2 } }, loads: [{ name: lamp, power: 17 W, hours: 3, cable: { length: 5 m, section: 1 mm2 } }]',
  'battery: { chemistry: flooded, capacity: 34.54 Ah, health: 5 %, disconnect: 0, floor: 0 }, loads: [{ name: lamp, power: 4 W }]',
])(
  'an emptied bank of an amp-hour or two behind a small PWM panel: the ledger closes to what its currents are solved to (%#)',
  (parts) => {
    const { rig } = readRig(`{ ${parts}, solar: [{ power: 5 W, controller: { kind: PWM } }] }`);
    const at = { latDeg: 0, lonDeg: 5 };
    for (const startSoc of [0.5, 0.1, 0.02]) {
      const trip = { ...withoutTrip({ at, from: '2026-01-10', days: 3 }), startSoc };
      const { summary } = simulate(rig, trip, { seed: 1, stepH: 1 });
      // 1e-5 A at 16 V through 72 h
      expect(Math.abs(summary.ledgerErrorWh)).toBeLessThan(1e-5 * 16 * 72);
    }
  },
);
