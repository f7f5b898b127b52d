import { describe, expect, test } from 'vitest';
import { findPlace, isoLocal, itineraryFor, STEP_MINUTES } from '../../../packages/core/src/place/index.js';
import { ConfigError, type Stop, type Trip } from '../../../packages/core/src/rig/index.js';

const HOUR_MS = 3_600_000;
const utc = (text: string) => Date.parse(`${text}Z`);

const PORTO = { at: { latDeg: 41.15, lonDeg: -8.61 }, zone: 'Europe/Lisbon' };
const MADRID = { at: { latDeg: 40.42, lonDeg: -3.7 }, zone: 'Europe/Madrid' };

function stop(given: Partial<Stop>): Stop {
  const rest = { driveH: 0, driveFromH: 9, shade: 0, use: {}, mainsH: 0, mainsFromH: 18, horizon: [], nights: 1 };
  return { ...rest, ...given };
}

function tripOf(...stops: Partial<Stop>[]): Trip {
  return { name: 'made up', startSoc: 1, weather: { kind: 'clear' } as Trip['weather'], stops: stops.map(stop) };
}

const clocks = new Map<string, Intl.DateTimeFormat>();

/** Date and time of day by the platform's own calendar. */
function clockOf(ms: number, zone: string): { date: string; hour: number } {
  const clock =
    clocks.get(zone) ?? new Intl.DateTimeFormat('sv-SE', { timeZone: zone, dateStyle: 'short', timeStyle: 'medium' });
  clocks.set(zone, clock);
  const [date, time] = clock.format(ms).split(' ');
  const [hour, minute, second] = time!.split(':').map(Number);
  return { date: date!, hour: hour! + minute! / 60 + second! / 3600 };
}

const issueOf = (make: () => unknown) => {
  try {
    make();
  } catch (error) {
    if (error instanceof ConfigError) return error.issues[0]!;
    throw error;
  }
  throw new Error('no ConfigError');
};

/** Elapsed hours from the grid's start at which a column rises from nothing and falls back to it. */
function windows(column: Float64Array, stepH: number): [number, number][] {
  const found: [number, number][] = [];
  let start = Number.NaN;
  for (let i = 0; i <= column.length; i++) {
    const on = column[i] ?? 0;
    const before = column[i - 1] ?? 0;
    if (on > 0 && before === 0) start = (i + 1 - on) * stepH;
    if (on === 0 && before > 0) found.push([start, (i - 1 + before) * stepH]);
  }
  return found;
}

describe('a stop', () => {
  const threeNights = () => itineraryFor(tripOf({ ...PORTO, from: '2026-07-03', nights: 3 }), 0.25);

  test('lasts from the local midnight of its first day to that after its last night', () => {
    const { grid, legs } = threeNights();
    // Portugal is an hour ahead of UTC in summer
    expect(grid).toEqual({ startMs: utc('2026-07-02T23:00'), stepH: 0.25, steps: 3 * 96 });
    expect(legs).toHaveLength(1);
    expect(legs[0]).toMatchObject({
      startMs: utc('2026-07-02T23:00'),
      endMs: utc('2026-07-05T23:00'),
      firstStep: 0,
      steps: 288,
    });
  });

  test('holds its civil days, with the sun of each', () => {
    const { days } = threeNights();
    expect(days.map((day) => [day.date, day.dayNumber, day.leg])).toEqual([
      ['2026-07-03', 0, 0],
      ['2026-07-04', 1, 0],
      ['2026-07-05', 2, 0],
    ]);
    for (const day of days) {
      expect(day.offsets).toEqual([{ fromMs: day.startMs, utcOffsetH: 1 }]);
      expect(day).not.toHaveProperty('polar');
      // Solar noon is 12 h + 8.61°/15 + 4.4 min (equation of time, early July; from memory) UTC; the longest day of Porto is some 15 h.
      const noon = utc(`${day.date}T12:00`) + (8.61 / 15 + 4.4 / 60) * HOUR_MS;
      expect(Math.abs((day.sunriseMs! + day.sunsetMs!) / 2 - noon)).toBeLessThan(90_000);
      expect((day.sunsetMs! - day.sunriseMs!) / HOUR_MS).toBeCloseTo(15.0, 0);
    }
  });

  test('far north tells days without sunrise or without sunset', () => {
    const tromso = { at: { latDeg: 69.65, lonDeg: 18.96 }, zone: 'Europe/Oslo' };
    const dayOf = (from: string) => itineraryFor(tripOf({ ...tromso, from }), 1).days[0]!;
    expect(dayOf('2026-06-21').polar).toBe('day');
    expect(dayOf('2026-12-21').polar).toBe('night');
    for (const date of ['2026-06-21', '2026-12-21']) {
      expect(dayOf(date)).not.toHaveProperty('sunriseMs');
      expect(dayOf(date)).not.toHaveProperty('sunsetMs');
    }
  });

  test('is found by name or by position; name, elevation and zone of its own go first', () => {
    const placeOf = (given: Partial<Stop>) => itineraryFor(tripOf({ from: '2026-07-03', ...given }), 1).legs[0]!.place;
    const { latDeg, lonDeg, elevationM } = findPlace('Porto');
    const zone = 'Europe/Lisbon';
    expect(placeOf({ place: 'porto' })).toEqual({ name: 'Porto', latDeg, lonDeg, elevationM, zone });
    const own = { name: 'by the river', elevationM: 5, zone: 'UTC' };
    expect(placeOf({ place: 'porto', ...own })).toEqual({ latDeg, lonDeg, ...own });
    const at = { latDeg: 41.16, lonDeg: -8.6 };
    expect(placeOf({ at })).toEqual({ name: '41.16, -8.60', ...at, elevationM, zone });
    expect(placeOf({ at, name: 'x', elevationM: 0, zone: 'Europe/Madrid' })).toEqual({
      name: 'x',
      ...at,
      elevationM: 0,
      zone: 'Europe/Madrid',
    });
    expect(() => placeOf({ place: 'Qqqqqqq' })).toThrow(/no place called "Qqqqqqq"/);
  });

  test('brings its use of loads to each of its days', () => {
    const use = { fan: 2 };
    const trip = tripOf({ ...PORTO, from: '2026-07-03', nights: 2, use }, { ...PORTO });
    expect(itineraryFor(trip, 1).days.map((day) => day.use)).toEqual([use, use, {}]);
  });
});

