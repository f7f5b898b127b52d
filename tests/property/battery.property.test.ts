import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  batteryModel,
  heatedTemperature,
  ocvAt,
  rainflow,
  storedWh,
  tableAt,
  wear,
} from '../../packages/core/src/battery/index.js';
import { dcdcInputA, dcdcMaxInputA } from '../../packages/core/src/charge/index.js';
import { kineticMaxDischargeA } from '../oracle/kinetic.js';
import { invented } from '../published/battery-bank.js';
import { charged } from '../published/battery-bench.js';
import { wellsRun } from '../published/battery-wells.js';
import { runOn } from '../published/bench.js';

const real = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const chemistry = fc.constantFrom('LFP', 'AGM', 'gel', 'flooded' as const);

test('the available well of a run stays between empty and all that is there, up to the largest current', () => {
  fc.assert(
    fc.property(real(0.05, 1), real(0.01, 5), real(0.02, 1), real(0, 1), (c, kPerH, fill, share) => {
      const startAh = 100 * fill;
      const maxA = Math.min(kineticMaxDischargeA(c * startAh, (1 - c) * startAh, 1, c, kPerH), startAh);
      const run = wellsRun({ qmaxAh: 100, startAh, c, kPerH, currentA: -share * maxA, hours: 1, stepH: 1 / 6 });
      expect(run.availableAh).toBeGreaterThanOrEqual(-1e-9);
      expect(run.availableAh).toBeLessThanOrEqual(startAh - share * maxA + 1e-6);
    }),
    { numRuns: 30 },
  );
});

test('energy over charge between two states of charge lies between their rested voltages', () => {
  fc.assert(
    fc.property(chemistry, real(0, 1), real(0, 1), (kind, a, b) => {
      fc.pre(Math.abs(a - b) > 1e-6);
      const model = batteryModel(invented(kind));
      const meanV = (storedWh(model, a) - storedWh(model, b)) / ((a - b) * model.capacityAh);
      expect(meanV).toBeGreaterThanOrEqual(ocvAt(model, Math.min(a, b)) - 1e-6);
      expect(meanV).toBeLessThanOrEqual(ocvAt(model, Math.max(a, b)) + 1e-6);
    }),
  );
});

test('a bigger bank holds more, resists less and accepts more', () => {
  fc.assert(
    fc.property(chemistry, real(10, 400), real(1, 400), real(0, 1), (kind, capacityAh, moreAh, soc) => {
      const small = batteryModel(invented(kind, { capacityAh }));
      const big = batteryModel(invented(kind, { capacityAh: capacityAh + moreAh }));
      expect(storedWh(big, soc)).toBeGreaterThanOrEqual(storedWh(small, soc));
      expect(tableAt(big.dischargeOhm, soc)).toBeLessThan(tableAt(small.dischargeOhm, soc));
      expect(tableAt(big.chargeOhm, soc)).toBeLessThan(tableAt(small.chargeOhm, soc));
    }),
  );
});

test('rainflow loses nothing: ranges by count are half of all the ways up and down', () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: 0, max: 100 }), { maxLength: 200 }), (series) => {
      let travel = 0;
      for (let i = 1; i < series.length; i++) travel += Math.abs(series[i]! - series[i - 1]!);
      const counted = rainflow(series).reduce((sum, { range, count }) => sum + 2 * range * count, 0);
      expect(counted).toBe(travel);
    }),
  );
});

test('wear: deeper use never lasts longer, and the spread is in order', () => {
  fc.assert(
    fc.property(chemistry, real(0, 0.9), real(0.01, 0.1), real(-20, 50), (kind, depth, deeper, celsius) => {
      const use = (d: number) => Float64Array.from({ length: 240 }, (_, h) => (h % 24 < 12 ? 1 : 1 - d));
      const shallow = wear(use(depth), 1, celsius, kind).yearsTo80;
      const deep = wear(use(depth + deeper), 1, celsius, kind).yearsTo80;
      expect(deep.mid).toBeLessThanOrEqual(shallow.mid * (1 + 1e-12));
      expect(shallow.low <= shallow.mid && shallow.mid <= shallow.high).toBe(true);
    }),
  );
});

