import { describe, expect, test } from 'vitest';
import { ConfigError, type Rig, readRig } from '../../../packages/core/src/index.js';
import { populationTask } from '../../../packages/core/src/log/readings/population.js';
import { drawOf } from '../../../packages/core/src/log/readings/prior.js';
import { likelihoodOf, responseOf } from '../../../packages/core/src/log/readings/response.js';
import { LEAD_DAYS, VehicleRuns } from '../../../packages/core/src/log/readings/vehicle-runs.js';
import {
  finish,
  latinHypercube,
  normalQuantile,
  percentile,
  seededStream,
} from '../../../packages/core/src/math/index.js';
import {
  AS_WRITTEN,
  calibrateReadings,
  ensembleText,
  readEnsemble,
  readReadings,
  rigWithEnsembleText,
  type VehicleDraw,
  vehicleOf,
} from '../../../packages/core/src/model.js';

const { rig } = readRig(`
name: Siskin
battery: { chemistry: LFP, capacity: 60 Ah }
solar: [{ power: 110 W, mount: bonded }]
loads:
  - { name: fridge, kind: fridge, volume: 30 L, setpoint: 5 degC }
  - { name: lights, power: 8 W, when: sunset to 22:30 }`);
const COAST = { at: { latDeg: 43.3, lonDeg: -8.3 } };

describe('the method on problems whose answer is known', () => {
  // Normal prior N(0, 1), reading 2 with error 0.5: the likely values are N(2/1.25, 0.2) (conjugate normals, any textbook of statistics).
  test('a linear response with normal errors gives the conjugate posterior', () => {
    const stream = seededStream(3);
    const followed = latinHypercube(200, 2, stream).map((row) => {
      const scores = row.map(normalQuantile);
      return { scores, values: [scores[0]!] };
    });
    const likely = likelihoodOf(responseOf(followed), [2], [0.5]);
    const draws = finish(populationTask(4000, 2, stream, likely));
    const first = draws.map(([a]) => a!);
    const second = draws.map(([, b]) => b!);
    const mean = (all: number[]) => all.reduce((a, b) => a + b, 0) / all.length;
    expect(Math.abs(mean(first) - 1.6)).toBeLessThan(0.04);
    expect(Math.abs(percentile(first, 0.95) - percentile(first, 0.05) - 2 * 1.6449 * Math.sqrt(0.2))).toBeLessThan(0.1);
    // what was not read stays as it was
    expect(Math.abs(percentile(second, 0.95) - percentile(second, 0.05) - 2 * 1.6449)).toBeLessThan(0.25);
  });

  test('what scatters from weather to weather widens the answer', () => {
    const stream = seededStream(4);
    const followed = latinHypercube(300, 1, stream).map((row, k) => {
      const scores = row.map(normalQuantile);
      return { scores, values: [scores[0]! + (k % 2 === 0 ? 1 : -1)] };
    });
    const draws = finish(populationTask(3000, 1, stream, likelihoodOf(responseOf(followed), [0], [0.1])));
    const width =
      percentile(
        draws.map(([a]) => a!),
        0.95,
      ) -
      percentile(
        draws.map(([a]) => a!),
        0.05,
      );
    expect(Math.abs(width - 2 * 1.6449 * Math.sqrt(1 / 2))).toBeLessThan(0.15); // 1/(1 + 1/(1 + 0.01)) of the prior's variance
  });
});

describe('readings of an invented vehicle', () => {
  const truth = [0.8, 0, -0.6, -1.5, 0];
  const runs = new VehicleRuns(rig, COAST, '2026-04-25', 60 + LEAD_DAYS, 77);
  const shown = runs.shown(drawOf(rig, truth), 3);
  const sum = (column: Float64Array) => column.subarray(LEAD_DAYS).reduce((a, b) => a + b, 0);
  const told = calibrateReadings(
    rig,
    readReadings(
      `totals: [{ from: 2026-05-01, days: 60, solar: ${sum(shown.solarWh).toFixed(0)} Wh, used: ${sum(shown.usedWh).toFixed(0)} Wh, full: ${
        [...shown.highest.subarray(LEAD_DAYS)].filter((high) => high >= 0.99).length
      }, empty: ${sum(shown.cuts)} }]`,
    ),
    COAST,
    { members: 300 },
  );
  const of = (name: string) => told.told.find((one) => one.name === name)!;

  test('what all loads used is found, and what was not told stays as wide as before', () => {
    const loads = of('loadWhPerDay');
    const trueWh = sum(shown.usedWh) / 60;
    expect(loads.after.low).toBeLessThanOrEqual(trueWh);
    expect(loads.after.high).toBeGreaterThanOrEqual(trueWh);
    expect(loads.width).toBeLessThan(0.5);
    expect(of('capacity').width).toBeGreaterThan(0.7);
    expect(told.unexplained).toEqual([]);
  });

  test('the ensemble is written, read back and holds so many vehicles', () => {
    expect(told.ensemble).toHaveLength(300);
    const back = readEnsemble(ensembleText(told.ensemble));
    expect(back).toHaveLength(300);
    expect(back[7]!.loads).toBeCloseTo(told.ensemble[7]!.loads, 3);
  });

  test('what to read next is told best first, and is no reading that is there', () => {
    const shares = told.next.map(({ narrows }) => narrows);
    expect(shares).toEqual(shares.toSorted((a, b) => b - a));
    expect(told.next.map(({ what }) => what)).not.toContain('used in all');
    expect(told.next[0]!.narrows).toBeGreaterThan(0);
  });
});

