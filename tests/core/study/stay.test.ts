import { type Rig, readRig, type StayMonth, stayStudy, yieldStudy } from '@stayput/core';
import { END_CAUSES, percentile } from '@stayput/core/model';
import { describe, expect, test } from 'vitest';
import { assemble } from '../../../packages/core/src/simulate/inputs/assemble.js';
import { layOutSteps } from '../../../packages/core/src/simulate/loop/loop.js';
import { dayStarts } from '../../../packages/core/src/study/run/open-loop.js';
import { follower } from '../../../packages/core/src/study/run/outcome.js';
import { weatherCases } from '../../../packages/core/src/study/run/weather-cases.js';
import { stayLengths } from '../../../packages/core/src/study/stay/stay-runs.js';

/** Nothing but what a test names: no self-discharge, no warm cabin, no panel. */
const rigOf = (battery: string, rest: string): Rig =>
  readRig(`
battery: { chemistry: LFP, floor: 20 %, disconnect: 10 %, selfDischarge: 0 %, stands: cabin, ${battery} }
cabin: { gain: 0 K }
${rest}`).rig;
const steady = (amps: number) => `loads: [{ name: steady, current: ${amps} A }]`;
const QUITO = { at: { latDeg: -0.2, lonDeg: -78.5 } };
const only = (study: { readonly months: readonly StayMonth[] }) => study.months[0]!;

describe('against closed forms', () => {
  test('in the dark: charge above the floor over a constant current (coulomb counting)', () => {
    const study = stayStudy(rigOf('capacity: 100 Ah', steady(2)), QUITO, { years: 1, months: [5] });
    const month = only(study);
    const days = (0.8 * 100) / 2 / 24;
    expect(month.darkDays).toBeCloseTo(days, 6);
    for (const found of [study.darkDays, month.parkedDaysP10, month.parkedDaysP50, month.parkedDaysP90])
      expect(found).toBeCloseTo(days, 6); // without a panel, parked is dark
    expect(month).toMatchObject({ indefinite: false, endedBy: { floor: 1 }, darkEndedBy: 'floor', outlasts: 0 });
    expect(month.oneMorePanel).toBeUndefined();
    expect(month.engineMinutes).toBeUndefined();
    expect(month.oneMoreBattery.darkDays).toBeCloseTo(2 * days, 6);
    expect(month.oneMoreBattery.parkedDaysP50).toBeCloseTo(2 * days, 6);
  });

  test('from another state of charge, and to the cut of the loads instead of the floor', () => {
    const rig = rigOf('capacity: 100 Ah', steady(2));
    const month = only(stayStudy(rig, QUITO, { years: 1, months: [5], fromSoc: 0.5, endAt: 'off' }));
    expect(month.darkDays).toBeCloseTo(40 / 48, 6);
    expect(month.darkDaysFromFull).toBeCloseTo(90 / 48, 6);
    expect(month.darkEndedBy).toBe('disconnect');
    expect(only(stayStudy(rig, QUITO, { years: 1, months: [5], fromSoc: 0.1 }))).toMatchObject({
      darkDays: 0,
      parkedDaysP90: 0,
      endedBy: { floor: 1 },
    });
  });

  test.each([
    { loadA: 8, batteryAh: 400 },
    { loadA: 9, batteryAh: 800 },
  ])(
    'in the sun: charge over the daily deficit, $loadA A on $batteryAh Ah under the same sky every day',
    ({ loadA, batteryAh }) => {
      // At the equator under a clear sky one day is as the next; a panel that the battery never curtails.
      const rig = rigOf(
        `capacity: ${batteryAh} Ah`,
        `solar: [{ name: roof, power: 300 W, controller: { current: 30 A } }]\n${steady(loadA)}`,
      );
      const clear = { weather: { kind: 'clear' }, months: [5] } as const;
      const month = only(stayStudy(rig, QUITO, clear));
      const inWh = yieldStudy(rig, QUITO, { weather: clear.weather }).months[4]!.yieldWhDay;
      // Over the two weeks the battery rests near 13.3 V; its cable and charge reaction take about a hundredth.
      const inAh = (0.99 * inWh) / 13.3;
      const standbyAh = (24 * rig.solar[0]!.controller.standbyW) / 13.2;
      const days = (0.8 * batteryAh) / (24 * loadA + standbyAh - inAh);
      expect(days).toBeGreaterThan(4);
      expect(Math.abs(month.parkedDaysP50 - days)).toBeLessThan(1); // the end falls on a morning
      expect(month.indefinite).toBe(false);
    },
  );

  test('as long as you like where the sun of every day is more than its load', () => {
    const rig = rigOf('capacity: 100 Ah', `solar: [{ name: roof, power: 300 W }]\n${steady(2)}`);
    const month = only(stayStudy(rig, QUITO, { weather: { kind: 'clear' }, months: [5], horizonDays: 40 }));
    expect(month).toMatchObject({ indefinite: true, parkedDaysP10: 40, parkedDaysP90: 40, outlasts: 1, endedBy: {} });
    expect(month.darkDays).toBeLessThan(1.7);
  });

  test.each([
    [1, 60], // 24 Ah at 30 A: 48 min
    [2, 120], // 48 Ah: 96 min
    [6, Infinity], // 144 Ah, and four hours bring 120
  ])('engine a day: %d A all day needs %d min of a 30 A charger', (amps, minutes) => {
    const rig = rigOf(
      'capacity: 60 Ah', // so small that nobody lives off it for the horizon's 60 days
      `alternator: { rating: 150 A, charger: { kind: dcdc, current: 30 A } }\n${steady(amps)}`,
    );
    // a cold morning of made weather slows the charge of LFP
    expect(only(stayStudy(rig, QUITO, { weather: { kind: 'clear' }, months: [5] })).engineMinutes).toBe(minutes);
  });
});

