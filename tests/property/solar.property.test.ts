import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  arrayColumns,
  arrayPowerForInputW,
  cellTemperatureC,
  converterCoefficients,
  currentAtVoltageA,
  curveAt,
  fitModule,
  inputFromArrayW,
  inputFromOutputW,
  maximumPower,
  openCircuitV,
  outputFromInputW,
  powerTempPerK,
  pwmCurrentA,
} from '../../packages/core/src/solar/index.js';
import { inputOf, type Moment, pwm, someArray } from '../core/solar/array-fixture.js';

const real = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const technology = fc.constantFrom('mono' as const, 'poly' as const, 'thin film' as const);
const mount = fc.constantFrom('bonded' as const, 'gap' as const, 'rack' as const, 'ground' as const);
const loss = fc.record({ soiling: real(0, 0.3), mismatch: real(0, 0.1), ageing: real(0, 0.3) });
const array = fc
  .record({ powerW: real(20, 500), technology, mount, losses: loss, series: fc.integer({ min: 1, max: 3 }) })
  .map((some) => someArray({ ...some, count: some.series * 2 }));
const moment = fc.record({ sunWm2: real(0, 1400), airC: real(-30, 45), windMs: real(0, 15) });
const powerOf = (a: ReturnType<typeof someArray>, ...moments: readonly Moment[]) =>
  arrayColumns(a, inputOf(...moments)).availableW;

test('power is never above nameplate times sun by more than the gain of a cold cell', () => {
  fc.assert(
    fc.property(array, moment, (a, m) => {
      const { availableW, cellC } = arrayColumns(a, inputOf(m));
      const nameplateW = a.powerW * a.count * Math.max(m.sunWm2, 0) * 1e-3;
      // Modules may be up to 3 % more efficient in half light than in full sun, thin film most.
      const halfLight = m.sunWm2 < 1000 ? 1.03 : 1;
      const cold = 1 + 0.0045 * Math.max(0, 25 - cellC[0]!);
      expect(availableW[0]!).toBeLessThanOrEqual(nameplateW * halfLight * cold + 1e-9);
      if (m.sunWm2 <= 1000) expect(availableW[0]!).toBeLessThanOrEqual(a.powerW * a.count * cold * (1 + 1e-3));
    }),
  );
});

test('there is nothing at night, and no NaN', () => {
  fc.assert(
    fc.property(array, real(-40, 45), real(0, 20), (a, airC, windMs) => {
      const columns = arrayColumns(a, inputOf({ sunWm2: 0, airC, windMs }));
      expect([columns.availableW[0], columns.voltageV[0]]).toEqual([0, 0]);
      expect(columns.cellC[0]! - airC).toBe(0);
      const direct = arrayColumns(pwm({ powerW: a.powerW }), inputOf({ sunWm2: 0, airC, windMs }));
      expect(pwmCurrentA(direct.currentAtV!, 0, 12.8)).toBe(0);
    }),
  );
});

test('more light on a module of the same temperature never gives less power', () => {
  fc.assert(
    fc.property(array, moment, real(0, 200), (a, m, more) => {
      const dim = inputOf(m);
      const bright = { ...dim, effectiveWm2: Float64Array.of(m.sunWm2 + more) };
      expect(arrayColumns(a, bright).availableW[0]!).toBeGreaterThanOrEqual(arrayColumns(a, dim).availableW[0]! - 1e-9);
    }),
  );
});

test('hotter air never gives more power', () => {
  fc.assert(
    fc.property(array, moment, real(0, 20), (a, m, warmer) => {
      const [cool, warm] = powerOf(a, m, { ...m, airC: m.airC + warmer });
      expect(warm!).toBeLessThanOrEqual(cool! + 1e-9);
    }),
  );
});

test('more wind never gives less power, and no mount is hotter than bonded', () => {
  fc.assert(
    fc.property(array, moment, real(0, 10), (a, m, more) => {
      const [still, windy] = powerOf(a, m, { ...m, windMs: m.windMs + more });
      expect(windy!).toBeGreaterThanOrEqual(still! - 1e-9);
      const own = cellTemperatureC(a.mount, m.sunWm2, m.airC, m.windMs);
      expect(own).toBeLessThanOrEqual(cellTemperatureC('bonded', m.sunWm2, m.airC, m.windMs));
      expect(own).toBeGreaterThanOrEqual(m.airC);
    }),
  );
});

