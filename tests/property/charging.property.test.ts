import { type Rig, readRig, readTrip, simulate } from '@stayput/core';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { rigText, tripText } from './random-rig.js';

/** Fridges that cut themselves out save power by failing, which would make "fails less" and "lasts longer" contradict. */
const withoutFridges = (rig: Rig): Rig => ({ ...rig, loads: rig.loads.filter((load) => load.kind !== 'fridge') });
const times = (rig: Rig, factor: number): Rig => ({
  ...rig,
  battery: {
    ...rig.battery,
    capacityAh: rig.battery.capacityAh * factor,
    maxChargeA: rig.battery.maxChargeA * factor,
    maxDischargeA: (rig.battery.maxDischargeA ?? Infinity) * factor,
  },
});

describe('any rig on any trip', () => {
  test('LFP without a heater is never charged below 0 °C, and no charge is beyond what the battery may take', () => {
    fc.assert(
      fc.property(rigText, tripText, (rigFile, tripFile) => {
        const { rig } = readRig(rigFile);
        const { trace, conditions } = simulate(rig, readTrip(tripFile).trip);
        // Behind a relay voltages and resistances set the current: there only the cells' own limit holds.
        const isHeld = (step: number) =>
          rig.alternator?.charger.kind !== 'relay' || conditions.itinerary.driving[step] === 0;
        for (let i = 0; i < trace.grid.steps; i++) {
          const amps = trace.batteryA[i]!;
          if (rig.battery.chemistry === 'LFP' && trace.batteryC[i]! < 0) expect(amps).toBeLessThanOrEqual(1e-6);
          if (isHeld(i)) expect(amps).toBeLessThanOrEqual(rig.battery.maxChargeA * (1 + 1e-9) + 1e-6);
        }
      }),
      { numRuns: 60 },
    );
  }, 300_000);

  test('no charger gives more than its rating', () => {
    fc.assert(
      fc.property(rigText, tripText, (rigFile, tripFile) => {
        const { rig } = readRig(rigFile);
        const run = simulate(rig, readTrip(tripFile).trip);
        const { alternatorW, mainsW, pvHarvestW, batteryV } = run.trace;
        const { driving, mains } = run.conditions.itinerary;
        // A charger stands above the battery by the drops between, so its terminals are taken at 16 V at most.
        const maxV = 15.5;
        for (let i = 0; i < run.trace.grid.steps; i++) {
          expect(batteryV[i]!).toBeLessThan(maxV);
          if (rig.alternator?.charger.kind === 'dcdc') {
            // Over its efficiency, and what is lost in the cable before it: at most half the voltage.
            const { currentA, efficiency } = rig.alternator.charger;
            expect(alternatorW[i]!).toBeLessThanOrEqual((driving[i]! * currentA * 16) / efficiency / 0.5);
          }
          expect(alternatorW[i]!).toBeLessThanOrEqual(
            (rig.alternator ? driving[i]! * rig.alternator.ratingA * rig.alternator.voltageV : 0) + 1e-6,
          );
          expect(mainsW[i]!).toBeLessThanOrEqual(
            (rig.mains ? (mains[i]! * rig.mains.currentA * 16) / rig.mains.efficiency : 0) + 1e-6,
          );
          expect(pvHarvestW[i]!).toBeLessThanOrEqual(
            rig.solar.reduce((sum, array) => sum + array.powerW * array.count, 0) * 1.4 + 1e-6,
          );
        }
      }),
      { numRuns: 40 },
    );
  }, 300_000);

  test('the causes of held-back charge account for all spilled sun', () => {
    fc.assert(
      fc.property(rigText, tripText, (rigFile, tripFile) => {
        const { charging, summary, wear } = simulate(readRig(rigFile).rig, readTrip(tripFile).trip);
        const spilledWh = Object.values(charging.spilledWh).reduce((sum, wh) => sum + wh, 0);
        expect(spilledWh).toBeCloseTo(summary.pvSpilledWh, 6);
        expect(wear.yearsTo80.low <= wear.yearsTo80.mid && wear.yearsTo80.mid <= wear.yearsTo80.high).toBe(true);
        expect(wear.longestWithoutFullH <= 24 * summary.days + 3).toBe(true);
      }),
      { numRuns: 40 },
    );
  }, 300_000);
});

describe('a bigger battery, full at the start', () => {
  const offHours = (rig: Rig, tripFile: string) =>
    simulate(rig, { ...readTrip(tripFile).trip, startSoc: 1 }).summary.hoursOff;
  const factor = fc.double({ min: 1.2, max: 3, noNaN: true });

  test('never has more hours off when nothing charges', () => {
    fc.assert(
      fc.property(rigText, tripText, factor, (rigFile, tripFile, more) => {
        const { alternator: _, mains: __, ...rest } = withoutFridges(readRig(rigFile).rig);
        const dark = { ...rest, solar: [] };
        expect(offHours(times(dark, more), tripFile)).toBeLessThanOrEqual(offHours(dark, tripFile) + 1e-6);
      }),
      { numRuns: 40 },
    );
  }, 300_000);

  // With a charger, hysteresis lets a bigger one wait longer once it is off: 5 % of it are more amp-hours to win back.
  test('is never off in a run in which a smaller one is not', () => {
    fc.assert(
      fc.property(rigText, tripText, factor, (rigFile, tripFile, more) => {
        const rig = withoutFridges(readRig(rigFile).rig);
        if (offHours(rig, tripFile) === 0) expect(offHours(times(rig, more), tripFile)).toBe(0);
      }),
      { numRuns: 60 },
    );
  }, 300_000);
});