describe('steps', () => {
  const trip = tripOf({ ...PORTO, from: '2026-07-03' });

  test.each(STEP_MINUTES)('of %i minutes fill a day', (minutes) => {
    expect(itineraryFor(trip, minutes / 60).grid.steps).toBe(1440 / minutes);
  });

  test.each([0, -1, 7 / 60, 0.9, 1.0001, 2, Number.NaN])('of %s h are refused, with what would do', (stepH) => {
    expect(() => itineraryFor(trip, stepH)).toThrow(RangeError);
    expect(() => itineraryFor(trip, stepH)).toThrow(`1, 2, 3, 4, 5, 6, 10, 12, 15, 20, 30, 60 minutes, got ${stepH} h`);
  });
});

describe('stops that follow each other', () => {
  test('begin where the one before ends, with or without a date of their own', () => {
    for (const from of [undefined, '2026-03-01']) {
      const second = { ...PORTO, nights: 3, ...(from !== undefined && { from }) };
      const { grid, legs, days } = itineraryFor(tripOf({ ...PORTO, from: '2026-02-27', nights: 2 }, second), 1);
      expect(grid.steps).toBe(5 * 24);
      expect(legs.map(({ firstStep, steps }) => [firstStep, steps])).toEqual([
        [0, 48],
        [48, 72],
      ]);
      expect(legs[1]!.startMs).toBe(legs[0]!.endMs);
      expect(days.map((day) => `${day.date} ${day.dayNumber} ${day.leg}`)).toEqual([
        '2026-02-27 0 0',
        '2026-02-28 1 0',
        '2026-03-01 2 1',
        '2026-03-02 3 1',
        '2026-03-03 4 1',
      ]);
    }
  });

  test.each(['2026-02-28', '2026-03-02'])('but not on %s, when the one before ends on 1 March', (from) => {
    const trip = tripOf({ ...PORTO, from: '2026-02-27', nights: 2 }, { ...PORTO, from });
    const issue = issueOf(() => itineraryFor(trip, 1));
    expect(issue).toMatchObject({ code: 'stops_do_not_join', path: 'stops[1].from' });
    expect(issue.message).toContain(from);
    expect(issue.message).toContain('2026-03-01');
    expect(issue.hint).toContain('nights');
  });

  test('need a date to begin with, on the first and on no other', () => {
    const issue = issueOf(() => itineraryFor(tripOf({ ...PORTO }, { ...PORTO, from: '2026-03-01' }), 1));
    expect(issue).toMatchObject({ code: 'missing', path: 'stops[0].from' });
    expect(issue.message).toMatch(/first stop .* date/);
  });
});