describe('single looks', () => {
  const months = '{ from: 2026-05-01, days: 30, solarPerDay: 200 Wh }';
  const call = (moments: string, of = rig) =>
    calibrateReadings(of, readReadings(`{ totals: [${months}], moments: [${moments}] }`), COAST, { members: 150 });

  test('amps beside the volts make them a charge: on the plateau of LFP they say next to nothing, near its end much', () => {
    const width = (moment: string) => call(moment).told.find(({ name }) => name === 'loadWhPerDay')!.width;
    const plateau = width('{ at: 2026-05-20 07:00, volts: 13.2 V, amps: -1 A }');
    const low = width('{ at: 2026-05-20 07:00, volts: 12.4 V, amps: -1 A }');
    expect(low).toBeLessThan(plateau);
  });

  test('a warm fridge says that it was cut off, or leaks: no vehicle that never falls short explains it', () => {
    const rich = readRig(`
battery: { chemistry: LFP, capacity: 300 Ah }
solar: [{ power: 400 W }]
loads: [{ name: fridge, kind: fridge, volume: 30 L, setpoint: 5 degC }]`).rig;
    const warm = calibrateReadings(rich, readReadings('moments: [{ at: 2026-05-20 07:00, fridge: 19 degC }]'), COAST, {
      members: 50,
    });
    expect(warm.unexplained).toEqual(['moments[0].fridge']);
    const cold = calibrateReadings(rich, readReadings('moments: [{ at: 2026-05-20 07:00, fridge: 5 degC }]'), COAST, {
      members: 50,
    });
    expect(cold.unexplained).toEqual([]);
  });

  test('a fridge that the rig lacks is named', () => {
    const none = readRig('battery: { chemistry: LFP, capacity: 60 Ah }\nloads: [{ name: lamp, power: 5 W }]').rig;
    expect(() => call('{ at: 2026-05-20 07:00, fridge: 5 degC }', none)).toThrow(/the rig has no fridge/);
  });
});

describe('the short cuts between vehicles', () => {
  // Light of a few shades is worked out, and what controllers make of it is taken straight between them and times the harvest.
  test.each(['MPPT', 'PWM'])('give what a vehicle by itself gives, within 1.5 %%: %s', (kind) => {
    const lit = readRig(`
battery: { chemistry: LFP, capacity: 60 Ah }
solar: [{ power: 110 W, mount: bonded, controller: { kind: ${kind}, current: 10 A } }]
loads: [{ name: lamp, power: 30 W }]`).rig;
    for (const [harvest, shade] of [
      [1, 0.15],
      [0.7, 0],
      [0.7, 0.25],
      [1.1, 0.05],
    ] as const) {
      const draw = { loads: 1.1, heatLeak: 1, harvest, shade, capacity: 1 };
      const sum = (of: Rig, vehicle: VehicleDraw) =>
        new VehicleRuns(of, COAST, '2026-04-01', 30, 1).shown(vehicle, 2).solarWh.reduce((a, b) => a + b, 0);
      const by = sum(lit, draw) / sum(vehicleOf(lit, draw), AS_WRITTEN);
      expect(Math.abs(by - 1)).toBeLessThan(0.015);
    }
  });
});

