import { describe, expect, test } from 'vitest';
import {
  acceptedA,
  batteryModel,
  batteryTemperature,
  calendarYears,
  capacityAtHoursAh,
  chargeLimitA,
  cycleLife,
  dischargeSagV,
  heatCapacityWhPerK,
  heatedTemperature,
  kineticCoefficients,
  ocvAt,
  rainflow,
  selfDischargeFactor,
  seriesCells,
  tableAt,
  wear,
} from '../../../packages/core/src/battery/index.js';
import { invented } from '../../published/battery-bank.js';

const LEAD = ['flooded', 'AGM', 'gel'] as const;
const CHEMISTRIES = [...LEAD, 'LFP'] as const;
const constant = (n: number, value: number) => new Float64Array(n).fill(value);

describe('the bank', () => {
  test.each(LEAD)(
    '%s: at the 20-hour current the terminals reach 1.75 V a cell just when empty (IEC 61056, from memory)',
    (chemistry) => {
      for (const series of [1, 2]) {
        const model = batteryModel(invented(chemistry, { series }));
        const { kneeV, kneeA, lowestV } = model;
        expect(kneeA).toBe(100 / 20);
        expect(lowestV).toBeCloseTo(1.75 * 6 * series, 9);
        expect(ocvAt(model, 0) - kneeA * tableAt(model.dischargeOhm, 0) - kneeV).toBeCloseTo(lowestV, 9);
      }
    },
  );

  test.each(LEAD)('%s: the fuller, the less it resists, and the knee is in the last fifth only', (chemistry) => {
    const model = batteryModel(invented(chemistry));
    const { wells, capacityAh } = model;
    const sagV = (filled: number, amps: number) =>
      dischargeSagV(model, (filled * (capacityAh + wells.reserveAh) - wells.reserveAh) / capacityAh, amps);
    expect(sagV(0.2, 5)).toBeCloseTo(0, 12);
    expect(sagV(0.1, 5)).toBeCloseTo(model.kneeV / 4, 9);
    expect(sagV(0, 5)).toBeCloseTo(model.kneeV, 9);
    expect(sagV(0, 2.5)).toBeCloseTo(model.kneeV / 2, 9);
    expect(sagV(0, 50)).toBeCloseTo(model.kneeV, 9);
    const ohm = Array.from({ length: 21 }, (_, i) => tableAt(model.dischargeOhm, i / 20));
    for (let i = 1; i <= 20; i++) expect(ohm[i]).toBeLessThan(ohm[i - 1]!);
    // straight in two pieces above the knee: as much from 0.2 to 0.35 as from 0.35 to 0.5
    expect(ohm[4]! - ohm[7]!).toBeCloseTo(ohm[7]! - ohm[10]!, 12);
  });

  test.each(LEAD)(
    '%s: at the 5-hour rate it stands 0.2 to 0.5 V below its rest (common practice, no source)',
    (chemistry) => {
      for (const capacityAh of [50, 200]) {
        const { dischargeOhm } = batteryModel(invented(chemistry, { capacityAh }));
        const fallV = (capacityAh / 5) * tableAt(dischargeOhm, 0.5);
        expect(fallV).toBeGreaterThan(0.2);
        expect(fallV).toBeLessThan(0.5);
      }
    },
  );

  test.each(CHEMISTRIES)(
    '%s: a full bank gives exactly its rated capacity in the hours it is rated for, 20 or 5',
    (chemistry) => {
      for (const over of [{}, { capacityAh: 40, count: 3, health: 0.7 }]) {
        const { capacityAh, wells } = batteryModel(invented(chemistry, over));
        const full = capacityAh + wells.reserveAh;
        const given = capacityAtHoursAh(full, chemistry === 'LFP' ? 5 : 20, wells.c, wells.kPerH);
        expect(given).toBeCloseTo(capacityAh, 9);
      }
    },
  );

  test('flooded: at 2.40 V a cell it takes the Ah still missing, and 0.5 % of its size when full (Mass 1971, from memory)', () => {
    for (const series of [1, 2]) {
      const model = batteryModel(invented('flooded', { series }));
      for (const soc of [0.5, 0.9, 1])
        expect(acceptedA(model, soc, 6 * series * 2.4)).toBeCloseTo(100 * (1 - soc) + 0.5, 9);
      expect(acceptedA(model, 0.9, 14.4 * series, 2)).toBeCloseTo(acceptedA(model, 0.9, 14.4 * series) / 2, 9);
    }
  });

  test.each(LEAD)('%s: at a tail of 1.5 A on 100 Ah it is full to a hundredth (common practice)', (chemistry) => {
    const model = batteryModel(invented(chemistry));
    expect(acceptedA(model, 0.99, 14.4)).toBeLessThanOrEqual(1.55);
    expect(acceptedA(model, 0.98, 14.4)).toBeGreaterThan(1.5);
  });

  test('AGM takes at 2.40 V a cell what a bench test read: 42 and 21 A of 95.7 Ah at 63 and 77 %', () => {
    const model = batteryModel(invented('AGM', { capacityAh: 95.7 }));
    expect(Math.abs(acceptedA(model, 0.633, 14.4) - 42)).toBeLessThan(2);
    expect(Math.abs(acceptedA(model, 0.774, 14.4) - 21)).toBeLessThan(3);
  });

  test.each(LEAD)('%s: far below that voltage it takes little, and at its rested voltage nothing', (chemistry) => {
    const model = batteryModel(invented(chemistry));
    for (const soc of [0.5, 0.8, 1]) {
      const most = acceptedA(model, soc, 14.4);
      expect(acceptedA(model, soc, ocvAt(model, soc))).toBe(0);
      let before = 0;
      for (let volts = ocvAt(model, soc) + 0.05; volts < 14.4; volts += 0.05) {
        const amps = acceptedA(model, soc, volts);
        expect(amps).toBeGreaterThan(before);
        expect(amps / most).toBeLessThanOrEqual((volts - ocvAt(model, soc)) / (14.4 - ocvAt(model, soc)) + 1e-9);
        before = amps;
      }
    }
  });

  test('LFP takes its full current until the high 90s', () => {
    const model = batteryModel(invented('LFP'));
    for (const soc of [0.2, 0.5, 0.9, 0.95]) expect(acceptedA(model, soc, 14.2)).toBeGreaterThan(49);
    expect(acceptedA(model, 1, 14.2)).toBeCloseTo(0.2, 9);
    // and far from full its voltage moves further for a charging current than for the same current drawn
    expect(tableAt(model.chargeOhm, 0.5)).toBeGreaterThan(tableAt(model.dischargeOhm, 0.5));
  });

  test.each([
    [36, 12],
    [48, 16],
  ])('LFP called %s V has %s cells, as its 12 V have four', (nominalV, cells) => {
    expect(seriesCells({ chemistry: 'LFP', nominalV, series: 1 })).toBe(cells);
  });

  test.each([
    [{ capacityAh: 0 }, /capacityAh.*above 0, got 0/],
    [{ capacityAh: Number.POSITIVE_INFINITY }, /capacityAh/],
    [{ count: 0 }, /count and series.*0 and 1/],
    [{ series: 0 }, /count and series.*1 and 0/],
    [{ health: 1.1 }, /health.*1\.1/],
  ])('%o is refused by its name and value', (over, message) => {
    expect(() => batteryModel(invented('AGM', over))).toThrow(message);
  });

  test.each([
    [0, 1, 1, /c must.*got 0/],
    [1.1, 1, 1, /c must.*got 1\.1/],
    [0.5, 0, 1, /kPerH.*got 0/],
    [0.5, 1, 0, /dtH.*got 0/],
  ])('wells with c %s, k %s and a step of %s h are refused by name and value', (c, kPerH, dtH, message) => {
    expect(() => kineticCoefficients(c, kPerH, dtH)).toThrow(message);
  });
});

