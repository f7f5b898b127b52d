import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type Rig, readRig, simulate, withoutTrip } from '../../packages/core/src/index.js';

const real = (min: number, max: number) =>
  fc.double({ min, max, noNaN: true }).map((value) => Number(value.toPrecision(4)));
const yes = (share: number) => fc.integer({ min: 0, max: 99 }).map((n) => n < 100 * share);

/** Invented fridges of every kind, in air with a course through the day. */
const box = fc.record({
  volume: real(5, 150),
  setpoint: real(-22, 10),
  insulation: fc.option(real(20, 90), { nil: undefined }),
  compressor: real(20, 90),
  contents: real(0, 40),
  openings: fc.integer({ min: 0, max: 60 }),
  second: fc.option(fc.record({ volume: real(2, 40), setpoint: real(-22, 10) }), { nil: undefined }),
  food: fc.option(fc.record({ kg: real(0.1, 6), at: fc.integer({ min: 0, max: 23 }), c: real(-5, 60) }), {
    nil: undefined,
  }),
  start: fc.option(real(-15, 40), { nil: undefined }),
});
type Box = typeof box extends fc.Arbitrary<infer T> ? T : never;

const rigOf = (one: Box, ah: number, disconnect = '1 %'): Rig => {
  const food =
    one.food && `warmFood: [{ mass: ${one.food.kg} kg, at: "${one.food.at}:00", temperature: ${one.food.c} degC }]`;
  const fields = [
    `volume: ${one.volume} L, setpoint: ${one.setpoint} degC, compressor: ${one.compressor} W`,
    `contents: ${one.contents} kg, openings: ${one.openings}, cutOut: 9 V`,
    one.insulation && `insulation: ${one.insulation} mm`,
    one.second && `secondZone: { volume: ${one.second.volume} L, setpoint: ${one.second.setpoint} degC }`,
    food,
    one.start !== undefined && `start: ${one.start} degC`,
  ].filter((field) => field);
  return readRig(`
name: invented
battery: { chemistry: LFP, capacity: ${ah} Ah, disconnect: ${disconnect}, floor: ${disconnect} }
cabin: { gain: 0 K, lag: 0 h }
loads: [{ name: fridge, kind: fridge, ${fields.join(', ')} }]`).rig;
};
const tripIn = (minC: number, maxC: number, days = 3) => {
  const base = withoutTrip({ at: '40, 0', from: '2026-05-10', days });
  const all = (c: number) => Array<number>(12).fill(c);
  const months = { ghiKwhM2Day: all(5), tMaxC: all(maxC), tMinC: all(minC) };
  return {
    ...base,
    weather: { kind: 'clear' as const },
    startSoc: 1,
    stops: base.stops.map((stop) => ({ ...stop, months })),
  };
};
const air = fc.record({ minC: real(-15, 30), swingK: real(0, 20) });

test('with power all the time a colder set point never uses less, of either zone', () => {
  fc.assert(
    fc.property(
      box,
      air,
      real(0.1, 15),
      yes(0.3),
      fc.constantFrom(1 / 6, 1),
      (one, { minC, swingK }, colderK, isSecond, stepH) => {
        const trip = tripIn(minC, minC + swingK);
        const used = (by: number) => {
          const colder =
            isSecond && one.second
              ? { ...one, second: { ...one.second, setpoint: one.second.setpoint - by } }
              : { ...one, setpoint: one.setpoint - by };
          // From the same start, as the first hours would else be of unlike boxes.
          return simulate(rigOf({ ...colder, start: 10 }, 5000), trip, { stepH }).loads[0]!;
        };
        const by = Math.min(colderK, (isSecond && one.second ? one.second.setpoint : one.setpoint) + 30);
        const [warm, cold] = [used(0), used(by)];
        expect(warm.unservedWh).toBe(0);
        expect(cold.servedWh).toBeGreaterThanOrEqual(warm.servedWh * (1 - 1e-9));
      },
    ),
    { numRuns: 60 },
  );
});

test('nothing inside is ever warmer than the warmest that comes in, with power or without', () => {
  fc.assert(
    fc.property(
      box,
      air,
      real(5, 60),
      fc.constantFrom(1 / 60, 1 / 12, 1 / 6, 1),
      (one, { minC, swingK }, ah, stepH) => {
        const { trace } = simulate(rigOf(one, ah), tripIn(minC, minC + swingK, stepH < 0.1 ? 1 : 3), { stepH });
        const [{ insideC, secondInsideC }] = trace.loads as [(typeof trace.loads)[number]];
        const warmest = (startC: number) => Math.max(startC, ...trace.cabinC, one.food?.c ?? -99);
        for (const c of insideC!) expect(c).toBeLessThanOrEqual(warmest(one.start ?? one.setpoint) + 1e-9);
        if (secondInsideC)
          for (const c of secondInsideC)
            expect(c).toBeLessThanOrEqual(warmest(one.start ?? one.second!.setpoint) + 1e-9);
      },
    ),
    { numRuns: 60 },
  );
});