const VAN = `
solar: [{ name: roof, power: 150 W }]
alternator: { rating: 120 A, charger: { kind: dcdc, current: 20 A } }
loads:
  - { name: fridge, kind: fridge, volume: 40 L, setpoint: 4 degC, rated: { energy: 0.35 kWh/day, ambient: 25 degC } }
  - { name: laptop, power: 45 W, hours: 4 }
  - { name: lights, power: 8 W, when: sunset to 22:30 }`;

describe('many stays', () => {
  test('stays that join one another end as when each is followed by itself', () => {
    const rig = rigOf('capacity: 100 Ah', VAN);
    const conditions = weatherCases(rig, { place: 'Porto' }, { stepH: 0.5 }).conditions(0);
    const assembled = assemble(rig, conditions, 1);
    const dayFrom = dayStarts(assembled);
    const starts = Array.from({ length: 122 }, (_, k) => 3 * k);
    const how = { starts, startSoc: 1, endAt: 'floor', horizonDays: 60 } as const;
    const { days, cause } = stayLengths(assembled, layOutSteps(assembled.input), dayFrom, how);
    const follow = follower(assembled);
    let joined = 0;
    starts.forEach((start, k) => {
      const fromStep = dayFrom[start]!;
      const alone = follow({ untilEnd: true, fromStep, steps: 60 * 48 }).firstEnd;
      expect(Math.abs(days[k]! - (alone?.afterH ?? 60 * 24) / 24)).toBeLessThan(0.02);
      expect(cause[k]).toBe(alone ? END_CAUSES.indexOf(alone.cause) : -1);
      if (alone && alone.afterH > 10 * 24) joined++;
    });
    expect(joined).toBeGreaterThan(5);
  });

  test('P10 settles: 30 and 100 weather years differ by less than a tenth', () => {
    const rig = rigOf('capacity: 120 Ah', `solar: [{ name: roof, power: 150 W }]\n${steady(3)}`);
    const cases = weatherCases(rig, { place: 'Porto' }, { stepH: 1, years: 100 });
    const march = [60, 63, 66, 69, 72, 75, 78, 81, 84, 87];
    const all: number[] = [];
    let of30 = 0;
    for (let year = 0; year < 100; year++) {
      const assembled = assemble(rig, cases.conditions(year), 1);
      const how = { starts: march, startSoc: 1, endAt: 'floor', horizonDays: 60 } as const;
      all.push(...stayLengths(assembled, layOutSteps(assembled.input), dayStarts(assembled), how).days);
      if (year === 29) of30 = percentile(all, 0.1);
    }
    expect(Math.abs(of30 / percentile(all, 0.1) - 1)).toBeLessThan(0.1);
    expect(percentile(all, 0.9)).toBeGreaterThan(1.3 * percentile(all, 0.1)); // there is something to settle
  }, 120_000);

  test('half hours do for stays of days', () => {
    const rig = rigOf('capacity: 100 Ah', VAN);
    const at = (stepH: number) => only(stayStudy(rig, { place: 'Porto' }, { years: 1, months: [10], stepH }));
    const [coarse, fine] = [at(1 / 2), at(1 / 6)];
    expect(Math.abs(coarse.darkDays - fine.darkDays)).toBeLessThan(0.02);
    expect(Math.abs(coarse.parkedDaysP50 / fine.parkedDaysP50 - 1)).toBeLessThan(0.02);
  });

  test('more battery, more panel, more charge at the start never shorten a stay; what is unknown goes both ways', () => {
    const rig = rigOf('capacity: 100 Ah', VAN.replace('150 W', '90 W'));
    const options = { years: 2, months: [8, 2, 11] };
    const full = stayStudy(rig, { place: 'Porto' }, options);
    const half = stayStudy(rig, { place: 'Porto' }, { ...options, fromSoc: 0.5 });
    expect(full.months.map(({ month }) => month)).toEqual([2, 8, 11]);
    full.months.forEach((month, k) => {
      expect(month.parkedDaysP10).toBeLessThanOrEqual(month.parkedDaysP50);
      expect(month.parkedDaysP50).toBeLessThanOrEqual(month.parkedDaysP90);
      expect(month.parkedDaysLow).toBeLessThan(month.parkedDaysP50);
      if (month.parkedDaysHigh < full.horizonDays) expect(month.parkedDaysHigh).toBeGreaterThan(month.parkedDaysP50);
      expect(month.darkDaysLow).toBeLessThan(month.darkDays);
      expect(month.darkDaysHigh).toBeGreaterThan(month.darkDays);
      expect(month.parkedDaysP10).toBeGreaterThanOrEqual(month.darkDays);
      for (const more of [month.oneMorePanel!, month.oneMoreBattery])
        expect(more.parkedDaysP10).toBeGreaterThanOrEqual(month.parkedDaysP10);
      expect(month.oneMoreBattery.darkDays).toBeGreaterThan(1.9 * month.darkDays);
      expect(half.months[k]!.parkedDaysP50).toBeLessThan(month.parkedDaysP50);
      expect(half.months[k]!.darkDaysFromFull).toBeCloseTo(month.darkDays, 9);
    });
    expect(full.months[1]!.darkDays).toBeLessThan(full.months[0]!.darkDays); // the fridge in August's heat
    expect(full.darkMonth).toBe(8);
    const least = Math.min(...full.months.map(({ parkedDaysP10 }) => parkedDaysP10));
    expect(full.months.find(({ month }) => month === full.hardestMonth)!.parkedDaysP10).toBe(least);
    expect(full.darkDays).toBe(Math.min(...full.months.map(({ darkDays }) => darkDays)));
    expect(full.unknowns.map(({ what }) => what)).toEqual(['heat leak', 'soiling', 'irradiation']);
    expect(full.unknowns.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9);
  });

  test('a thin cable ends the stay by the fridge’s own cut-out, long before the floor', () => {
    const thin = VAN.replace(
      'setpoint: 4 degC,',
      'setpoint: 4 degC, compressor: 60 W, cutOut: 12.2 V, cutIn: 12.8 V, cable: { length: 8 m, section: 1.5 mm2 },',
    );
    const at = (rest: string) =>
      only(stayStudy(rigOf('capacity: 100 Ah', rest), { place: 'Porto' }, { years: 1, months: [12] }));
    expect(at(thin).darkEndedBy).toBe('fridge cut-out');
    expect(at(thin).endedBy).toEqual({ 'fridge cut-out': 1 });
    expect(at(thin).darkDays).toBeLessThan(at(VAN).darkDays);
  });
});

test.each([
  [{ fromSoc: 1.2 }, /fromSoc/],
  [{ fromSoc: Number.NaN }, /fromSoc/],
  [{ horizonDays: 0 }, /horizonDays/],
  [{ horizonDays: 400 }, /horizonDays/],
  [{ months: [13] }, /months/],
  [{ months: [] }, /months/],
  [{ years: 0 }, /years/],
])('a call out of range is refused: %o', (options, message) => {
  expect(() => stayStudy(rigOf('capacity: 100 Ah', steady(2)), QUITO, options)).toThrow(message);
});