describe('impossible readings are named with the bound they break', () => {
  const call = (yaml: string) => () => calibrateReadings(rig, readReadings(yaml), COAST, { members: 50 });
  test.each([
    ['totals: [{ from: 2026-05-01, days: 90, solar: 200 kWh }]', /more than 110 W of panels can give: at most 119 kWh/],
    ['totals: [{ from: 2026-05-01, days: 50, full: 80 }]', /full on 80 days of 50/],
    ['moments: [{ at: 2026-05-01 10:00, soc: 103 % }]', /103/],
    ['totals: [{ from: 2026-05-01, days: 10, solar: 1 kWh, used: 9 kWh }]', /exclude.*could be used/],
    [
      '{ totals: [{ from: 2026-05-01, days: 10, lowest: 60 % }], days: [{ date: 2026-05-03, lowest: 40 % }] }',
      /40 % excludes totals\[0\]\.lowest/,
    ],
    ['days: [{ date: 2026-05-03, lowest: 90 %, highest: 40 % }]', /above the highest/],
    ['days: [{ date: 2026-05-03, solar: 9 kWh }]', /more than 110 W/],
    [
      '{ totals: [{ from: 2026-05-01, days: 10, solar: 1 kWh }], days: [{ date: 2026-05-03, solar: 600 Wh }, { date: 2026-05-04, solar: 700 Wh }] }',
      /1 kWh excludes the rows of days, which add up to 1.3 kWh/,
    ],
    ['totals: [{ from: 2026-05-01, days: 10, lowest: 60 %, empty: 2 }]', /never below 60 % excludes 2 times empty/],
    [
      '{ totals: [{ from: 2026-05-01, days: 3, full: 2 }], days: [{ date: 2026-05-01, highest: 70 % }, { date: 2026-05-03, highest: 80 % }] }',
      /full on 2 of 3 days excludes the rows of days, of which 2 do not come near full: 1 at most/,
    ],
    [
      '{ days: [{ date: 2026-05-03, lowest: 70 %, highest: 90 % }], moments: [{ at: 2026-05-03 10:00, soc: 55 % }] }',
      /55 % excludes days\[0\]: 70 % to 90 %/,
    ],
    [
      'moments: [{ at: 2026-05-01 10:00, volts: 26 V }]',
      /26 V is no voltage of this battery: 12 V stands between 8 and 16 V/,
    ],
    ['moments: [{ at: 2026-05-01 10:00, amps: -2 A, soc: 80 % }]', /amps go with volts/],
    ['moments: [{ at: 2026-05-01 10:00 }]', /the moment says nothing/],
    ['{ days: [] }', /no reading/],
    ['stops: [{ place: Porto }]', /this is a trip/],
    ['totals: [{ from: 2026-05-01, days: 10, solar: 5 W }]', /W/],
  ])('%s', (yaml, message) => {
    expect(call(yaml)).toThrow(ConfigError);
    expect(call(yaml)).toThrow(message);
  });

  test.each([
    ['{', /./],
    ['{"vehicles": []}', /this is no ensemble \(calibrate writes one/],
    ['[1]', /this is no ensemble/],
    ['{"ensemble": {"loads": [1]}}', /heatLeak: is missing/],
    [
      '{"ensemble": {"loads": [1, 1], "heatLeak": [1], "harvest": [1, 1], "shade": [0, 0], "capacity": [1, 1]}}',
      /ensemble.heatLeak: has 1 values, and loads has 2/,
    ],
    [
      '{"ensemble": {"loads": [1], "heatLeak": [1], "harvest": [1], "shade": [1.2], "capacity": [1]}}',
      /ensemble.shade: of vehicle 1 is 1.2 where a number from 0 to 1/,
    ],
  ])('%s is no ensemble', (text, message) => {
    expect(() => readEnsemble(text)).toThrow(ConfigError);
    expect(() => readEnsemble(text)).toThrow(message);
  });

  test('the vehicles go into the rig file, comments kept, and studies read them there', () => {
    const text = 'battery: { chemistry: LFP, capacity: 60 Ah } # mine\nloads: [{ name: lamp, power: 5 W }]\n';
    const vehicles = [
      { loads: 0.8, heatLeak: 1, harvest: 0.9, shade: 0.1, capacity: 0.97 },
      { loads: 1.2, heatLeak: 1, harvest: 1, shade: 0, capacity: 1 },
    ];
    const written = rigWithEnsembleText(text, { ensemble: vehicles, readings: 3, days: 96, from: '2026-05-01' });
    expect(written).toContain('# mine');
    expect(written).toContain('# vehicles that this may be');
    expect(readRig(written).rig.ensemble).toEqual(vehicles);
  });
});