describe('temperature', () => {
  test('LFP may be charged from 0 to 50 °C, both ends in: 0.1 C, from 5 °C 0.25 C, from 10 °C 1 C (common data-sheet limits, from memory)', () => {
    const limits = [0, 4.9, 5, 9.9, 10, 50].map((cellC) => chargeLimitA('LFP', 100, cellC, 0));
    expect(limits).toEqual([10, 10, 25, 25, 100, 100]);
  });

  test('self-discharge is stated at 20 °C and doubles per 10 K (Linden & Reddy, from memory)', () => {
    expect([0, 20, 30, 40].map(selfDischargeFactor)).toEqual([0.25, 1, 2, 4]);
  });

  test('cells start as warm as the first day’s mean, whatever the days after bring', () => {
    const air = (later: number) => Float64Array.from({ length: 96 }, (_, i) => (i < 48 ? 10 + (i % 2) : later));
    // steps of half an hour: 48 of them are the day, at 10.5 °C on average
    for (const later of [40, -10]) {
      const [first = 0] = batteryTemperature(air(later), 0.5, 1e6);
      expect(first).toBeCloseTo(10.5, 4);
    }
    expect(batteryTemperature(Float64Array.of(7, 30), 48, 1e9)[0]).toBeCloseTo(7, 6);
  });

  test('a step or lag out of range is refused by name and value', () => {
    expect(() => batteryTemperature(constant(2, 0), 0, 1)).toThrow(/stepH.*got 0/);
    expect(() => batteryTemperature(constant(2, 0), 1, -1)).toThrow(/lagH.*got -1/);
  });
});

