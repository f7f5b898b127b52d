import { conditionsFor, readTrip, type Trip, withoutTrip } from '@stayput/core';
import { describe, expect, test } from 'vitest';
import { climateOf, weatherYears } from '../../../packages/core/src/simulate/inputs/conditions.js';
import { iso, madeUpCsv } from '../weather/weather-made-up.js';

const months = (ghi: number, tMax: number, tMin: number) => ({
  ghiKwhM2Day: Array<number>(12).fill(ghi),
  tMaxC: Array<number>(12).fill(tMax),
  tMinC: Array<number>(12).fill(tMin),
});
const rig = { cabin: { gainK: 10, lagH: 0 } };
const hourly = { stepH: 1 };
const trip = (text: string): Trip => readTrip(text).trip;
const COLUMNS = ['ghiWm2', 'dniWm2', 'dhiWm2', 'ambientC', 'windMs'] as const;
const texts = (of: { notes: readonly { text: string }[] }) => of.notes.map(({ text }) => text);

describe('stop by stop', () => {
  // both at the zone of Greenwich, so that a stay there alone has the same midnights
  const stops = {
    west: '{ at: [10, -1], nights: 2, shade: 40 %',
    east: '{ at: [50, 0], zone: UTC, nights: 1',
  };
  const joined = (weather: string) =>
    trip(`
name: invented
weather: ${weather}
stops: [${stops.west}, zone: UTC, from: 2026-05-01 }, ${stops.east} }]`);
  const alone = (stop: 'west' | 'east', weather: string) =>
    trip(
      `
name: invented
weather: ${weather}
stops: [${stops[stop]}, zone: UTC, from: 2026-05-0${stop === 'west' ? 1 : 3} }]`.replace(
        'zone: UTC, nights: 1, zone',
        'nights: 1, zone',
      ),
    );

  test.each(['clear', 'dull', 'climate'])(
    'a trip meets the sun and the %s weather that a stay there alone meets',
    (weather) => {
      const whole = conditionsFor(rig, joined(weather), hourly);
      const [west, east] = (['west', 'east'] as const).map((stop) => conditionsFor(rig, alone(stop, weather), hourly));
      expect([whole.grid.steps, west!.grid.steps, east!.grid.steps]).toEqual([72, 48, 24]);
      for (const key of COLUMNS)
        expect([...whole.weather[key]], key).toEqual([...west!.weather[key], ...east!.weather[key]]);
      for (const key of ['cosZenith', 'azimuthDeg', 'extraNormalWm2'] as const)
        expect([...whole.sun[key]], key).toEqual([...west!.sun[key], ...east!.sun[key]]);
      // only climate is drawn
      const again = conditionsFor(rig, alone('west', weather), { ...hourly, seed: 2 });
      if (weather === 'climate') expect([...again.weather.ghiWm2]).not.toEqual([...west!.weather.ghiWm2]);
      else expect([...again.weather.ghiWm2]).toEqual([...west!.weather.ghiWm2]);
      expect(texts(whole)).toEqual([...texts(west!), ...texts(east!)]);
    },
  );

  test('trees keep their share of the sun off the roof', () => {
    const { cabinC, weather } = conditionsFor(rig, joined('clear'), hourly);
    cabinC.forEach((cabin, i) => {
      const lit = i < 48 ? 0.6 : 1;
      expect(cabin).toBeCloseTo(weather.ambientC[i]! + (10 * lit * weather.ghiWm2[i]!) / 1000, 9);
    });
    expect(Math.max(...weather.ghiWm2)).toBeGreaterThan(500);
  });

  test('each place once, in order, and its note once', () => {
    const there = '{ at: [10, -1], nights: 1';
    const back = trip(`
name: invented
weather: clear
stops: [${there}, from: 2026-05-01 }, { at: [10, 3], nights: 1 }, { at: [12, -1], nights: 1 }, ${there} }]`);
    const { notes } = conditionsFor(rig, back, hourly);
    expect(notes).toHaveLength(3);
    for (const { code } of notes) expect(code).toBe('climate_place');
  });
});