test('a heater never runs more than all the time, and with it the cells are never colder', () => {
  fc.assert(
    fc.property(
      fc.array(real(-30, 30), { minLength: 1, maxLength: 100 }),
      real(0, 24),
      real(0, 200),
      real(0.5, 50),
      (air, lagH, powerW, whPerK) => {
        const airC = Float64Array.from(air);
        const heated = heatedTemperature(airC, 0.5, lagH, { powerW, belowC: 5 }, whPerK, air[0]!);
        const plain = heatedTemperature(airC, 0.5, lagH, { powerW: 0, belowC: 5 }, whPerK, air[0]!);
        for (let i = 0; i < airC.length; i++) {
          expect(heated.onShare[i]! >= 0 && heated.onShare[i]! <= 1 + 1e-12).toBe(true);
          expect(heated.cellC[i]).toBeGreaterThanOrEqual(plain.cellC[i]! - 1e-9);
        }
      },
    ),
  );
});

test('what a DC-DC charger may take at most is what its output then takes, and no more than the alternator has left', () => {
  fc.assert(
    fc.property(real(0.8, 0.97), real(0, 150), real(11, 15), real(0, 0.2), (efficiency, availableA, terminalV, ohm) => {
      const inputA = dcdcMaxInputA(availableA, terminalV, 11.5, ohm);
      const outputW = efficiency * (terminalV - inputA * ohm) * inputA;
      expect(inputA).toBeLessThanOrEqual(availableA);
      expect(dcdcInputA(outputW, efficiency, terminalV, ohm)).toBeCloseTo(inputA, 6);
    }),
  );
});

test('a colder battery never gives more, whatever draws from it', () => {
  fc.assert(
    fc.property(
      chemistry,
      real(-30, 35),
      real(0, 30),
      real(0.5, 60),
      fc.constantFrom(
        'disconnect: 0 %, reconnect: 99 %',
        'disconnect: 11 V, reconnect: 14 V',
        'disconnect: 20 %, reconnect: 99 %',
      ),
      (kind, coldC, warmerK, amps, limits) => {
        const rig = `battery: { chemistry: ${kind}, capacity: 100 Ah, selfDischarge: 0 %, maxDischarge: 200 A, ${limits} }
loads: [{ name: draw, power: ${12 * amps} W }]`;
        const served = (airC: number) =>
          runOn(rig, { days: Math.ceil(130 / amps / 24), stepH: amps < 5 ? 0.5 : 1 / 12, airC }, 1).summary.loadWh;
        const [cold, warm] = [served(coldC), served(coldC + warmerK)];
        // to the step in which it ends
        expect(cold).toBeLessThanOrEqual(warm + 1e-6 + 12 * amps * (amps < 5 ? 0.5 : 1 / 12));
      },
    ),
    { numRuns: 60 },
  );
});

test('a battery held at its set point stays at it until it is full, and is charged no less by a higher one', () => {
  fc.assert(
    fc.property(
      fc.constantFrom('AGM', 'gel', 'flooded' as const),
      real(0.05, 0.95),
      real(10, 60),
      real(-15, 35),
      real(13.6, 14.8),
      (kind, fromSoc, currentA, airC, limitV) => {
        const run = charged({ chemistry: kind, currentA, limitV, fromSoc, airC, hours: 24, stepH: 1 / 6 });
        const higher = charged({
          chemistry: kind,
          currentA,
          limitV: limitV + 0.2,
          fromSoc,
          airC,
          hours: 24,
          stepH: 1 / 6,
        });
        const met = run.amps.findIndex((one) => one < currentA - 1e-3);
        for (let i = 0; i < run.amps.length; i++) {
          if (met >= 0 && i > met) {
            expect(Math.abs(run.volts[i]! - limitV)).toBeLessThan(0.002 * currentA + 1e-9); // two lugs lie between
            expect(run.amps[i]!).toBeLessThanOrEqual(run.amps[i - 1]! + 1e-4);
          }
          expect(higher.soc[i]!).toBeGreaterThanOrEqual(run.soc[i]! - 1e-9);
          expect(run.soc[i]!).toBeLessThanOrEqual(1);
        }
      },
    ),
    { numRuns: 60 },
  );
});
