import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { isoLocal, itineraryFor } from '../../../packages/core/src/place/index.js';
import { ConfigError, readRig, readTrip, withoutTrip } from '../../../packages/core/src/rig/index.js';
import { conditionsFor, simulate } from '../../../packages/core/src/simulate/index.js';

// A run that starts at a clock time against the same days from midnight. Clock changes are those of the IANA time zone database.

const RIG = `
battery: { chemistry: LFP, capacity: 100 Ah }
solar: [{ power: 175 W }]
loads:
  - { name: fridge, kind: fridge, volume: 45 L, setpoint: 4 degC }
  - { name: lights, power: 9 W, when: sunset to 22:30 }
  - { name: laptop, power: 60 W, hours: 3 }
  - { name: pump, current: 5 A, times: 12, lasts: 40 s }
`;
const { rig } = readRig(RIG);
const from = (start: string, place = 'Porto', days = 3) => withoutTrip({ place, from: start, days });
const hour = (at: number) =>
  `${String(Math.floor(at)).padStart(2, '0')}:${String(Math.round((at % 1) * 60)).padStart(2, '0')}`;
const startOf = (start: string, place: string) => {
  const { grid, days } = itineraryFor(from(start, place), 1 / 6);
  return isoLocal(grid.startMs, days);
};

describe('when it starts', () => {
  test.each([
    ['2026-10-03 18:00', 'Porto', '2026-10-03T18:00+01:00', 'summer time'],
    ['2026-12-03T06:10', 'Porto', '2026-12-03T06:10+00:00', 'winter time'],
    ['2026-03-29 01:30', 'Porto', '2026-03-29T02:30+01:00', 'skipped: as much later'],
    ['2026-03-29 09:00', 'Porto', '2026-03-29T09:00+01:00', 'after the change'],
    ['2026-10-25 01:30', 'Porto', '2026-10-25T01:30+01:00', 'comes twice: the first'],
    ['2026-10-25 09:00', 'Porto', '2026-10-25T09:00+00:00', 'after the change'],
    ['2026-10-03', 'Porto', '2026-10-03T00:00+01:00', 'midnight, where no time is given'],
  ])('%s in %s is %s (%s)', (start, place, expected) => {
    expect(startOf(start, place)).toBe(expected);
  });

  test('the clock is that of the first stop, and the rest of the trip stays where it was', () => {
    const text = (start: string) => `${start}
stops:
  - { at: [52.37, 4.9], from: 2026-10-24, nights: 1 }
  - { at: [51.5, -0.13], nights: 2, drive: 2 h }
`;
    const whole = itineraryFor(readTrip(text('')).trip, 0.25);
    const begun = itineraryFor(readTrip(text('start: 2026-10-24 18:00')).trip, 0.25);
    expect(isoLocal(begun.grid.startMs, begun.days)).toBe('2026-10-24T18:00+02:00');
    expect(begun.days).toEqual(whole.days);
    expect(begun.legs[1]!.startMs).toBe(whole.legs[1]!.startMs);
    expect([...begun.driving]).toEqual([...whole.driving.slice(18 * 4)]);
    expect(whole.grid.steps - begun.grid.steps).toBe(18 * 4);
  });
});