describe('which weather', () => {
  const week = withoutTrip({ at: '45, 10', from: '2026-04-01', days: 3 });
  const light = (options: object) => [...conditionsFor(rig, week, { ...hourly, ...options }).weather.ghiWm2];

  test('the first year of seed 1 at ten minutes unless asked for another', () => {
    expect(conditionsFor(rig, week).grid.stepH).toBe(1 / 6);
    expect(light({})).toEqual(light({ seed: 1, year: 0 }));
    expect(light({ seed: 2 })).not.toEqual(light({}));
    expect(light({ year: 1 })).not.toEqual(light({}));
    const years = weatherYears(rig, week, { ...hourly, seed: 2 });
    expect([...years.year(3).weather.ghiWm2]).toEqual(light({ seed: 2, year: 3 }));
  });

  test('loads run at random moments, by seed and year, only when asked, and then it is said', () => {
    const plain = conditionsFor(rig, week, hourly);
    expect(plain).not.toHaveProperty('loadDraw');
    expect(plain.notes.map(({ code }) => code)).not.toContain('random_loads');
    const random = (options: object) => conditionsFor(rig, week, { ...hourly, randomLoads: true, ...options });
    expect(random({}).loadDraw).toEqual({ seed: 1, year: 0 });
    expect(random({ seed: 7, year: 2 }).loadDraw).toEqual({ seed: 7, year: 2 });
    const note = (options: object) => random(options).notes.find(({ code }) => code === 'random_loads')!.text;
    expect(note({})).toMatch(/at random moments .* seed 1$/);
    expect(note({ seed: 7 })).toMatch(/seed 7$/);
  });

  test('a file’s weather is read from the text that is handed in, on the standard clock of the place', () => {
    const trips = {
      ...withoutTrip({ at: '40, 15', from: '2026-07-06', days: 1 }),
      weather: { kind: 'file' as const, path: 'july.csv' },
    };
    expect(() => conditionsFor(rig, trips, hourly)).toThrow(/july\.csv.*weatherFile/);
    const text = madeUpCsv('time,W1,T1', (ms, hour) => [iso(ms), hour >= 10 && hour < 14 ? 500 : 0, 20 + hour / 10]);
    const weatherFile = { name: 'july.csv', text, columns: { ghi: 'W1', air: 'T1', stamp: 'beginning' } };
    const { weather, notes } = conditionsFor(rig, trips, { ...hourly, weatherFile });
    // Standard time there is an hour ahead of UTC, summer time two: the file's 10 h is 11 h on the clock of the day.
    weather.ghiWm2.forEach((wm2, hour) => {
      expect(wm2, `${hour} h`).toBeCloseTo(hour >= 11 && hour < 15 ? 500 : 0, 6);
    });
    expect(texts({ notes }).join()).toMatch(/july\.csv.*UTC\+1/);
    expect(() => conditionsFor(rig, trips, { ...hourly, weatherFile: { name: 'july.csv', text } })).toThrow(
      /july\.csv/,
    );
  });
});

describe('the months from which a stop’s weather is made', () => {
  const legOf = (stop: string) =>
    conditionsFor(
      rig,
      trip(`{ name: invented, weather: dull, stops: [{ ${stop}, from: 2026-05-01, nights: 1 }] }`),
      hourly,
    ).itinerary.legs[0]!;
  const ownMonths = (ghi: number) => months(ghi, 20, 10);

  test('are the stop’s own before the rig’s, and the rig’s before the table’s', () => {
    const leg = legOf('place: Lisbon');
    const own = { ...leg, stop: { ...leg.stop, months: ownMonths(3) } };
    const table = climateOf(leg, {}).climate;
    expect(climateOf(leg, { months: ownMonths(2) }).climate).toEqual(ownMonths(2));
    expect(climateOf(own, { months: ownMonths(2) }).climate).toEqual(ownMonths(3));
    // parts may be given alone
    const { tMinC } = ownMonths(2);
    expect(climateOf(leg, { months: { tMinC } }).climate).toEqual({ ...table, tMinC });
  });

  test('where their light is from is told: given, a row of the table, a recalled row, several rows', () => {
    const of = (stop: string, rigMonths = {}) => climateOf(legOf(stop), { months: rigMonths });
    expect(of('place: Lisbon').light).toBe('table');
    expect(of('place: Beijing').light).toBe('recalled'); // its row is marked "memory"
    expect(of('at: [0, -30]').light).toBe('interpolated'); // the middle of an ocean
    expect(of('at: [0, -30]', ownMonths(2)).light).toBe('given');
    const { tMaxC, tMinC } = ownMonths(2);
    expect(of('place: Lisbon', { tMaxC, tMinC }).light).toBe('table');
  });

  test('and so is what of them the owner gave', () => {
    const note = (rigMonths: object) => climateOf(legOf('place: Lisbon'), { months: rigMonths }).note;
    const { ghiKwhM2Day, tMaxC, tMinC } = ownMonths(2);
    const table = note({});
    expect(table).toMatch(/^climate of Lisbon/);
    expect(note(ownMonths(2))).toBe('climate: the months given in the file');
    expect(note({ ghiKwhM2Day })).toBe(`climate: irradiation as given in the file, the rest from the table: ${table}`);
    expect(note({ tMaxC, tMinC })).toBe(
      `climate: highest temperatures and lowest temperatures as given in the file, the rest from the table: ${table}`,
    );
  });
});
