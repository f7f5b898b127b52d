import { describe, expect, test } from 'vitest';
import { capacityFactor } from '../../../packages/core/src/battery/index.js';
import { batteryUseOf } from '../../../packages/core/src/simulate/ledger/battery-use.js';
import { fridgeReportsOf } from '../../../packages/core/src/simulate/report/fridge-report.js';
import { wearOfRun } from '../../../packages/core/src/simulate/report/wear-of-run.js';
import type { Summary } from '../../../packages/core/src/simulate/types.js';
import { byHand, emptyLedger } from './by-hand.js';

describe('how a fridge fared, by month and by day', () => {
  // 29 and 30 June, 1 July: 96 and 48 steps of half an hour
  const JULY = `
weather: dull
stops: [{ at: [41.1, -8.6], from: 2026-06-29, nights: 3 }]`;
  const laid = () => {
    const { assembled, out } = byHand(
      `
battery: { chemistry: LFP, capacity: 100 Ah }
loads:
  - { name: fridge, kind: fridge, volume: 40 L, setpoint: 4 degC }
  - { name: lamp, power: 1 W }
  - { name: freezer, kind: fridge, volume: 30 L, setpoint: -18 degC, insulation: 60 mm, compressor: 60 W }`,
      JULY,
    );
    const { steps } = assembled.input;
    const constant = (value: number) => new Float64Array(steps).fill(value);
    const record = (name: string) => {
      const whole = { name, servedW: constant(0), unservedW: constant(0), onShare: constant(0), lowestV: 12 };
      return { ...whole, rooms: [{ ...whole, insideC: constant(0) }] };
    };
    const loads = ['fridge', 'lamp', 'freezer'].map(record);
    return { assembled, out, ledger: { ...emptyLedger(steps), loads }, steps };
  };
  const report = ({ assembled, ledger }: ReturnType<typeof laid>) => fridgeReportsOf(assembled, ledger);

  test('means are over the steps of each, and the warm hours are those above what is safe', () => {
    const run = laid();
    const [fridge] = run.assembled.fridges;
    fridge!.roomC.fill(20, 0, 48).fill(30, 48, 96).fill(40, 96);
    fridge!.columns.holdDuty.fill(0.2, 0, 96).fill(0.6, 96);
    const [one] = run.ledger.loads;
    one!.onShare.fill(0.1, 0, 48).fill(0.3, 48, 96).fill(0.5, 96);
    one!.servedW.fill(10, 0, 96).fill(30, 96);
    const { insideC } = one!.rooms[0]!;
    insideC.fill(4);
    insideC[50] = 5.005; // a hair of rounding above 5 °C
    insideC.fill(7, 100, 103);
    const [first] = report(run);
    expect(first).toMatchObject({
      name: 'fridge',
      setpointC: 4,
      warmAboveC: 5,
      warmSource: 'common guidance of food agencies for chilled food',
    });
    const [june, july, ...others] = first!.months;
    expect(others).toEqual([]);
    expect(june).toMatchObject({ month: '2026-06', hours: 48, roomMeanC: 25, whPerDay: 240, warmHours: 0 });
    expect(june!.dutyCycle).toBeCloseTo(0.2, 12);
    expect(june!.holdDutyCycle).toBeCloseTo(0.2, 12);
    expect(june!.warmestC).toBe(5.005);
    expect(july).toMatchObject({
      month: '2026-07',
      hours: 24,
      roomMeanC: 40,
      whPerDay: 720,
      warmHours: 1.5,
      warmestC: 7,
    });
    expect(july!.holdDutyCycle).toBeCloseTo(0.6, 12);
    expect(first!.days.map(({ date, roomMeanC }) => [date, roomMeanC])).toEqual([
      ['2026-06-29', 20],
      ['2026-06-30', 30],
      ['2026-07-01', 40],
    ]);
    [0.1, 0.3, 0.5].forEach((duty, k) => {
      expect(first!.days[k]!.dutyCycle).toBeCloseTo(duty, 12);
    });
  });

  test('of two each has its own inside and its own ledger', () => {
    const run = laid();
    run.ledger.loads[0]!.rooms[0]!.insideC.fill(4);
    run.ledger.loads[2]!.rooms[0]!.insideC.fill(-18);
    run.ledger.loads[2]!.rooms[0]!.insideC[140] = -14.5;
    run.ledger.loads[2]!.servedW.fill(25);
    const [fridge, freezer] = report(run);
    expect(fridge!.months.map(({ whPerDay, warmestC }) => [whPerDay, warmestC])).toEqual([
      [0, 4],
      [0, 4],
    ]);
    expect(freezer).toMatchObject({
      name: 'freezer',
      setpointC: -18,
      warmAboveC: -15,
      warmSource: 'the rise that Directive 89/108/EEC allows for frozen food',
    });
    expect(freezer!.months.map(({ whPerDay, warmHours, warmestC }) => [whPerDay, warmHours, warmestC])).toEqual([
      [600, 0, -18],
      [600, 0.5, -14.5],
    ]);
  });
});

