import { readRig, readTrip, simulate } from '@stayput/core';
import { expect, test } from 'vitest';

test('a small LFP that a relay fills under a steady load closes its ledger (near full the Newton slope misleads)', () => {
  const { rig } = readRig(`
battery: { chemistry: LFP, capacity: 36 Ah }
alternator: { rating: 140 A, charger: { kind: relay }, cable: { length: 0.5 m, section: 4 mm2 } }
loads: [{ name: a, power: 110 W }]`);
  const { trip } = readTrip(`
startSoc: 40 %
weather: dull
stops: [{ at: [0, 0], from: 2026-12-20, nights: 1, drive: 5 h }]`);
  const { summary } = simulate(rig, trip);
  expect(Math.abs(summary.ledgerErrorWh)).toBeLessThan(1e-9 * (summary.alternatorWh + summary.loadWh));
  expect(summary.alternatorWh).toBeGreaterThan(0);
});