describe('a run', () => {
  test('meets the same sun, air and loads as one from midnight, from its first step on', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 143 }),
        fc.constantFrom('2026-03-28', '2026-10-24', '2026-06-20'),
        fc.constantFrom('climate', 'clear', 'dull'),
        fc.boolean(),
        (steps, date, weather, randomLoads) => {
          const trip = (start: string) => withoutTrip({ place: 'Porto', from: start, days: 3, weather });
          const options = { seed: 7, randomLoads };
          const whole = simulate(rig, trip(date), options);
          const begun = simulate(rig, trip(`${date} ${hour(steps / 6)}`), options);
          for (const name of ['ghiWm2', 'dniWm2', 'ambientC', 'windMs'] as const)
            expect(begun.conditions.weather[name]).toEqual(whole.conditions.weather[name].slice(steps));
          expect(begun.conditions.cabinC).toEqual(whole.conditions.cabinC.slice(steps));
          expect(begun.conditions.sun.cosZenith).toEqual(whole.conditions.sun.cosZenith.slice(steps));
          expect(begun.summary.days).toBeCloseTo(3 - steps / 144, 12);
          // Loads of fixed power; the fridge's own state is another at another start.
          const asked = (run: typeof whole, name: string) => run.loads.find((row) => row.name === name)!;
          for (const name of ['lights', 'laptop']) {
            const row = asked(begun, name);
            expect(row.servedWh + row.unservedWh).toBeLessThanOrEqual(asked(whole, name).servedWh + 1e-6);
          }
          expect(Math.abs(begun.summary.ledgerErrorWh)).toBeLessThanOrEqual(1e-6);
        },
      ),
      { numRuns: 12 },
    );
  });

  test('gives loads spread over the day the part of the day that is left', () => {
    // 3 h at 60 W over 24 h: 45 Wh in the last 6 h, 180 Wh on the next day.
    const { loads, daily } = simulate(rig, from('2026-10-03 18:00', 'Porto', 2));
    const laptop = loads.find(({ name }) => name === 'laptop')!;
    expect(laptop.servedWh).toBeCloseTo(45 + 180, 6);
    expect(daily.map(({ date }) => date)).toEqual(['2026-10-03', '2026-10-04']);
    expect(daily[0]!.pvHarvestWh).toBeLessThan(0.1 * daily[1]!.pvHarvestWh);
  });

  test('needs of a weather file only the hours from its start on', () => {
    const rows = Array.from({ length: 31 }, (_, k) => {
      const at = new Date(Date.UTC(2026, 9, 3, 17 + k)).toISOString().slice(0, 16);
      return `${at}Z,0,15`;
    });
    const weatherFile = {
      name: 'w.csv',
      text: ['time UTC,global horizontal W/m2,air temperature C', ...rows].join('\n'),
    };
    const days = (start: string) => ({ ...from(start, 'Porto', 2), weather: { kind: 'file' as const, path: 'w.csv' } });
    expect(conditionsFor(rig, days('2026-10-03 18:00'), { weatherFile }).grid.steps).toBe(30 * 6);
    expect(() => conditionsFor(rig, days('2026-10-03'), { weatherFile })).toThrow(ConfigError);
  });
});

describe('what is written', () => {
  const issues = (text: string) => {
    try {
      readTrip(text);
    } catch (error) {
      if (error instanceof ConfigError) return error.issues.map(({ path, message }) => `${path}: ${message}`);
      throw error;
    }
    return [];
  };

  test('start alone says the day of the first stop too', () => {
    const { trip } = readTrip('start: 2026-10-10 18:00\nstops: [{ place: Porto, nights: 2 }]');
    expect(trip).toMatchObject({ startH: 18, stops: [{ from: '2026-10-10' }] });
  });

  test.each([
    ['start: 2026-10-10 25:00', /start: .*is not a date with a time/],
    ['start: 2026-02-30 08:00', /start: .*is not a date with a time/],
    ['start: 18:00', /start: .*is not a date with a time/],
  ])('%s is refused', (start, expected) => {
    expect(issues(`${start}\nstops: [{ place: Porto, nights: 2 }]`).join('\n')).toMatch(expected);
  });

  test('a start on another day than the first stop, or after its drive, is a contradiction', () => {
    expect(issues('start: 2026-10-10 18:00\nstops: [{ place: Porto, from: 2026-10-11, nights: 2 }]')).toEqual([
      'start: the trip starts on 2026-10-10, but its first stop on 2026-10-11',
    ]);
    expect(issues('start: 2026-10-10 18:00\nstops: [{ place: Porto, nights: 2, drive: 2 h }]')).toEqual([
      'stops[0].drive: the drive to the first stop begins at 10:00, before the trip starts at 18:00',
    ]);
    expect(
      issues('start: 2026-10-10 18:00\nstops: [{ place: Porto, nights: 2, drive: 2 h, driveFrom: "19:00" }]'),
    ).toEqual([]);
  });
});