describe('days of 23 and 25 hours', () => {
  const lengths = (...stops: Partial<Stop>[]) =>
    itineraryFor(tripOf(...stops), 0.25).days.map((day) => (day.endMs - day.startMs) / HOUR_MS);

  test('where the clocks change (European Union: 29 March and 25 October 2026, at 01:00 UTC)', () => {
    expect(lengths({ ...PORTO, from: '2026-03-28', nights: 3 })).toEqual([24, 23, 24]);
    expect(lengths({ ...PORTO, from: '2026-10-24', nights: 3 })).toEqual([24, 25, 24]);
    const { days } = itineraryFor(tripOf({ ...PORTO, from: '2026-10-24', nights: 3 }), 1);
    expect(days.map((day) => day.offsets)).toEqual([
      [{ fromMs: utc('2026-10-23T23:00'), utcOffsetH: 1 }],
      [
        { fromMs: utc('2026-10-24T23:00'), utcOffsetH: 1 },
        { fromMs: utc('2026-10-25T01:00'), utcOffsetH: 0 },
      ],
      [{ fromMs: utc('2026-10-26T00:00'), utcOffsetH: 0 }],
    ]);
  });

  test('where the zone changes between stops', () => {
    const from = '2026-07-03';
    expect(lengths({ ...MADRID, from, nights: 2 }, { ...PORTO })).toEqual([24, 25, 24]);
    expect(lengths({ ...PORTO, from, nights: 2 }, { ...MADRID })).toEqual([24, 23, 24]);
  });

  test('across the date line, where a day can be of two hours or of two days', () => {
    const tokyo = { at: { latDeg: 35.7, lonDeg: 139.7 }, zone: 'Asia/Tokyo' }; // UTC + 9
    const hawaii = { at: { latDeg: 21.3, lonDeg: -157.9 }, zone: 'Pacific/Honolulu' }; // UTC - 10
    const samoa = { at: { latDeg: -14.3, lonDeg: -170.7 }, zone: 'Pacific/Pago_Pago' }; // UTC - 11
    const line = { at: { latDeg: 1.9, lonDeg: -157.4 }, zone: 'Pacific/Kiritimati' }; // UTC + 14
    const from = '2026-07-03';
    expect(lengths({ ...tokyo, from, nights: 2 }, { ...hawaii })).toEqual([24, 43, 24]);
    expect(lengths({ ...hawaii, from, nights: 2 }, { ...tokyo })).toEqual([24, 5, 24]);
    // two nights less 25 hours: the second date is over before it begins
    expect(lengths({ ...samoa, from, nights: 2 }, { ...line })).toEqual([23, 24]);
  });

  test('whose offset is no whole hour begin within half a step of midnight', () => {
    const kolkata = { at: { latDeg: 22.6, lonDeg: 88.4 }, zone: 'Asia/Kolkata' }; // UTC + 5:30
    const nepal = { at: { latDeg: 27.7, lonDeg: 85.3 }, zone: 'Asia/Kathmandu' }; // UTC + 5:45
    const hourly = itineraryFor(tripOf({ ...kolkata, from: '2026-07-03' }, { ...nepal }), 1);
    expect(hourly.legs.map(({ firstStep, steps }) => [firstStep, steps])).toEqual([
      [0, 24],
      [24, 24],
    ]);
    expect(hourly.legs[1]!.startMs).toBe(utc('2026-07-03T18:30'));
    expect(hourly.legs[1]!.endMs).toBe(utc('2026-07-04T18:30'));
    expect(lengths({ ...kolkata, from: '2026-07-03' }, { ...nepal })).toEqual([23.75, 24]);
  });
});

/** Zones with their changes of 2026 or none: at midnight, by half an hour, south of the equator, west of Greenwich. */
const WORLD = [
  { zone: 'Europe/Lisbon', from: '2026-03-26' },
  { zone: 'Europe/Lisbon', from: '2026-10-22' },
  { zone: 'America/St_Johns', from: '2026-03-05' }, // UTC - 3:30, 23 h on 8 March
  { zone: 'America/Havana', from: '2026-03-05' }, // no midnight on 8 March
  { zone: 'Africa/Cairo', from: '2026-04-21' }, // no midnight on 24 April
  { zone: 'Australia/Lord_Howe', from: '2026-04-02' }, // half an hour on 5 April
  { zone: 'Asia/Kathmandu', from: '2026-12-29' },
  { zone: 'Pacific/Pago_Pago', from: '2026-02-25' },
  { zone: 'Pacific/Auckland', from: '2026-09-24' },
] as const;

