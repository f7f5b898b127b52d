import { describe, expect, test } from 'vitest';
import {
  compressor,
  foodSafeC,
  fridgeColumns,
  fridgeModel,
  heatInW,
  heatLeakWPerK,
  mostWhPerDay,
  roomCop,
} from '../../../packages/core/src/load/index.js';
import { ConfigError } from '../../../packages/core/src/rig/index.js';
import { changeDay, fridge, plainDay, sum } from './example.js';

const grid = { startMs: 0, stepH: 0.5, steps: 48 };
const room = (roomC: number) => new Float64Array(48).fill(roomC);
const columnsOf = (load: ReturnType<typeof fridge>, roomC: number, day = plainDay(0), on = grid) =>
  fridgeColumns(load, fridgeModel(load), room(roomC), [day], on);
/** Energy of a day of a fridge that always has power and stays at its set point. */
const dayWh = (load: ReturnType<typeof fridge>, roomC: number) =>
  columnsOf(load, roomC).reduce(
    (total, { holdDuty, electricW }) => total + sum(holdDuty.map((duty, i) => duty * electricW[i]!)) * grid.stepH,
    24 * load.standbyW,
  );
/** Heat into its rooms at their set points [Wh a day]. */
const heatWh = (load: ReturnType<typeof fridge>, roomC: number) =>
  fridgeModel(load).rooms.reduce((total, { setpointC }, k) => {
    const columns = columnsOf(load, roomC)[k]!;
    return total + sum(room(0).map((_, i) => heatInW(columns, i, setpointC))) * grid.stepH;
  }, 0);
const rated = (energyWhPerDay: number, ambientC: number, insideC = 4) => ({ energyWhPerDay, ambientC, insideC });

describe('the heat leak', () => {
  test('is fitted so that the rated consumption comes out at the rated room and inside', () => {
    for (const insideC of [4, -18])
      for (const one of [rated(330, 25, insideC), rated(500, 32, insideC)])
        expect(dayWh(fridge({ setpointC: insideC, rated: one }), one.ambientC)).toBeCloseTo(one.energyWhPerDay, 9);
  });
  test('is fitted with two zones as well', () => {
    const secondZone = { volumeL: 15, setpointC: -18 };
    const load = fridge({ secondZone, rated: { ...rated(600, 25), secondInsideC: -18 } });
    expect(dayWh(load, 25)).toBeCloseTo(600, 9);
  });
  test('is that of the box, whatever its set point: colder takes more', () => {
    const models = [8, 4, -18].map((setpointC) => fridgeModel(fridge({ setpointC, rated: rated(330, 25) })));
    for (const model of models) expect(model.uaWPerK).toBe(models[0]!.uaWPerK);
    const [warm, rightly, cold] = [8, 4, -18].map((setpointC) =>
      dayWh(fridge({ setpointC, rated: rated(330, 25) }), 25),
    );
    expect(warm).toBeLessThan(rightly!);
    expect(cold).toBeGreaterThan(2 * rightly!);
  });
  test('meets every point of a data sheet, goes straight between them, and is their middle', () => {
    const also = [
      { energyWhPerDay: 260, ambientC: 20 },
      { energyWhPerDay: 620, ambientC: 38 },
    ];
    const load = fridge({ rated: { ...rated(370, 25), also } });
    for (const [ambientC, wh] of [
      [20, 260],
      [25, 370],
      [38, 620],
    ] as const)
      expect(dayWh(load, ambientC)).toBeCloseTo(wh, 9);
    const model = fridgeModel(load);
    const plain = { ...model, datasheet: [] };
    const times = (c: number) => roomCop(model, c) / roomCop(plain, c);
    expect(times(31.5)).toBeCloseTo((times(25) + times(38)) / 2, 12);
    expect(times(10)).toBeCloseTo(times(20), 12);
    expect(times(45)).toBeCloseTo(times(38), 12);
    expect(times(20) * times(25) * times(38)).toBeCloseTo(1, 9);
  });
  test('comes from the insulation otherwise: thicker leaks less, larger leaks more', () => {
    expect(heatLeakWPerK(45, 60)).toBeLessThan(heatLeakWPerK(45, 40));
    expect(heatLeakWPerK(60, 40)).toBeGreaterThan(heatLeakWPerK(45, 40));
  });
  test('is taken down by a cover', () => {
    const bare = fridgeModel(fridge());
    const covered = fridgeModel(fridge({ cover: 0.15 }));
    expect(covered.uaWPerK).toBeCloseTo(0.85 * bare.uaWPerK, 12);
    expect(heatWh(fridge({ cover: 0.15 }), 32)).toBeCloseTo(0.85 * heatWh(fridge(), 32), 9);
  });
  test('of two zones is shared by volume, with what is inside; one evaporator serves the colder', () => {
    const one = fridgeModel(fridge({ volumeL: 60 }));
    const two = fridgeModel(fridge({ volumeL: 45, secondZone: { volumeL: 15, setpointC: -18 } }));
    expect(two.rooms.map(({ setpointC }) => setpointC)).toEqual([4, -18]);
    for (const key of ['uaWPerK', 'contentKg', 'linerWhPerK'] as const) {
      expect(two.rooms[0]![key]).toBeCloseTo(3 * two.rooms[1]![key], 12);
      expect(two.rooms[0]![key] + two.rooms[1]![key]).toBeCloseTo(one.rooms[0]![key], 12);
    }
    expect(two.evaporatorC).toBeCloseTo(-18 - 12.5, 12);
  });
});

