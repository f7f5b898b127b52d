import { describe, expect, test } from 'vitest';
import { percentile } from '../../../packages/core/src/math/index.js';
import { ConfigError, readTrip } from '../../../packages/core/src/rig/index.js';
import { simulate } from '../../../packages/core/src/simulate/index.js';
import { YIELD_LOSSES, type YieldStudy, yieldStudy } from '../../../packages/core/src/study/index.js';
import { someRig } from './rig-fixture.js';

const at = (latDeg: number, lonDeg = 0) => ({ at: { latDeg, lonDeg }, elevationM: 100 });
const CLEAR = { weather: { kind: 'clear' }, stepH: 1 } as const;
const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);
const MONTH_DAYS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/** Every number of a result, with the path to it. */
function numbers(value: unknown, path = ''): [string, number][] {
  if (typeof value === 'number') return [[path, value]];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => numbers(inner, `${path}.${key}`));
}

function expectInOrder(study: YieldStudy): void {
  for (const [path, value] of numbers(study)) expect(Number.isFinite(value), path).toBe(true);
  expect(study.months.map(({ month }) => month)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]);
  for (const month of study.months) {
    expect(month.yieldWhDay).toBeLessThanOrEqual(month.availableWhDay);
    expect(month.yieldWhDayLow).toBeLessThanOrEqual(month.yieldWhDay);
    expect(month.yieldWhDayHigh).toBeGreaterThanOrEqual(month.yieldWhDay);
    expect(month.yieldWhDay).toBeGreaterThanOrEqual(0);
    expect(month.peakSunHours).toBe(month.poaKwhM2Day);
    if (study.weatherYears > 1) {
      expect(month.yieldWhDayP10!).toBeLessThanOrEqual(month.yieldWhDayP50!);
      expect(month.yieldWhDayP50!).toBeLessThanOrEqual(month.yieldWhDayP90!);
    } else expect(month.yieldWhDayP10).toBeUndefined();
  }
  const { waterfall, annualKwh } = study;
  expect(sum(study.months.map((month, k) => (month.yieldWhDay * MONTH_DAYS[k]!) / 1000))).toBeCloseTo(annualKwh, 9);
  expect(waterfall.losses.map(({ where }) => where)).toEqual(YIELD_LOSSES);
  expect(waterfall.lightKwh - sum(waterfall.losses.map(({ kwh }) => kwh))).toBeCloseTo(waterfall.yieldKwh, 9);
  expect(waterfall.yieldKwh).toBeCloseTo(annualKwh, 9);
  expect(study.setups[0]).toMatchObject({ setup: 'as fitted' });
  expect(study.setups[0]!.annualKwh).toBeCloseTo(annualKwh, 9);
}

describe('sums and orders', () => {
  const two = someRig(
    { name: 'roof', shade: [{ fromH: 7, toH: 9.5, keeps: 0.4 }], horizon: [{ azimuthDeg: 90, elevationDeg: 12 }] },
    { name: 'suitcase', powerW: 60, mount: 'ground', tiltDeg: 40, reaimedPerDay: 3 },
  );
  const study = yieldStudy(two, { ...at(43.6, -8.1), shade: 0.2 }, { years: 3, stepH: 0.5 });

  test('the whole is in order, and is the sum of its arrays', () => {
    expectInOrder(study);
    expect(study.arrays.map(({ name, powerW }) => [name, powerW])).toEqual([
      ['roof', 100],
      ['suitcase', 60],
    ]);
    expect(sum(study.arrays.map(({ annualKwh }) => annualKwh))).toBeCloseTo(study.annualKwh, 9);
    for (const key of ['yieldWhDay', 'availableWhDay'] as const)
      study.months.forEach((month, k) => {
        expect(sum(study.arrays.map(({ months }) => months[k]![key]))).toBeCloseTo(month[key], 9);
      });
    expect(sum(study.arrays.map(({ waterfall }) => waterfall.lightKwh))).toBeCloseTo(study.waterfall.lightKwh, 9);
  });

  test('trees, skyline and windows count as shade, and only as shade', () => {
    const shade = study.waterfall.losses.find(({ where }) => where === 'shade')!;
    expect(shade.share).toBeGreaterThan(0.1);
    const open = yieldStudy(someRig(), at(43.6, -8.1), CLEAR);
    expect(open.waterfall.losses.find(({ where }) => where === 'shade')!.kwh).toBeCloseTo(0, 9);
  });

  test('each loss is what its own factor says', () => {
    const losses = { soiling: 0, mismatch: 0.03, ageing: 0.1 };
    const { waterfall } = yieldStudy(someRig({ losses, soilingRange: { low: 0, high: 0 } }), at(35), CLEAR);
    const kwh = Object.fromEntries(waterfall.losses.map((loss) => [loss.where, loss.kwh]));
    expect(kwh.soiling).toBeCloseTo(0, 9);
    expect(kwh.cable! / (waterfall.lightKwh * 0.8)).toBeLessThan(0.02);
    const before = waterfall.yieldKwh + kwh.controller! + kwh.cable! + kwh.ageing! + kwh.mismatch!;
    expect(kwh.mismatch! / before).toBeCloseTo(0.03, 9);
    expect(kwh.ageing! / (before - kwh.mismatch!)).toBeCloseTo(0.1, 9);
  });

  test('the same seed gives the same years, another seed others', () => {
    const years = (seed: number) => yieldStudy(someRig(), at(50), { years: 2, seed, stepH: 1 });
    expect(years(4)).toEqual(years(4));
    expect(years(4).annualKwh).not.toBe(years(5).annualKwh);
  });

  test('a shorter step barely moves the answer', () => {
    const [fine, coarse] = [1 / 6, 1].map((stepH) => yieldStudy(someRig(), at(45), { years: 1, stepH }));
    expect(Math.abs(coarse!.annualKwh / fine!.annualKwh - 1)).toBeLessThan(0.01);
  });
});

