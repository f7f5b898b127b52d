import fc from 'fast-check';
import { expect, test } from 'vitest';
import { readRig, readTrip, STARTER_LIMITS, starterRig, starterTrip } from '../../../packages/core/src/rig/index.js';
import { checkRig } from '../../../packages/core/src/simulate/index.js';
import { circuits } from '../../../packages/core/src/wire/index.js';

const size = ({ min, max }: { min: number; max: number }) =>
  fc.oneof(
    fc.integer({ min, max }),
    fc.double({ min, max, noNaN: true }).map((value) => Number(value.toPrecision(4))),
  );
const orNone = (sizes: { min: number; max: number }) => fc.oneof(fc.constant(0), size(sizes));
const options = fc.record({
  name: fc.string({ maxLength: 40 }).filter((name) => name.trim() !== '' && !/[\n\r\t]/.test(name)),
  chemistry: fc.constantFrom('LFP', 'AGM', 'gel', 'flooded'),
  capacityAh: size(STARTER_LIMITS.capacityAh),
  solarW: orNone(STARTER_LIMITS.solarW),
  fridgeL: orNone(STARTER_LIMITS.fridgeL),
  coldestC: fc.integer({ min: -45, max: 25 }),
} as const);

test('a starter rig of any size is read without a mistake, has what was asked for, and nothing dangerous', () => {
  fc.assert(
    fc.property(options, (asked) => {
      const { rig } = readRig(starterRig({ ...asked, schema: false }));
      expect(rig.battery).toMatchObject({ chemistry: asked.chemistry, capacityAh: asked.capacityAh });
      const solarW = rig.solar.reduce((sum, { powerW, count }) => sum + powerW * count, 0);
      expect(Math.abs(solarW - asked.solarW)).toBeLessThanOrEqual(0.3); // each module to a tenth of a watt
      expect(rig.loads.filter(({ kind }) => kind === 'fridge').length).toBe(asked.fridgeL === 0 ? 0 : 1);
      expect(checkRig(rig).filter(({ level }) => level === 'danger')).toEqual([]);
      // Cables are chosen by a rule of thumb here; the wire room comparable them by its tables.
      const supplies = circuits(rig).filter(({ path }) => /^(solar|alternator)/.test(path));
      expect(supplies.filter(({ level, lengthM }) => lengthM !== null && level !== 'ok')).toEqual([]);
    }),
  );
});

test.each([
  ['capacityAh', 0],
  ['capacityAh', Number.NaN],
  ['solarW', -1],
  ['solarW', 1e6],
  ['fridgeL', 1000],
])('a starter rig with %s of %s is refused', (name, value) => {
  expect(() => starterRig({ [name]: value })).toThrow(RangeError);
});

test('frost is told beside LFP, and nowhere else', () => {
  expect(starterRig({ coldestC: -12 })).toContain('-12 degC');
  expect(starterRig({ coldestC: 3 })).not.toContain('heater');
  expect(starterRig({ coldestC: -12, chemistry: 'AGM' })).not.toContain('heater');
  expect(readRig(starterRig({ coldestC: -12 }).replace('# heater', 'heater')).rig.battery.heater?.powerW).toBe(40);
});

test('no line of a starter is wider than a narrow screen', () => {
  for (const text of [
    starterRig({ schema: false, coldestC: -20, solarW: 2000 }),
    starterTrip({ where: 'Porto', from: '2026-10-03' }),
  ])
    expect(Math.max(...text.split('\n').map((line) => line.length))).toBeLessThanOrEqual(80);
});

test('a starter trip is read as it stands, with its commented stop too', () => {
  for (const where of ['Porto', 'St. John\'s "NL"', [41.7, -8.8]] as const) {
    const text = starterTrip({ where, from: '2026-10-03', schema: './trip.schema.json' });
    expect(readTrip(text).trip.stops).toHaveLength(1);
    expect(readTrip(text.replace('  # - {', '  - {')).trip.stops).toHaveLength(2);
  }
});