test('a clean panel gives at least what any dirty, mismatched or aged one gives', () => {
  fc.assert(
    fc.property(array, moment, (a, m) => {
      const clean = { ...a, losses: { soiling: 0, mismatch: 0, ageing: 0 } };
      expect(powerOf(a, m)[0]!).toBeLessThanOrEqual(powerOf(clean, m)[0]! + 1e-9);
    }),
  );
});

test('a nameplate is met at standard conditions, and twice the panels give twice the power', () => {
  fc.assert(
    fc.property(array, (some) => {
      const a = { ...some, mount: 'rack' as const, losses: { soiling: 0, mismatch: 0, ageing: 0 } };
      const airC = 25 - (cellTemperatureC('rack', 1000, 0, 2) - 0);
      const power = powerOf(a, { sunWm2: 1000, airC, windMs: 2 })[0]!;
      expect(Math.abs(power / (a.powerW * a.count) - 1)).toBeLessThan(2e-4);
      const twice = powerOf({ ...a, count: 2 * a.count }, { sunWm2: 1000, airC, windMs: 2 })[0]!;
      expect(twice).toBeCloseTo(2 * power, 9);
    }),
  );
});

test('a hard shadow leaves between what diffuse light alone gives and what the sunlit share would give', () => {
  fc.assert(
    fc.property(array, real(0.01, 0.99), real(50, 900), real(20, 300), real(0, 40), (a, share, beam, diffuse, airC) => {
      const at = (sunWm2: number, part = {}) => ({ sunWm2, airC, windMs: 2, ...part });
      const mean = beam * (1 - share) + diffuse;
      // All at one cell temperature, that of the shaded panel.
      const poaWm2 = Float64Array.of(mean);
      const power = (one: ReturnType<typeof at>) => arrayColumns(a, { ...inputOf(one), poaWm2 }).availableW[0]!;
      const shaded = power(at(mean, { share, beamWm2: beam * (1 - share) }));
      expect(shaded).toBeLessThanOrEqual(power(at(beam + diffuse)) + 1e-9);
      expect(shaded).toBeGreaterThanOrEqual(power(at(diffuse)) - 1e-9);
    }),
  );
});

test('a larger shadow never gives more, and a shadow over everything gives what diffuse light gives', () => {
  fc.assert(
    fc.property(array, real(0, 1), real(0, 1), real(50, 900), real(20, 300), (a, one, other, beam, diffuse) => {
      const [small, large] = [Math.min(one, other), Math.max(one, other)];
      const at = (share: number) => {
        const sunWm2 = beam * (1 - share) + diffuse;
        const input = inputOf({ sunWm2, airC: 20, windMs: 2, share, beamWm2: beam * (1 - share) });
        // Cell temperature held: a shaded panel is also cooler.
        return arrayColumns({ ...a, mount: 'rack' }, { ...input, windMs: Float64Array.of(1e9) }).availableW[0]!;
      };
      expect(at(large)).toBeLessThanOrEqual(at(small) * (1 + 2e-3) + 1e-9);
    }),
  );
});

test('PWM never gets more than power-point tracking could, and its current falls with voltage', () => {
  fc.assert(
    fc.property(real(20, 220), technology, moment, (powerW, tech, m) => {
      const columns = arrayColumns(pwm({ powerW, technology: tech }), inputOf(m));
      let before = Infinity;
      for (let volt = 10; volt <= 16; volt += 0.25) {
        const currentA = pwmCurrentA(columns.currentAtV!, 0, volt);
        // Both are read from tables, each good to 0.1 %.
        expect(currentA * volt).toBeLessThanOrEqual(columns.availableW[0]! * 1.003 + 0.01);
        expect(currentA).toBeLessThanOrEqual(before + 1e-9);
        before = currentA;
      }
    }),
  );
});