describe('five latitudes under a clear sky', () => {
  const flat = someRig();
  const [north65, north45, north25, equator, south35] = [65, 45, 25, 0, -35].map((lat) =>
    yieldStudy(flat, at(lat, 20), CLEAR),
  ) as [YieldStudy, YieldStudy, YieldStudy, YieldStudy, YieldStudy];
  const month = (study: YieldStudy, which: number) => study.months[which - 1]!;

  test('each is in order', () => {
    for (const study of [north65, north45, north25, equator, south35]) expectInOrder(study);
  });

  test('65° N has next to nothing in December, and something', () => {
    expect(month(north65, 12).yieldWhDay).toBeGreaterThan(0);
    expect(month(north65, 12).yieldWhDay).toBeLessThan(0.02 * month(north65, 6).yieldWhDay);
  });

  test('the equator is even: its least month has more than 80 % of its most (common practice, no source)', () => {
    const all = equator.months.map(({ yieldWhDay }) => yieldWhDay);
    expect(Math.min(...all)).toBeGreaterThan(0.8 * Math.max(...all));
    expect(equator.bestTiltDeg).toBeLessThanOrEqual(5);
  });

  test('the south has its summer in January, and leans north', () => {
    expect(month(south35, 1).yieldWhDay).toBeGreaterThan(2 * month(south35, 6).yieldWhDay);
    const [, , tilt] = south35.setups;
    expect(tilt!.annualKwh).toBeGreaterThan(1.05 * south35.annualKwh);
  });

  test('the best tilt of the year is the latitude less 0 to 10° outside the tropics, more in winter, less in summer (common practice, no source)', () => {
    for (const [study, lat] of [
      [north25, 25],
      [north45, 45],
      [south35, 35],
    ] as const) {
      expect(study.bestTiltDeg).toBeLessThanOrEqual(lat + 1);
      expect(study.bestTiltDeg).toBeGreaterThanOrEqual(lat - 10);
    }
    expect(month(north45, 12).bestTiltDeg!).toBeGreaterThan(north45.bestTiltDeg + 15);
    expect(month(north45, 6).bestTiltDeg!).toBeLessThan(north45.bestTiltDeg - 15);
  });

  test('the best tilt beats flat, and turning to the sun beats both', () => {
    for (const { setups } of [north65, north45, north25, south35]) {
      const [, level, tilt, aimed] = setups.map(({ annualKwh }) => annualKwh);
      expect(tilt!).toBeGreaterThan(level!);
      expect(aimed!).toBeGreaterThan(tilt!);
    }
  });
});

test.each(['clear', 'climate', 'dull'] as const)('polar night gives zero, never NaN: %s', (kind) => {
  const study = yieldStudy(someRig(), at(80, 15), { weather: { kind }, years: 2, stepH: 1 });
  expectInOrder(study);
  for (const which of [0, 10, 11])
    expect(study.months[which]).toMatchObject({
      poaKwhM2Day: 0,
      yieldWhDay: 0,
      availableWhDay: 0,
      yieldWhDayLow: 0,
      yieldWhDayHigh: 0,
    });
  expect(study.months[0]!.bestTiltDeg).toBeUndefined();
  expect(study.months[5]!.yieldWhDay).toBeGreaterThan(0);
});