/** 94 steps of half an hour. */
const battery = (fields = '') =>
  byHand(`
battery: { chemistry: LFP, capacity: 100 Ah, count: 2, health: 90 %, floor: 20 %${fields} }
loads: [{ name: lamp, power: 1 W }]`);

describe('what the battery had to offer', () => {
  test('is what lies above its floor, of what is left of the bank', () => {
    const { assembled, out } = battery();
    assembled.batteryC.fill(25);
    const use = batteryUseOf(assembled, out, emptyLedger(94));
    expect(use.capacityAh).toBeCloseTo(180, 9);
    expect(use.usableAh).toBeCloseTo(144, 9);
    expect(use.outOfReach).toBe(0);
    // an LFP battery rests near 13.2 V over most of its charge
    expect(use.usableWh / use.usableAh).toBeGreaterThan(13);
    expect(use.usableWh / use.usableAh).toBeLessThan(13.5);
  });

  test('is less where the cold puts more than the floor out of reach, at the worst moment', () => {
    const { assembled, out } = battery();
    assembled.batteryC.fill(25);
    const rested = batteryUseOf(assembled, out, emptyLedger(94)).usableWh;
    assembled.batteryC[40] = -35;
    const use = batteryUseOf(assembled, out, emptyLedger(94));
    // in the five hours of its rating
    expect(use.outOfReach).toBeCloseTo(1 - capacityFactor('LFP', -35), 12);
    expect(use.outOfReach).toBeGreaterThan(0.2);
    expect(use.usableAh).toBeCloseTo(180 * (1 - use.outOfReach), 9);
    expect(use.usableWh / rested).toBeCloseTo((1 - use.outOfReach) / 0.8, 1);
  });

  test('its cells were as cold and as warm as their column, and what passed its terminals is what it kept and lost', () => {
    const { assembled, out } = battery();
    assembled.batteryC.fill(15);
    assembled.batteryC[0] = 3;
    assembled.batteryC[50] = 31;
    out.batteryLossW.fill(2); // 1 Wh a step
    const ledger = emptyLedger(94);
    ledger.storedChangeWh.fill(-1).fill(60, 0, 8).fill(-30, 8, 18); // at rest it loses what it held
    const use = batteryUseOf(assembled, out, ledger);
    expect(use).toMatchObject({ coldestC: 3, warmestC: 31, chargedWh: 8 * 61, dischargedWh: 10 * 29, lossWh: 94 });
  });
});

describe('what the run cost the battery', () => {
  const worn = (soc: (step: number) => number) => {
    const { assembled, out } = battery();
    for (let i = 0; i < 94; i++) out.soc[i] = soc(i);
    return wearOfRun(assembled, out, { equivalentCycles: 1.25 } as Summary);
  };

  test('the longest time without a full charge, the ends of the run included', () => {
    expect(worn(() => 0.5).longestWithoutFullH).toBe(47);
    expect(worn(() => 1).longestWithoutFullH).toBe(0);
    // 99 % counts as full: 20, then 43, then 29 steps without
    expect(worn((i) => (i === 20 || i === 64 ? 0.99 : 0.98)).longestWithoutFullH).toBe(21.5);
  });

  test('deep cycles wear it, rest does not, and time wears it either way', () => {
    const still = worn(() => 0.5);
    const cycled = worn((i) => (i % 20 < 10 ? 0.9 : 0.2));
    expect(still.cycleShare.mid).toBe(0);
    expect(cycled.cycleShare.mid).toBeGreaterThan(0);
    for (const one of [still, cycled]) {
      expect(one.equivalentFullCycles).toBe(1.25);
      expect(one.calendarShare.mid).toBeGreaterThan(0);
      // a run of 47 h that uses up a share s of the life: the whole life lasts 47 h / s, at 8766 h a year
      const years = 47 / 8766 / (one.calendarShare.mid + one.cycleShare.mid);
      expect(one.yearsTo80.mid / years).toBeCloseTo(1, 2);
    }
  });
});