describe.each(WORLD)('six days in $zone from $from', ({ zone, from }) => {
  const stepH = 0.25;
  const where = { at: { latDeg: 10, lonDeg: 0 }, zone };
  const sixDays = () => itineraryFor(tripOf({ ...where, from, nights: 4 }, { ...where, nights: 2 }), stepH);

  test('each begins with its date, and the next where it ends', () => {
    const { grid, days } = sixDays();
    expect(days).toHaveLength(6);
    expect(days[0]!.startMs).toBe(grid.startMs);
    expect(days[5]!.endMs).toBe(grid.startMs + grid.steps * stepH * HOUR_MS);
    days.forEach((day, i) => {
      if (i > 0) expect(day.startMs).toBe(days[i - 1]!.endMs);
      expect(clockOf(day.startMs, zone).date).toBe(day.date);
      expect(clockOf(day.startMs - 1, zone).date < day.date).toBe(true);
      expect(day.dayNumber).toBe(i);
      // a change at its end is the next day's
      expect(day.offsets[0]!.fromMs).toBe(day.startMs);
      for (const { fromMs } of day.offsets.slice(1)) expect(fromMs > day.startMs && fromMs < day.endMs).toBe(true);
    });
  });

  test('the local hour is that of a clock on the wall at the middle of each step', () => {
    const { grid, localHour } = sixDays();
    expect(localHour).toHaveLength(grid.steps);
    for (let i = 0; i < grid.steps; i++) {
      const { hour } = clockOf(grid.startMs + (i + 0.5) * stepH * HOUR_MS, zone);
      expect(localHour[i]!).toBeCloseTo(hour, 9);
    }
  });

  test('an instant is written in local time, with an offset that leads back to it', () => {
    const { grid, days } = sixDays();
    for (let i = 0; i < grid.steps; i += 3) {
      const ms = grid.startMs + i * stepH * HOUR_MS;
      const text = isoLocal(ms, days);
      const { date, hour } = clockOf(ms, zone);
      expect(text).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d[+-]\d\d:\d\d$/);
      expect(text.slice(0, 10)).toBe(date);
      expect(Number(text.slice(11, 13)) + Number(text.slice(14, 16)) / 60).toBeCloseTo(hour, 9);
      expect(Date.parse(text)).toBe(ms);
    }
  });
});

test('the local hour stays below 24 where a step has midnight in its middle, and before 1970', () => {
  // whose midnights are 23:45 h apart, so that steps of ten minutes from the first stand five minutes off the second
  const kolkata = { at: { latDeg: 22.6, lonDeg: 88.4 }, zone: 'Asia/Kolkata' };
  const nepal = { at: { latDeg: 27.7, lonDeg: 85.3 }, zone: 'Asia/Kathmandu' };
  const { localHour } = itineraryFor(tripOf({ ...kolkata, from: '2026-07-03' }, { ...nepal, nights: 2 }), 1 / 6);
  expect(Math.max(...localHour)).toBeLessThan(24);
  expect(Math.min(...localHour)).toBe(0);
  const early = itineraryFor(tripOf({ ...nepal, zone: 'UTC', from: '1968-07-03' }), 1).localHour;
  expect([...early]).toEqual(Array.from({ length: 24 }, (_, hour) => hour + 0.5));
});

test('an instant is written with the offset of the stop that it falls into', () => {
  const { days } = itineraryFor(tripOf({ ...PORTO, from: '2026-07-03', nights: 2 }, { ...MADRID }), 1);
  expect(isoLocal(utc('2026-07-02T23:00'), days)).toBe('2026-07-03T00:00+01:00');
  expect(isoLocal(utc('2026-07-04T21:59'), days)).toBe('2026-07-04T22:59+01:00');
  expect(isoLocal(utc('2026-07-04T22:00'), days)).toBe('2026-07-05T00:00+02:00');
  expect(isoLocal(utc('2026-07-09T12:00'), days)).toBe('2026-07-09T14:00+02:00');
  // before the run and without one it is UTC
  expect(isoLocal(utc('2026-07-01T12:00'), days)).toBe('2026-07-01T12:00+00:00');
  expect(isoLocal(utc('2026-07-01T12:00'), [])).toBe('2026-07-01T12:00+00:00');
});

