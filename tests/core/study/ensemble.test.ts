import { describe, expect, test } from 'vitest';
import {
  readParts,
  readRig,
  readTrip,
  simulate,
  sizeStudy,
  stayStudy,
  tonightStudy,
  withoutTrip,
  yieldStudy,
} from '../../../packages/core/src/index.js';
import { percentile } from '../../../packages/core/src/math/index.js';
import { AS_WRITTEN, middleVehicle, spreadOf, type VehicleDraw, vehicleOf } from '../../../packages/core/src/model.js';
import { middleOf, someVehicles } from '../../../packages/core/src/rig/index.js';

const { rig } = readRig(`
name: Siskin
battery: { chemistry: LFP, capacity: 60 Ah }
solar: [{ power: 110 W, mount: bonded }]
loads:
  - { name: fridge, kind: fridge, volume: 30 L, setpoint: 5 degC }
  - { name: lights, power: 8 W, when: sunset to 22:30 }
  - { name: laptop, power: 45 W, hours: 2 }`);
const PORTO = { place: 'Porto' };
const WEEK = withoutTrip({ place: 'Porto', from: '2026-11-03', days: 7 });
const { parts } = readParts(`
batteries: [{ name: LFP 60, chemistry: LFP, capacity: 60 Ah, mass: 7 kg, price: 250 }]
panels: [{ name: flat 110, power: 110 W, mass: 2 kg, price: 130 }]
limits: { batteries: 2, panels: 2 }`);
const NOVEMBER = readTrip('stops: [{ place: Porto, from: 2026-11-01, nights: 30 }]').trip;
const NOW = { nowMs: Date.parse('2026-10-10T17:00Z'), battery: { kind: 'soc', soc: 0.6 }, members: 12 } as const;

const thirsty: VehicleDraw = { loads: 1.5, heatLeak: 1.2, harvest: 0.8, shade: 0.2, capacity: 0.8 };
const frugal: VehicleDraw = { loads: 0.7, heatLeak: 0.9, harvest: 1, shade: 0, capacity: 1 };
const between: VehicleDraw = { loads: 1.1, heatLeak: 1, harvest: 0.95, shade: 0.1, capacity: 0.95 };

describe('an ensemble of one vehicle is that vehicle, in each answer', () => {
  const ensemble = { ...rig, ensemble: [thirsty] };
  const vehicle = vehicleOf(rig, thirsty);

  test('simulate, and its spread is none', () => {
    const run = simulate(ensemble, WEEK);
    const { summary } = simulate(vehicle, WEEK);
    expect(run.summary).toEqual(summary);
    const spread = spreadOf(ensemble, run)!;
    expect(spread.vehicles).toBe(1);
    expect(spread.lowestSoc).toEqual({ p10: summary.lowestSoc, p50: summary.lowestSoc, p90: summary.lowestSoc });
    expect(spread.endSoc.p50).toBe(summary.endSoc);
    expect(Math.abs(spread.unservedWh.p50 - summary.unservedWh)).toBeLessThan(0.02 * summary.unservedWh + 0.5);
    expect(spread.keepsFloor).toBe(summary.hoursBelowFloor > 0 ? 0 : 1);
  });

  test('stay', () => {
    const asked = { months: [11], years: 2 };
    const [of, own] = [stayStudy(ensemble, PORTO, asked), stayStudy(vehicle, PORTO, asked)];
    const [row, ownRow] = [of.months[0]!, own.months[0]!];
    for (const key of ['parkedDaysP10', 'parkedDaysP50', 'parkedDaysP90', 'darkDays', 'engineMinutes'] as const)
      expect(row[key]).toBe(ownRow[key]);
    // the same days between the same ranks, rounded by another sum
    for (const end of [row.parkedDaysLow, row.parkedDaysHigh]) expect(end).toBeCloseTo(row.parkedDaysP50, 12);
    expect([row.darkDaysLow, row.darkDaysHigh]).toEqual([row.darkDays, row.darkDays]);
    expect(of.vehicles).toBe(1);
  });

  test('tonight', () => {
    const [of, own] = [
      tonightStudy(ensemble, PORTO, NOW),
      tonightStudy({ ...vehicle, ensemble: [AS_WRITTEN] }, PORTO, NOW),
    ];
    expect(of.spareWh).toEqual(own.spareWh);
    expect(of.keeps).toBe(own.keeps);
  });

  test('size: its loads and its light; a battery that is bought holds what is printed', () => {
    const bought = { ...thirsty, capacity: 1 };
    const asked = { years: 2, stepH: 0.5 };
    const [choice] = sizeStudy({ ...rig, ensemble: [bought] }, parts, [NOVEMBER], asked).choices;
    const [capacityApart] = sizeStudy(ensemble, parts, [NOVEMBER], asked).choices;
    const written = sizeStudy(rig, parts, [NOVEMBER], asked).choices[0]!;
    expect(capacityApart!.unservedHoursYear).toBe(choice!.unservedHoursYear);
    expect(choice!.lowestSoc).toBeLessThan(written.lowestSoc);
  });

  test('yield', () => {
    const asked = { years: 1 };
    expect(yieldStudy(ensemble, PORTO, asked).annualKwh).toBe(yieldStudy(vehicle, PORTO, asked).annualKwh);
    expect(yieldStudy(ensemble, PORTO, asked).annualKwh).toBeLessThan(yieldStudy(rig, PORTO, asked).annualKwh);
  });
});

