import { ConfigError, conditionsFor, readRig, readTrip, simulateUnder } from '@stayput/core';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';

/** What one day brings to arrays of an invented rig. */
function dayOf(solar: string, { rig = '', stop = '', weather = 'clear', at = '[45, 0]', date = '2026-06-15' } = {}) {
  const read = readRig(`
name: invented
battery: { chemistry: LFP, capacity: 2000 Ah }
solar: [${solar}]
loads: [{ name: lamp, power: 1 W }]
${rig}`).rig;
  const { trip } = readTrip(
    `{ name: invented, weather: ${weather}, stops: [{ at: ${at}, zone: UTC, from: ${date}, nights: 1${stop} }] }`,
    { arrays: read.solar.map(({ name }) => name) },
  );
  const conditions = conditionsFor(read, trip, { stepH: 1 });
  return simulateUnder(read, conditions, 0.3).summary;
}
const availableWh = (...day: Parameters<typeof dayOf>) => dayOf(...day).pvAvailableWh;

describe('a panel of which only watts are known', () => {
  test.each(['PWM', 'MPPT'])('gives in proportion to them behind %s, without a cliff at any wattage', (kind) => {
    const perW = (watts: number) =>
      availableWh(`{ power: ${watts} W, controller: { kind: ${kind}, current: 60 A } }`) / watts;
    const one = perW(150);
    for (const watts of [180, 219, 220, 221, 222, 250, 300]) expect(perW(watts) / one, `${watts} W`).toBeCloseTo(1, 2);
  });

  test('is a large one where its cells say so, and wasted behind PWM on 12 V', () => {
    const harvest = (fields: string) =>
      dayOf(`{ power: 300 W, ${fields}, controller: { kind: PWM, current: 60 A } }`).pvHarvestWh;
    expect(harvest('cells: 60') / harvest('cells: 36')).toBeCloseTo(36 / 60, 1);
  });
});

describe('a tilted panel that says no azimuth', () => {
  test.each([
    ['[-29, 24]', '2026-06-21', 0],
    ['[45, 0]', '2026-12-21', 180],
    ['[0, 24]', '2026-12-21', 180],
  ])('faces the equator at %s', (at, date, azimuth) => {
    const tilted = (facing: string) => availableWh(`{ power: 100 W, tilt: 40 deg${facing} }`, { at, date });
    expect(tilted('')).toBe(tilted(`, azimuth: ${azimuth} deg`));
    if (azimuth === 0) expect(tilted('')).toBeGreaterThan(1.5 * tilted(', azimuth: 180 deg'));
  });
});

test('a panel on the ground gives nothing on the road, one on the roof does', () => {
  const noon = ', drive: 4 h, driveFrom: 10:00';
  const share = (mount: string) => {
    const panel = `{ power: 100 W, mount: ${mount}, controller: { kind: PWM } }`;
    return availableWh(panel, { stop: noon }) / availableWh(panel);
  };
  expect(share('rack')).toBeCloseTo(1, 2);
  // Four hours about noon of a day of 15.6 h: by the sine of the sun's height some 0.45 of the light.
  expect(share('ground')).toBeGreaterThan(0.5);
  expect(share('ground')).toBeLessThan(0.6);
});

describe('the shade of a stop', () => {
  const two = '{ name: roof, power: 100 W }, { name: folding, power: 100 W, mount: ground }';

  test('can be of single arrays, the others in the sun', () => {
    const open = availableWh('{ name: folding, power: 100 W, mount: ground }');
    expect(availableWh(two, { stop: ', shade: { roof: 100 %, folding: 0 % }' })).toBeCloseTo(open, 6);
    expect(availableWh(two, { stop: ', shade: { roof: 100 % }' })).toBeCloseTo(0, 6);
  });

  test('names the array that the rig does not have', () => {
    expect(() => dayOf(two, { stop: ', shade: { rof: 50 % }' })).toThrow(ConfigError);
    expect(() => dayOf(two, { stop: ', shade: { rof: 50 % }' })).toThrow(/no array "rof".*roof/);
  });

  test.each(['clear', 'dull'])('takes as much of a %s sky as of the sun, unless told otherwise', (weather) => {
    const light = (stop: string) => availableWh('{ power: 100 W }', { stop, weather });
    expect(light(', shade: 100 %')).toBeCloseTo(0, 6);
    expect(light(', shade: 50 %') / light('')).toBeGreaterThan(0.44);
    expect(light(', shade: 50 %') / light('')).toBeLessThan(0.52);
    expect(light(', shade: 50 %, skyShade: 0 %')).toBeGreaterThan(light(', shade: 50 %'));
  });
});