test('any plausible datasheet is fitted: its three points lie on the curve and its power coefficient is met', () => {
  const sheet = fc
    .record({
      cells: fc.integer({ min: 30, max: 144 }),
      perCellV: real(0.58, 0.74),
      vmpShare: real(0.79, 0.86),
      impShare: real(0.9, 0.965),
      iscA: real(1, 18),
      tempPowerPerK: real(-0.005, -0.0026),
    })
    .map(({ cells, perCellV, vmpShare, impShare, iscA, tempPowerPerK }) => ({
      cells,
      vocV: cells * perCellV,
      vmpV: cells * perCellV * vmpShare,
      impA: iscA * impShare,
      iscA,
      tempPowerPerK,
    }));
  fc.assert(
    fc.property(sheet, technology, (s, tech) => {
      const module = fitModule(s, undefined, tech);
      const point = maximumPower(module);
      expect(Math.abs(point.voltageV / s.vmpV - 1)).toBeLessThan(1e-6);
      expect(Math.abs(point.currentA / s.impA - 1)).toBeLessThan(1e-6);
      expect(Math.abs(currentAtVoltageA(module, 0) / s.iscA - 1)).toBeLessThan(1e-6);
      expect(Math.abs(openCircuitV(module) / s.vocV - 1)).toBeLessThan(1e-6);
      expect(module.seriesOhm).toBeGreaterThanOrEqual(0);
      expect(module.shuntOhm).toBeGreaterThan(0);
      expect(Math.abs(powerTempPerK(module) - s.tempPowerPerK)).toBeLessThan(1e-6);
    }),
    { numRuns: 60 },
  );
});

test('no point of a curve has more power than its maximum', () => {
  fc.assert(
    fc.property(real(5, 1400), real(-30, 100), real(0, 1), technology, (sun, cellC, share, tech) => {
      const like = { vocV: 22.3, iscA: 5.9, vmpV: 18.2, impA: 5.5, tempPowerPerK: -0.004 };
      const curve = curveAt(fitModule(like, 36, tech), sun, cellC);
      const volt = share * openCircuitV(curve);
      expect(volt * currentAtVoltageA(curve, volt)).toBeLessThanOrEqual(maximumPower(curve).powerW * (1 + 1e-12));
    }),
  );
});

test('converter input and output are inverse, and efficiency peaks at the given value', () => {
  fc.assert(
    fc.property(
      real(0.6, 0.995),
      real(10, 5000),
      real(0, 1),
      real(1e-4, 0.01),
      (efficiency, ratingW, load, standby) => {
        for (const c of [
          converterCoefficients({ efficiency, ratingW }),
          converterCoefficients({ efficiency, ratingW, standbyW: standby * ratingW }),
        ]) {
          const output = load * ratingW;
          expect(Math.abs(outputFromInputW(c, inputFromOutputW(c, output)) - output)).toBeLessThan(1e-9 * ratingW);
          if (output > 0) expect(output / inputFromOutputW(c, output)).toBeLessThanOrEqual(efficiency + 1e-12);
          if (c.bPerW > 0) {
            const bestW = Math.sqrt(c.p0W / c.bPerW);
            expect(bestW / inputFromOutputW(c, bestW)).toBeCloseTo(efficiency, 9);
            expect((0.02 * bestW) / inputFromOutputW(c, 0.02 * bestW)).toBeLessThan(efficiency);
          }
        }
      },
    ),
  );
});

test('array power and what arrives at the controller are inverse up to what the cable can carry', () => {
  fc.assert(
    fc.property(real(0.001, 2000), real(5, 120), real(0, 2), (powerW, voltageV, cableOhm) => {
      const arrives = inputFromArrayW(powerW, voltageV, cableOhm);
      const back = arrayPowerForInputW(arrives, voltageV, cableOhm);
      const maxW = cableOhm > 0 ? voltageV ** 2 / (2 * cableOhm) : Infinity;
      // At the most the slope is zero, so rounding in takes its square root out.
      expect(Math.abs(back - Math.min(powerW, maxW))).toBeLessThanOrEqual(1e-6 * powerW);
      expect(arrives).toBeLessThanOrEqual(powerW);
    }),
  );
});