describe('a rated consumption that cannot be', () => {
  test.each([
    ['less than its electronics', rated(5, 25), /electronics alone/],
    ['in a room as cold as the box', rated(330, 4), /not warmer than its inside was/],
  ])('%s', (_name, one, message) => {
    expect(() => fridgeModel(fridge({ rated: one }), 'loads[0]')).toThrow(ConfigError);
    expect(() => fridgeModel(fridge({ rated: one }), 'loads[0]')).toThrow(message);
  });
  test('as it is more than the compressor takes is for the finding: the most is its power and electronics all day', () => {
    expect(mostWhPerDay(fridge(), 25)).toBeCloseTo(24 * 45.3, 9);
    expect(fridgeModel(fridge({ rated: rated(3300, 25) })).uaWPerK).toBeGreaterThan(0);
  });
});

describe('the compressor', () => {
  test('takes its named power at 25 °C, more in a hotter room, and cools less there', () => {
    const model = fridgeModel(fridge());
    const [cool, warm, hot] = [20, 25, 43].map((c) => compressor(model, c));
    expect(warm!.electricW).toBeCloseTo(45, 12);
    expect(hot!.electricW).toBeGreaterThan(warm!.electricW);
    expect(cool!.coolingW).toBeGreaterThan(hot!.coolingW);
  });
  test('never needs less in a warmer room, down to frost', () => {
    const model = fridgeModel(fridge());
    let before = 0;
    for (let c = -30; c <= 70; c += 0.5) {
      const { coolingW, electricW } = compressor(model, c);
      expect(electricW / coolingW).toBeGreaterThanOrEqual(before - 1e-12);
      before = electricW / coolingW;
    }
  });
});

describe('columns', () => {
  test('a room colder than the box needs nothing but the electronics', () => {
    expect(dayWh(fridge(), 0)).toBeCloseTo(24 * 0.3, 12);
  });
  test('a small box that cannot hold runs all the time and says so by its duty; two rooms share that', () => {
    const weak = { setpointC: -18, insulationMm: 15 };
    expect(columnsOf(fridge(weak), 43)[0]!.holdDuty[0]).toBe(1);
    const [first, second] = columnsOf(fridge({ ...weak, secondZone: { volumeL: 45, setpointC: -18 } }), 43);
    expect(first!.holdDuty[0]! + second!.holdDuty[0]!).toBeCloseTo(1, 12);
    expect(first!.holdDuty[0]!).toBeCloseTo(second!.holdDuty[0]!, 12);
  });
  const extraWh = (fields: Parameters<typeof fridge>[0], roomC: number) =>
    heatWh(fridge(fields), roomC) - heatWh(fridge(), roomC);
  test('warm food brings its heat between its hour and three hours later', () => {
    const fields = { warmFood: [{ massKg: 2, atH: 18, temperatureC: 30 }] };
    expect(extraWh(fields, 20)).toBeCloseTo((2 * 26 * 4.186) / 3.6, 9);
    const { foodKgPerH } = columnsOf(fridge(fields), 20)[0]!;
    expect(foodKgPerH.findIndex((kg) => kg > 0)).toBe(36);
    expect(foodKgPerH[42]).toBe(0);
    expect(sum(foodKgPerH) * grid.stepH).toBeCloseTo(2, 12);
  });
  test('warm food without a temperature is as warm as the room, and is put in at the local hour', () => {
    const load = fridge({ warmFood: [{ massKg: 1, atH: 12 }] });
    const day = changeDay(23);
    const [columns] = columnsOf(load, 24, day, { ...grid, startMs: day.startMs, steps: 46 });
    expect(columns!.foodKgPerH.findIndex((kg) => kg > 0)).toBe(22);
    // by what comes into an inside of 0 °C, air left out
    const foodWh = sum(columns!.inflowW.map((watts, i) => watts - columns!.lossWPerK[i]! * 24)) * grid.stepH;
    expect(foodWh).toBeCloseTo((24 * 4.186) / 3.6, 9);
  });
  test('openings count by day, in waking hours, with humid air where the room is the warmer', () => {
    const { lossWPerK } = columnsOf(fridge({ openingsPerDay: 10 }), 32)[0]!;
    expect(lossWPerK[13]).toBeCloseTo(fridgeModel(fridge()).uaWPerK, 12);
    expect(lossWPerK[14]).toBeGreaterThan(lossWPerK[13]!);
    expect(extraWh({ openingsPerDay: 10 }, 32)).toBeCloseTo((10 * 2.5 * 1.2 * 1.005 * 0.045 * 28) / 3.6, 9);
    expect(extraWh({ openingsPerDay: 10 }, 0)).toBeCloseTo((10 * 1.2 * 1.005 * 0.045 * -4) / 3.6, 9);
  });
});

test('food is too warm above what is safe for it, chilled or frozen; a right set point is never', () => {
  expect(foodSafeC({ setpointC: 4 })).toBe(5);
  expect(foodSafeC({ setpointC: -18 })).toBe(-15);
  expect(foodSafeC({ setpointC: 5 }, 1)).toBe(6);
  expect(foodSafeC({ setpointC: 8 }, 1)).toBe(5);
});