describe('the heater', () => {
  test('heat capacity without a mass: 9 kg a kWh, 1000 J/(kg K) (common practice, from memory)', () => {
    // 100 Ah of 12 V are 1.2 kWh and 10.8 kg, 3 Wh/K; two by two are four of them
    expect(heatCapacityWhPerK(invented('LFP'))).toBeCloseTo(3, 12);
    expect(heatCapacityWhPerK(invented('LFP', { count: 3, series: 2 }))).toBeCloseTo(18, 12);
    expect(heatCapacityWhPerK(invented('LFP', { count: 3, series: 2, massKg: 3.6 }))).toBeCloseTo(6, 12);
  });

  test.each([0, Number.NaN])('a heat capacity of %s is refused', (whPerK) => {
    expect(() => heatedTemperature(constant(2, 0), 1, 6, { powerW: 30, belowC: 5 }, whPerK)).toThrow(/whPerK.*got/);
  });

  test('a cold battery is warmed from where it is, by P/C at first', () => {
    // 30 W on 3 Wh/K: 10 K an hour, less the 1/6 of the difference to the air that is lost
    const { cellC, onShare } = heatedTemperature(constant(2, -10), 0.1, 6, { powerW: 30, belowC: 5 }, 3, -10);
    expect(cellC[0]).toBeCloseTo(-9.5, 1);
    expect(cellC[1]).toBeCloseTo(-8.5, 1);
    expect(onShare[0]).toBe(1);
  });
});

describe('wear', () => {
  test.each(CHEMISTRIES)('%s: the life has no jump at any depth', (chemistry) => {
    for (const depth of [0.05, 0.1, 0.15, 0.2, 0.3, 0.4, 0.5, 0.6, 0.8, 0.9]) {
      const [below, above] = [cycleLife(chemistry, depth), cycleLife(chemistry, depth * (1 + 1e-9))];
      for (const end of ['low', 'mid', 'high'] as const) expect(above[end] / below[end]).toBeCloseTo(1, 6);
    }
  });

  test.each(CHEMISTRIES)(
    '%s: no cycle at all wears nothing, and full cycles are a few hundred to a few thousand',
    (chemistry) => {
      expect(cycleLife(chemistry, 0).mid).toBe(Number.POSITIVE_INFINITY);
      expect(cycleLife(chemistry, Number.NaN).mid).toBe(Number.POSITIVE_INFINITY);
      const { low, high } = cycleLife(chemistry, 1);
      expect(low).toBeGreaterThanOrEqual(250);
      expect(high).toBeLessThanOrEqual(4000);
    },
  );

  test('between two depths the life is their geometric mean halfway in logarithms', () => {
    const mean = Math.sqrt(cycleLife('AGM', 0.3).mid * cycleLife('AGM', 0.5).mid);
    expect(cycleLife('AGM', Math.sqrt(0.3 * 0.5)).mid).toBeCloseTo(mean, 6);
    expect(cycleLife('LFP', 0.1).mid * 0.1).toBeCloseTo(cycleLife('LFP', 0.5).mid * 0.5, 6);
    expect(cycleLife('AGM', 0.05).mid * 0.05).toBeCloseTo(cycleLife('AGM', 0.1).mid * 0.1, 6);
  });

  test('10 K more about halve the calendar life, and below 15 °C nothing more is gained', () => {
    for (const end of ['low', 'mid', 'high'] as const) {
      const ratio = calendarYears('AGM', 25)[end] / calendarYears('AGM', 35)[end];
      expect(ratio).toBeGreaterThan(1.7);
      expect(ratio).toBeLessThan(2.2);
      expect(calendarYears('AGM', 0)[end]).toBe(calendarYears('AGM', 15)[end]);
    }
  });

  test('the step’s length counts: the same cycles in half the time wear out in half the years, but for the calendar', () => {
    const soc = Float64Array.from({ length: 480 }, (_, i) => (i % 24 < 12 ? 1 : 0.2));
    const [slow, fast] = [wear(soc, 1, 25, 'AGM'), wear(soc, 0.5, 25, 'AGM')];
    expect(fast.cycleShare).toEqual(slow.cycleShare);
    for (const end of ['low', 'mid', 'high'] as const) {
      // 20 days hold 19.5 cycles of 80 % (Palmgren-Miner)
      expect(slow.cycleShare[end]).toBeCloseTo(19.5 / cycleLife('AGM', 0.8)[end], 9);
      expect(slow.calendarShare[end]).toBeCloseTo(480 / 8766 / calendarYears('AGM', 25)[end], 12);
      expect(fast.calendarShare[end]).toBeCloseTo(slow.calendarShare[end] / 2, 12);
      expect(1 / fast.yearsTo80[end] - 1 / slow.yearsTo80[end]).toBeCloseTo((slow.cycleShare[end] * 8766) / 480, 9);
    }
  });

  test('what cannot be worn is refused with a reason', () => {
    expect(() => wear(constant(2, 1), Number.NaN, 25, 'AGM')).toThrow(/stepH.*NaN/);
    expect(() => wear(new Float64Array(0), 1, 25, 'AGM')).toThrow(/no steps/);
  });

  test('a range as large as the one before it closes a cycle (ASTM E1049, 5.4.4: X ≥ Y)', () => {
    expect(rainflow([0, 10, 4, 6, 4])).toContainEqual({ range: 2, mean: 5, count: 1 });
  });
});