describe('driving', () => {
  test('is on the day of arrival alone, by the clock of the stop that is left', () => {
    const trip = tripOf(
      { ...PORTO, from: '2026-07-03', nights: 2, driveH: 2, driveFromH: 9 },
      { ...MADRID, nights: 2, driveH: 5.5, driveFromH: 8 },
      { ...PORTO },
    );
    const { driving, mains } = itineraryFor(trip, 0.5);
    // 08:00 in Portugal two days later, 48 h and 8 h after the first midnight, whatever the clocks of Spain say
    expect(windows(driving, 0.5)).toEqual([
      [9, 11],
      [56, 61.5],
    ]);
    expect(mains.every((share) => share === 0)).toBe(true);
  });

  test('takes the share of a step that it lasts', () => {
    const trip = tripOf({ ...PORTO, from: '2026-07-03', driveH: 1.5, driveFromH: 9.75 });
    const { driving } = itineraryFor(trip, 1);
    expect([...driving.subarray(8, 13)]).toEqual([0, 0.25, 1, 0.25, 0]);
    const short = itineraryFor(tripOf({ ...PORTO, from: '2026-07-03', driveH: 0.25, driveFromH: 9.5 }), 1).driving;
    expect([...short.subarray(8, 12)]).toEqual([0, 0.25, 0, 0]);
    expect(short.reduce((a, b) => a + b, 0)).toBe(0.25);
  });

  test('begins by the clock on days that it changes; an hour that comes twice is the later, one left out is an hour on', () => {
    const startOf = (from: string, driveFromH: number) =>
      windows(itineraryFor(tripOf({ ...PORTO, from, driveH: 1, driveFromH }), 0.5).driving, 0.5)[0]![0];
    // 29 March: 01:00 is followed by 02:00, so nine o'clock comes after eight hours
    expect([0, 0.5, 2, 9, 23].map((hour) => startOf('2026-03-29', hour))).toEqual([0, 0.5, 1, 8, 22]);
    expect(startOf('2026-03-29', 1.5)).toBe(1.5);
    // 25 October: 02:00 is followed by 01:00 again
    expect([0, 0.5, 2, 9, 23].map((hour) => startOf('2026-10-25', hour))).toEqual([0, 0.5, 3, 10, 24]);
    expect([1, 1.5].map((hour) => startOf('2026-10-25', hour))).toEqual([2, 2.5]);
  });

  test('that goes on past the end of the trip is cut off there', () => {
    const trip = tripOf({ ...PORTO, from: '2026-07-03', driveH: 5, driveFromH: 22 });
    expect(windows(itineraryFor(trip, 0.5).driving, 0.5)).toEqual([[22, 24]]);
  });
});

test('a night that the date line takes back whole is refused, two nights are not', () => {
  // From UTC-11 to UTC+14 a date begins 25 h earlier.
  const pagoPago = { at: { latDeg: -14.28, lonDeg: -170.7 }, zone: 'Pacific/Pago_Pago' };
  const kiritimati = { at: { latDeg: 1.87, lonDeg: -157.4 }, zone: 'Pacific/Kiritimati' };
  const over = (nights: number) =>
    itineraryFor(tripOf({ ...pagoPago, from: '2026-05-01', nights }, { ...kiritimati, nights: 2 }), 1);
  const { code, path, message, hint } = issueOf(() => over(1));
  expect([code, path, hint]).toEqual(['stops_do_not_join', 'stops[0].nights', 'give it one night more']);
  expect(message).toMatch(/begins 1 h before/);
  expect(over(2).legs.map(({ steps }) => steps)).toEqual([23, 48]);
});

describe('mains', () => {
  test('are there each day of the stop, past midnight too', () => {
    const trip = tripOf({ ...PORTO, from: '2026-07-03', nights: 2, mainsH: 10, mainsFromH: 20 }, { ...PORTO });
    const { mains, driving } = itineraryFor(trip, 0.5);
    expect(windows(mains, 0.5)).toEqual([
      [20, 30],
      [44, 54],
    ]);
    expect(driving.every((share) => share === 0)).toBe(true);
  });

  test('of a whole day each day are on from the first hour to the end, and never more than on', () => {
    for (const mainsH of [24, 30]) {
      const trip = tripOf({ ...PORTO, from: '2026-07-03', nights: 3, mainsH, mainsFromH: 6 });
      const { mains } = itineraryFor(trip, 0.5);
      expect(windows(mains, 0.5)).toEqual([[6, 72]]);
      expect(Math.max(...mains)).toBe(1);
    }
  });
});