// A PWM controller's power goes with the battery's voltage: 13.3 V in yield, what the battery has in simulate.
test.each(['MPPT', 'PWM'] as const)(
  'a battery that never fills harvests in simulate what yield says is available: %s',
  (kind) => {
    const { controller } = someRig().solar[0]!;
    const rig = someRig({ tiltDeg: 20, controller: { ...controller, kind } });
    const endless = { ...rig, battery: { ...rig.battery, capacityAh: 1e5 } };
    const { trip } = readTrip(
      JSON.stringify({
        name: 'invented',
        weather: 'clear',
        startSoc: '50 %',
        stops: [{ at: [41.7, -8.8], from: '2025-06-01', nights: 30 }],
      }),
      { file: 'invented' },
    );
    const { summary, trace } = simulate(endless, trip);
    const sunny = trace.batteryV.filter((_, i) => trace.pvHarvestW[i]! > 0);
    const volts = kind === 'PWM' ? sum([...sunny]) / sunny.length / 13.3 : 1;
    const { months } = yieldStudy(rig, trip.stops[0]!, { weather: { kind: 'clear' } });
    const { availableWhDay, yieldWhDay } = months[5]!;
    expect(Math.abs(summary.pvHarvestWh / 30 / (availableWhDay * volts) - 1)).toBeLessThan(2e-3);
    // The controller's own draw is booked as its loss there, and is no loss of the yield here.
    const lostWh = summary.lossWh.panelCable! + summary.lossWh.solarController!;
    const outputWh = (summary.pvHarvestWh - lostWh) / 30 + controller.standbyW * 24;
    expect(Math.abs(outputWh / (yieldWhDay * volts) - 1)).toBeLessThan(2e-3);
  },
);

test('PWM gives a tenth to a third less than MPPT from a 36-cell panel in mild weather (common practice, no source)', () => {
  const controller = someRig().solar[0]!.controller;
  const study = (kind: 'MPPT' | 'PWM') => yieldStudy(someRig({ controller: { ...controller, kind } }), at(45), CLEAR);
  const [mppt, pwm] = [study('MPPT'), study('PWM')];
  expectInOrder(pwm);
  expect(pwm.annualKwh / mppt.annualKwh).toBeGreaterThan(0.67);
  expect(pwm.annualKwh / mppt.annualKwh).toBeLessThan(0.95);
});

test('a small controller holds the yield to its current', () => {
  const controller = { ...someRig().solar[0]!.controller, currentA: 2 };
  const { months } = yieldStudy(someRig({ controller }), at(45), CLEAR);
  for (const { yieldWhDay } of months) expect(yieldWhDay).toBeLessThan(24 * 2 * 13.4);
  expect(months[5]!.yieldWhDay).toBeLessThan(16 * 2 * 13.4);
});

test('dirt, haze and the climate widen what is known, and nothing else does', () => {
  const known = someRig({ soilingRange: { low: 0.04, high: 0.04 } });
  expect(yieldStudy(known, at(45), CLEAR).ranges.map(({ what }) => what)).toEqual(['turbidity']);
  const { ranges, annualKwh } = yieldStudy(someRig(), at(45), { years: 1, stepH: 1 });
  expect(ranges.map(({ what }) => what)).toEqual(['soiling', 'irradiation']);
  for (const range of ranges) {
    expect(range.annualKwh.low).toBeLessThan(annualKwh);
    expect(range.annualKwh.high).toBeGreaterThan(annualKwh);
  }
});

describe('a dated weather file', () => {
  const HOURS = 2 * 365 * 24;
  /** Two invented years, the second half as bright. */
  const text = (hours: number) =>
    [
      'utc hour end,global horizontal W/m2,air temperature C,wind m/s',
      ...Array.from({ length: hours }, (_, i) => {
        const end = new Date(Date.UTC(2021, 0, 1) + (i + 1) * 3.6e6).toISOString().slice(0, 16);
        const sun = Math.max(0, Math.sin(((((i % 24) + 0.5) / 24) * 2 - 0.5) * Math.PI));
        return `${end}Z,${Math.round(sun * (i < 365 * 24 ? 600 : 300))},15,2`;
      }),
    ].join('\n');
  const options = (hours: number) => ({
    weather: { kind: 'file', path: 'two-years.csv' } as const,
    weatherFile: { name: 'two-years.csv', text: text(hours) },
    stepH: 1,
  });

  test('gives as many weather years as it holds', () => {
    const study = yieldStudy(someRig(), at(10), options(HOURS));
    expect(study.weatherYears).toBe(2);
    expectInOrder(study);
    expect(study.annualKwhP90! / study.annualKwhP10!).toBeGreaterThan(1.5);
  });

  test('of less than a year is refused, with what it holds', () => {
    expect(() => yieldStudy(someRig(), at(10), options(200 * 24))).toThrow(ConfigError);
    expect(() => yieldStudy(someRig(), at(10), options(200 * 24))).toThrow(/holds 200 whole days/);
  });
});

test('a rig without an array, and a number of years that is none, are refused', () => {
  expect(() => yieldStudy({ ...someRig(), solar: [] }, at(45))).toThrow(ConfigError);
  for (const years of [0, 1.5, Number.NaN, -3])
    expect(() => yieldStudy(someRig(), at(45), { years })).toThrow(RangeError);
});

test('percentiles run straight between ranks (recomputed from Hyndman & Fan 1996, type 7)', () => {
  expect(percentile([4, 1, 3, 2], 0.5)).toBe(2.5);
  expect(percentile([10, 20, 30, 40, 50, 60, 70, 80, 90, 100, 110], 0.1)).toBeCloseTo(20, 12);
  expect(percentile([7], 0.9)).toBe(7);
  expect(() => percentile([], 0.5)).toThrow(RangeError);
});
