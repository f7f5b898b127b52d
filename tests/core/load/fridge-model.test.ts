import { describe, expect, test } from 'vitest';
import {
  compressor,
  fridgeColumns,
  fridgeModel,
  heatLeakW,
  heatLeakWPerK,
} from '../../../packages/core/src/load/index.js';
import { ConfigError } from '../../../packages/core/src/rig/index.js';
import { changeDay, fridge, plainDay, sum } from './example.js';

const grid = { startMs: 0, stepH: 0.5, steps: 48 };
const room = (roomC: number) => new Float64Array(48).fill(roomC);
const dayWh = (load: ReturnType<typeof fridge>, roomC: number) =>
  sum(fridgeColumns(load, fridgeModel(load), room(roomC), [plainDay(0)], grid).meanPowerW) * grid.stepH;

describe('the heat leak', () => {
  test('is fitted so that the rated consumption comes out at the rated room', () => {
    for (const setpointC of [4, -18])
      for (const rated of [
        { energyWhPerDay: 330, ambientC: 25 },
        { energyWhPerDay: 500, ambientC: 32 },
      ])
        expect(dayWh(fridge({ setpointC, rated }), rated.ambientC)).toBeCloseTo(rated.energyWhPerDay, 9);
  });
  test('is fitted with two zones as well', () => {
    const load = fridge({ secondZone: { volumeL: 15, setpointC: -18 }, rated: { energyWhPerDay: 600, ambientC: 25 } });
    expect(dayWh(load, 25)).toBeCloseTo(600, 9);
  });
  test('comes from the insulation otherwise: thicker leaks less, larger leaks more', () => {
    expect(heatLeakWPerK(45, 60)).toBeLessThan(heatLeakWPerK(45, 40));
    expect(heatLeakWPerK(60, 40)).toBeGreaterThan(heatLeakWPerK(45, 40));
  });
  test('is taken down by a cover', () => {
    const bare = fridgeModel(fridge());
    const covered = fridgeModel(fridge({ cover: 0.15 }));
    expect(covered.uaWPerK).toBeCloseTo(0.85 * bare.uaWPerK, 12);
    expect(heatLeakW(covered, 32, 4)).toBeCloseTo(0.85 * heatLeakW(bare, 32, 4), 12);
  });
  test('of a freezer zone beside the first adds heat and takes the evaporator down', () => {
    const one = fridgeModel(fridge({ volumeL: 60 }));
    const two = fridgeModel(fridge({ volumeL: 45, secondZone: { volumeL: 15, setpointC: -18 } }));
    expect(heatLeakW(two, 25, 4)).toBeGreaterThan(heatLeakW(one, 25, 4));
    expect(two.secondZoneW).toBeCloseTo((two.uaWPerK * 22) / 4, 12);
    expect(two.evaporatorC).toBeCloseTo(-18 - 12.5, 12);
  });
});

describe('a rated consumption that cannot be', () => {
  test.each([
    ['more than the compressor takes', { energyWhPerDay: 3300, ambientC: 25 }, /more than the compressor takes/],
    ['less than its electronics', { energyWhPerDay: 5, ambientC: 25 }, /electronics alone/],
    ['in a room as cold as the box', { energyWhPerDay: 330, ambientC: 4 }, /not warmer than the set point/],
  ])('%s', (_name, rated, message) => {
    expect(() => fridgeModel(fridge({ rated }), 'loads[0]')).toThrow(ConfigError);
    expect(() => fridgeModel(fridge({ rated }), 'loads[0]')).toThrow(message);
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
  test('a small box that cannot hold runs all the time and says so by its duty', () => {
    const load = fridge({ setpointC: -18, insulationMm: 15 });
    const { holdDuty } = fridgeColumns(load, fridgeModel(load), room(43), [plainDay(0)], grid);
    expect(holdDuty[0]).toBe(1);
  });
  test('warm food brings its heat between its hour and three hours later', () => {
    const load = fridge({ warmFood: [{ massKg: 2, atH: 18, temperatureC: 30 }] });
    const { heatGainW } = fridgeColumns(load, fridgeModel(load), room(20), [plainDay(0)], grid);
    expect(sum(heatGainW) * grid.stepH).toBeCloseTo((2 * 26 * 4.186) / 3.6, 9);
    expect(heatGainW.findIndex((w) => w > 0)).toBe(36);
    expect(heatGainW[42]).toBe(0);
  });
  test('warm food without a temperature is as warm as the room, and is put in at the local hour', () => {
    const load = fridge({ warmFood: [{ massKg: 1, atH: 12 }] });
    const day = changeDay(23);
    const { heatGainW } = fridgeColumns(load, fridgeModel(load), room(24), [day], {
      ...grid,
      startMs: day.startMs,
      steps: 46,
    });
    expect(heatGainW.findIndex((w) => w > 0)).toBe(22);
    expect(sum(heatGainW) * grid.stepH).toBeCloseTo((20 * 4.186) / 3.6, 9);
  });
  test('openings count by day, in waking hours', () => {
    const load = fridge({ openingsPerDay: 10 });
    const { heatGainW } = fridgeColumns(load, fridgeModel(load), room(32), [plainDay(0)], grid);
    expect(heatGainW[13]).toBe(0);
    expect(heatGainW[14]).toBeGreaterThan(0);
    expect(sum(heatGainW) * grid.stepH).toBeCloseTo((10 * 2.5 * 1.2 * 1.005 * 0.045 * 28) / 3.6, 9);
  });
});