test('vehicles as written answer as the rig does without an ensemble', () => {
  const same = { ...rig, ensemble: [AS_WRITTEN, AS_WRITTEN, AS_WRITTEN] };
  expect(simulate(same, WEEK).summary).toEqual(simulate(rig, WEEK).summary);
  const asked = { months: [11], years: 2 };
  const [of, own] = [stayStudy(same, PORTO, asked).months[0]!, stayStudy(rig, PORTO, asked).months[0]!];
  expect(of.parkedDaysP10).toBe(own.parkedDaysP10);
  expect(of.darkDays).toBe(own.darkDays);
});

describe('the spread of several', () => {
  const vehicles = [thirsty, between, frugal];
  const ensemble = { ...rig, ensemble: vehicles };

  test('the middle is the vehicle nearest to all', () => {
    expect(middleOf(vehicles)).toEqual(between);
    expect(middleVehicle(ensemble)).toEqual(vehicleOf(rig, between));
  });

  test('some of many are taken evenly, of few all', () => {
    const many = Array.from({ length: 10 }, (_, k) => ({ ...AS_WRITTEN, loads: k }));
    expect(someVehicles(many, 5).map(({ loads }) => loads)).toEqual([1, 3, 5, 7, 9]);
    expect(someVehicles(vehicles, 24)).toEqual(vehicles);
  });

  test('of a run it is that of the runs of each', () => {
    const run = simulate(ensemble, WEEK);
    const spread = spreadOf(ensemble, run)!;
    const each = vehicles.map((vehicle) => simulate(vehicleOf(rig, vehicle), WEEK));
    const lowest = each.map(({ summary }) => summary.lowestSoc);
    for (const [key, share] of [
      ['p10', 0.1],
      ['p50', 0.5],
      ['p90', 0.9],
    ] as const)
      expect(spread.lowestSoc[key]).toBeCloseTo(percentile(lowest, share), 12);
    expect(spread.lowestEach).toEqual(lowest.map((soc) => expect.closeTo(soc, 12)));
    expect(spread.neverOff).toBeCloseTo(each.filter(({ summary }) => summary.unservedWh === 0).length / 3, 12);
    const at = Math.floor(run.trace.grid.steps / 2);
    expect(spread.band!.p10[at]).toBeCloseTo(
      percentile(
        each.map(({ trace }) => trace.soc[at]!),
        0.1,
      ),
      12,
    );
  });

  test('of stays it holds what each vehicle comes to, and is wider than none', () => {
    const asked = { months: [11], years: 2 };
    const row = stayStudy(ensemble, PORTO, asked).months[0]!;
    const dark = vehicles.map((vehicle) => stayStudy(vehicleOf(rig, vehicle), PORTO, asked).months[0]!.darkDays);
    expect(row.darkDaysLow).toBeCloseTo(percentile(dark, 0.05), 6);
    expect(row.darkDaysHigh).toBeCloseTo(percentile(dark, 0.95), 6);
    expect(row.parkedDaysLow).toBeLessThan(row.parkedDaysP50);
    expect(row.parkedDaysHigh).toBeGreaterThan(row.parkedDaysP50);
  });

  test('of a choice it is that of the vehicles with it, in hours, nights and lowest charge', () => {
    const { choices } = sizeStudy(ensemble, parts, [NOVEMBER], { years: 2, stepH: 0.5 });
    const marked = choices.find(({ marks }) => marks.length > 0)!;
    const { vehicles: count, lowestSoc, meets, unservedHoursYear } = marked.spread!;
    expect(count).toBe(3);
    expect(lowestSoc.p10).toBeLessThan(marked.lowestSoc);
    expect(meets).toBeGreaterThan(0);
    expect(meets).toBeLessThanOrEqual(1);
    expect(unservedHoursYear.p90).toBeGreaterThanOrEqual(unservedHoursYear.p10);
  });

  test('a rig file holds it, and it survives JSON', () => {
    const { rig: read } = readRig(`
battery: { chemistry: LFP, capacity: 60 Ah }
loads: [{ name: lamp, power: 5 W }]
ensemble: { loads: [0.9, 1.1], heatLeak: [1, 1], harvest: [1, 0.8], shade: [0, 0.1], capacity: [1, 0.9] }`);
    expect(read.ensemble).toEqual([
      { ...AS_WRITTEN, loads: 0.9 },
      { loads: 1.1, heatLeak: 1, harvest: 0.8, shade: 0.1, capacity: 0.9 },
    ]);
    const run = simulate(JSON.parse(JSON.stringify(read)), WEEK);
    expect(spreadOf(read, run)!.vehicles).toBe(2);
  });
});
