import { describe, expect, test } from 'vitest';
import {
  compressorCoolingW,
  type FridgeModel,
  foodSafeC,
  fridgeFactors,
  fridgeModel,
  fridgeNextC,
  fridgeRun,
  fridgeStep,
  hoursWarmer,
} from '../../../packages/core/src/load/index.js';
import { fridge, sum } from './example.js';

const model = fridgeModel(fridge({ openingsPerDay: 0 }));

/** The step's differential equation, C dT/dt = UA (room − T) + heat, by the classical Runge-Kutta scheme. */
function integrated(m: FridgeModel, insideC: number, roomC: number, heatW: number, hours: number): number {
  const slope = (c: number) => (m.uaWPerK * (roomC - c) + m.secondZoneW + heatW) / m.capacityWhPerK;
  const dt = hours / 100;
  let c = insideC;
  for (let i = 0; i < 100; i++) {
    const k1 = slope(c);
    const k2 = slope(c + (k1 * dt) / 2);
    const k3 = slope(c + (k2 * dt) / 2);
    c += (dt / 6) * (k1 + 2 * k2 + 2 * k3 + slope(c + k3 * dt));
  }
  return c;
}

describe('one step', () => {
  test('is the solution of the heat balance', () => {
    const two = fridgeModel(fridge({ secondZone: { volumeL: 15, setpointC: -18 } }));
    for (const m of [model, two])
      for (const hours of [1 / 60, 1, 12])
        expect(fridgeNextC(m, fridgeFactors(m, hours), 9, 31, 5, 80, 0.25)).toBeCloseTo(
          integrated(m, 9, 31, 5 - 0.25 * 80, hours),
          6,
        );
  });
  test('ends at the set point when it can, with the power of its duty', () => {
    const step = fridgeStep(model, 1 / 6, 4.2, 25, 0, 1);
    expect(step.insideC).toBeCloseTo(4, 12);
    expect(step.powerW).toBeGreaterThan(5);
    expect(step.unmetW).toBe(0);
  });
  test('runs all the time from warm, then holds', () => {
    const warm = fridgeStep(model, 1 / 6, 25, 25, 0, 1);
    expect(warm.powerW).toBeCloseTo(45.3, 9);
    expect(warm.insideC).toBeLessThan(25);
  });
  test('without power it warms towards the room and what it lacked is told', () => {
    const off = fridgeStep(model, 1, 4, 30, 0, 0);
    const on = fridgeStep(model, 1, 4, 30, 0, 1);
    expect(off.insideC).toBeGreaterThan(4);
    expect(off.powerW).toBe(0);
    expect(off.unmetW).toBeCloseTo(on.powerW, 12);
  });
  test('one with no leak at all is still solved', () => {
    const sealed = fridgeModel(fridge({ cover: 1 }));
    expect(fridgeStep(sealed, 1, 4, 30, 0, 1)).toEqual({ insideC: 4, powerW: 0.3, unmetW: 0 });
    expect(fridgeStep(sealed, 1, 4, 30, 6, 0).insideC).toBeCloseTo(4 + 6 / sealed.capacityWhPerK, 12);
  });
});

describe('the thermostat as a duty cycle and as a switch', () => {
  const minutes = 5 * 24 * 60;
  const roomAt = (hour: number) => 26 + 8 * Math.sin((2 * Math.PI * (hour - 9)) / 24);
  const fineRoom = Float64Array.from({ length: minutes }, (_, i) => roomAt((i + 0.5) / 60));
  test.each([
    ['fridge', fridge()],
    ['freezer', fridge({ setpointC: -18 })],
    ['two zones', fridge({ secondZone: { volumeL: 15, setpointC: -12 } })],
    ['nearly empty', fridge({ contentKg: 1 })],
    ['in a thick box', fridge({ insulationMm: 70 })],
  ])('agree in energy within 2 %%: %s', (_name, load) => {
    const m = fridgeModel(load);
    const none = new Float64Array(minutes);
    const fine = fridgeRun(m, 'switching', 1 / 60, fineRoom, none, m.setpointC);
    const fineWh = sum(fine.powerW) / 60;
    for (const stepH of [1 / 6, 1]) {
      const steps = Math.round((5 * 24) / stepH);
      const room = Float64Array.from({ length: steps }, (_, i) => roomAt((i + 0.5) * stepH));
      const coarse = fridgeRun(m, 'duty', stepH, room, new Float64Array(steps), m.setpointC);
      expect(Math.abs((sum(coarse.powerW) * stepH) / fineWh - 1)).toBeLessThan(0.02);
    }
    const settled = fine.insideC.slice(24 * 60);
    expect(Math.min(...settled)).toBeGreaterThan(m.setpointC - 1.6);
    expect(Math.max(...settled)).toBeLessThan(m.setpointC + 1.6);
  });
  test('the switch really switches', () => {
    const m = fridgeModel(fridge());
    const { powerW } = fridgeRun(m, 'switching', 1 / 60, fineRoom, new Float64Array(minutes), m.setpointC);
    const starts = powerW.filter((w, i) => i > 0 && w > 1 && powerW[i - 1]! < 1).length;
    expect(starts).toBeGreaterThan(10);
  });
});

test('pulling down from warm takes the heat of contents, liner and leak, to the watt-hour', () => {
  const m = fridgeModel(fridge({ contentKg: 10 }));
  const steps = 24 * 6;
  const { powerW, insideC } = fridgeRun(
    m,
    'duty',
    1 / 6,
    new Float64Array(steps).fill(25),
    new Float64Array(steps),
    25,
  );
  const leakWh =
    sum(Float64Array.from(insideC, (c, i) => m.uaWPerK * (25 - (c + (i > 0 ? insideC[i - 1]! : 25)) / 2))) / 6;
  const cooledWh = ((sum(powerW) / 6 - 24 * 0.3) / 45) * compressorCoolingW(m, 25);
  expect(cooledWh).toBeCloseTo(21 * m.capacityWhPerK + leakWh, 0);
});

test('hours too warm for food', () => {
  expect(hoursWarmer(Float64Array.of(4, 5, 6, 7), 0.5, foodSafeC(model))).toBe(1);
  expect(foodSafeC(fridgeModel(fridge({ setpointC: -18 })))).toBe(-15);
});