test('a soft shadow takes its share of the light, a hard one stops whole groups of cells', () => {
  const shaded = (window: string) =>
    availableWh(`{ power: 100 W, shade: [{ from: "00:00", to: "23:59", keeps: 60 %${window} }] }`);
  const open = availableWh('{ power: 100 W }');
  expect(shaded('')).toBe(shaded(', edge: hard'));
  expect(shaded(', edge: soft') / open).toBeGreaterThan(0.6);
  expect(shaded('')).toBeLessThan(0.9 * shaded(', edge: soft'));
});

describe('snow by month', () => {
  const winter = { date: '2026-01-15' };
  const snow = (fields: string) => ({ ...winter, rig: `snow: { ground: 100 0 0 0 0 0 0 0 0 0 0 0 %${fields} }` });
  const swept = ', panels: 0 0 0 0 0 0 0 0 0 0 0 0 %';

  test('lies on a flat panel and slides off a steep one', () => {
    const kept = (tilt: number) =>
      availableWh(`{ power: 100 W, tilt: ${tilt} deg }`, snow('')) /
      availableWh(`{ power: 100 W, tilt: ${tilt} deg }`, snow(swept));
    expect(kept(0)).toBeCloseTo(0.25, 9);
    expect(kept(60)).toBeCloseTo(0.91, 9);
    expect([0, 10, 20, 30, 45, 60].map(kept)).toEqual([0, 10, 20, 30, 45, 60].map(kept).toSorted((a, b) => a - b));
  });

  test('throws light back onto a steep panel that is swept, in that month alone', () => {
    const wall = '{ power: 100 W, tilt: 90 deg }';
    // 0.45 of reflectance more, half of what lies around in view: some 0.5 kWh/m2 on 5.5 of a clear day.
    expect(availableWh(wall, snow(swept))).toBeGreaterThan(1.05 * availableWh(wall, winter));
    expect(availableWh(wall, { ...snow(swept), date: '2026-02-15' })).toBe(availableWh(wall, { date: '2026-02-15' }));
  });

  test('is off a panel that is set up by hand', () => {
    const folding = '{ power: 100 W, mount: ground }';
    expect(availableWh(folding, snow(''))).toBe(availableWh(folding, snow(swept)));
  });
});

const percent = fc.integer({ min: 0, max: 100 });
test('more shade never gives more, and more panel never less', () => {
  fc.assert(
    fc.property(
      fc.record({
        watts: fc.integer({ min: 40, max: 400 }),
        tilt: fc.integer({ min: 0, max: 80 }),
        kind: fc.constantFrom('MPPT', 'PWM'),
        weather: fc.constantFrom('clear', 'dull', 'climate'),
        edge: fc.constantFrom('hard', 'soft'),
      }),
      fc.tuple(percent, percent),
      fc.tuple(percent, percent),
      ({ watts, tilt, kind, weather, edge }, [shade, more], [keeps, less]) => {
        const array = (power: number, left: number) =>
          `{ power: ${power} W, tilt: ${tilt} deg, controller: { kind: ${kind}, current: 60 A }, shade: [{ from: "08:00", to: "14:00", keeps: ${left} %, edge: ${edge} }] }`;
        const given = (power: number, stop: number, left: number) =>
          availableWh(array(power, left), { weather, stop: `, shade: ${stop} %` });
        const [low, high] = [Math.min(shade, more), Math.max(shade, more)];
        const [fewer, most] = [Math.min(keeps, less), Math.max(keeps, less)];
        const base = given(watts, low, most);
        expect(given(watts, high, most)).toBeLessThanOrEqual(base * (1 + 1e-9));
        expect(given(watts, low, fewer)).toBeLessThanOrEqual(base * (1 + 1e-9));
        expect(given(watts + 1, low, most)).toBeGreaterThanOrEqual(base * (1 - 1e-9));
      },
    ),
    { numRuns: 60 },
  );
});
