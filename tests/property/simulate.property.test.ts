import { type Run, readRig, readTrip, simulate } from '@stayput/core';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { rigText, tripText } from './random-rig.js';

const runOf = (rig: string, trip: string, stepH?: number): Run =>
  simulate(readRig(rig).rig, readTrip(trip).trip, stepH === undefined ? {} : { stepH });

const throughputWh = ({ summary: s }: Run) =>
  s.pvHarvestWh + s.alternatorWh + s.mainsWh + s.loadWh + Object.values(s.lossWh).reduce((sum, loss) => sum + loss, 0);

describe('any rig on any trip', () => {
  test('the ledger closes to 1e-9 of the throughput, and so does each day', () => {
    fc.assert(
      fc.property(rigText, tripText, (rig, trip) => {
        const run = runOf(rig, trip);
        expect(Math.abs(run.summary.ledgerErrorWh)).toBeLessThanOrEqual(1e-9 * throughputWh(run) + 1e-9);
        for (const day of run.daily) {
          const error = day.pvHarvestWh + day.alternatorWh + day.mainsWh - day.loadWh - day.lossWh - day.storedChangeWh;
          expect(Math.abs(error)).toBeLessThanOrEqual(1e-9 * throughputWh(run) + 1e-9);
        }
      }),
      { numRuns: 150 },
    );
  }, 300_000);

  test('nothing is negative or beyond its bounds, and what is available is harvested or spilled', () => {
    fc.assert(
      fc.property(rigText, tripText, (rig, trip) => {
        const run = runOf(rig, trip);
        const { trace, summary } = run;
        for (let i = 0; i < trace.grid.steps; i++) {
          expect(trace.soc[i]! >= 0 && trace.soc[i]! <= 1).toBe(true);
          expect(trace.pvHarvestW[i]! >= 0 && trace.pvHarvestW[i]! <= trace.pvAvailableW[i]! * (1 + 1e-9)).toBe(true);
          expect(trace.loadW[i]! >= 0 && trace.unservedW[i]! >= -1e-9).toBe(true);
          expect(Number.isFinite(trace.batteryV[i]!) && trace.batteryV[i]! > 5).toBe(true);
        }
        for (const loss of Object.values(summary.lossWh)) expect(loss).toBeGreaterThanOrEqual(-1e-6);
        expect(summary.pvSpilledWh + summary.pvHarvestWh).toBeCloseTo(summary.pvAvailableWh, 6);
        const days = (pick: (day: Run['daily'][number]) => number) =>
          run.daily.reduce((sum, day) => sum + pick(day), 0);
        expect(days((day) => day.pvHarvestWh)).toBeCloseTo(summary.pvHarvestWh, 6);
        expect(days((day) => day.loadWh)).toBeCloseTo(summary.loadWh, 6);
        expect(run.loads.reduce((sum, load) => sum + load.servedWh, 0)).toBeCloseTo(summary.loadWh, 6);
        expect(run.loads.reduce((sum, load) => sum + load.unservedWh, 0)).toBeCloseTo(summary.unservedWh, 6);
      }),
      { numRuns: 60 },
    );
  }, 300_000);

  test('the same input gives the same output, to the last bit', () => {
    fc.assert(
      fc.property(rigText, tripText, (rig, trip) => {
        expect(runOf(rig, trip).summary).toEqual(runOf(rig, trip).summary);
      }),
      { numRuns: 15 },
    );
  }, 300_000);
});
