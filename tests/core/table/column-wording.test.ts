import { describe, expect, test } from 'vitest';
import {
  type ColumnRole,
  clockOffsetOf,
  roleOf,
  stampPositionOf,
  unitOf,
  wordsOf,
} from '../../../packages/core/src/table/column-wording.js';

// Headings as common practice writes them, made up here; no source.

describe('a heading in plain words', () => {
  test.each([
    ['GHI (W/m^2)', 'ghi w m2'],
    ['ghi_w_m2', 'ghi w m2'],
    ['Ghi [W/m²]', 'ghi w m2'],
    ['GHI W m-2', 'ghi w m2'],
    ['GHI W m^-2', 'ghi w m2'],
    ['GHI W m − 2', 'ghi w m2'],
    ['GHI W m^ -2', 'ghi w m2'],
    ['GHI W m–2', 'ghi w m2'],
    ['airTemp', 'air temp'],
    ['Dry-bulb (°C)', 'dry bulb c'],
    ['T º C', 't c'],
    ['wind m s-1', 'wind m s'],
    ['wind m s^−1', 'wind m s'],
    ['wind m s^ - 1', 'wind m s'],
    ['levels - 1', 'levels - 1'],
    ['m s-10', 'm s-10'],
    ['a   b \t c', 'a b c'],
    ['  , ghi; ', 'ghi'],
    ['UTC+5:30', 'utc+5 30'],
    ['UTC−5', 'utc-5'],
    ['uncertainty (%)', 'uncertainty %'],
    ['hour-ending-time', 'hour ending time'],
    ['', ''],
    ['°', ''],
  ])('%j reads %j', (heading, words) => {
    expect(wordsOf(heading)).toBe(words);
  });
});

describe('the role of a heading', () => {
  const roles: Record<ColumnRole | 'none', string[]> = {
    ghi: [
      'GHI',
      'ghi_w_m2',
      'Glo (W/m2)',
      'global horizontal',
      'Global_radiation; horizontal [W/m²]',
      'SWDOWN',
      'rsds',
      'ssrd J/m2',
      'short-wave',
      'solar irradiance',
      'solar radiation',
      'Irradiation Wh/m2',
      'pyranometer 1',
      'insolation',
      'GHI W/m2 at that time',
      'Wh/m2 per hour, global',
    ],
    dni: ['DNI', 'bni', 'direct normal irradiance', 'Beam normal W/m2', 'normal-direct'],
    dhi: ['DHI', 'dif', 'diff_w_m2', 'diffuse horizontal W/m2'],
    air: [
      'air temperature',
      'T_air',
      'temp',
      'Temperature (°C)',
      'Dry-bulb',
      'dryBulb',
      't2m',
      'tas',
      'T_amb',
      't ambient',
      'TA',
      'outdoor temp',
      'temp at hour',
    ],
    wind: ['wind', 'Wind Speed (m/s)', 'wspd', 'WS10M', 'u10', 'wind speed at the hour'],
    clock: [
      'time',
      'Time (HH:MM)',
      'time_utc',
      'hour',
      'Hour of day',
      'hr',
      'HH',
      'stamp',
      'UTC',
      'gmt',
      'timestamp',
      'Time Stamp',
      'DateTime',
      'date time',
      'Date/Time',
      'date and time',
      'date hour',
      'date and hour',
      'local time',
    ],
    date: ['date', 'Date (MM/DD/YYYY)', 'local date'],
    year: ['year', 'YYYY', 'yr', 'Year of record'],
    month: ['month', 'mon', 'MO', 'mm', 'Month of year'],
    day: ['day', 'DD', 'dom', 'day of month'],
    dayOfYear: ['day of year', 'day of the year', 'DOY', 'Julian day', 'yday', 'the doy'],
    minute: ['minute', 'Minutes', 'min'],
    none: [
      '',
      '°',
      'station',
      'humidity',
      // not light from the sky on the flat
      'GHI uncert (%)',
      'GHI source',
      'ghi flag',
      'global QC',
      'clear-sky GHI',
      'ETR (W/m^2)',
      'POA global',
      'GHI tilted',
      'upwelling global',
      'global UV',
      'net radiation',
      'solar zenith',
      'direct W/m2',
      'beam radiation',
      'global illuminance',
      // not the air outside
      'dew point temperature',
      'wet bulb temp',
      'module temp',
      'cabin temp',
      'temp W/m2',
      'max temp',
      'battery temp',
      // not its speed
      'wind direction',
      'wind gust',
      'wdir',
      // not a clock
      'time zone',
      'sunshine duration hour',
      'sunrise time',
      'sunset time',
      'daylight hour',
      'UTC offset',
      'leap year',
      'this month',
      'per day',
      'minutes of sun',
      'of minute',
      'of minutes',
      'per min',
    ],
  };
  test.each(Object.entries(roles))('%s', (role, headings) => {
    for (const heading of headings) expect([heading, roleOf(heading) ?? 'none']).toEqual([heading, role]);
  });

  test('a word counts only when it stands alone', () => {
    const tell = (word: string, role: ColumnRole) => {
      expect([word, roleOf(word)]).toEqual([word, role]);
      for (const other of [`q${word}`, `${word}q`]) expect([other, roleOf(other)]).not.toEqual([other, role]);
    };
    for (const word of 'ghi glo glob global swdown rsds ssrd sw pyranometer insolation'.split(' ')) tell(word, 'ghi');
    for (const word of ['dni', 'bni', 'direct normal', 'normal direct']) tell(word, 'dni');
    for (const word of ['dhi', 'dif', 'diff', 'diffuse']) tell(word, 'dhi');
    for (const word of ['t air', 'dry bulb', 't2m', 'tas', 't amb', 'ambient', 'ta']) tell(word, 'air');
    for (const word of ['wspd', 'wind', 'ws', 'ws10m', 'u10', 'wspeed', 'windspd']) tell(word, 'wind');
    for (const word of ['time', 'hour', 'hr', 'hh', 'stamp', 'utc', 'gmt']) tell(word, 'clock');
    for (const word of ['datetime', 'timestamp']) tell(word, 'clock');
    for (const word of ['date time', 'date hour', 'date and time', 'date and hour'])
      expect([word, roleOf(`${word}q`)]).toEqual([word, 'date']);
    for (const word of ['year', 'yyyy', 'yr']) tell(word, 'year');
    for (const word of ['month', 'mon', 'mo', 'mm']) tell(word, 'month');
    for (const word of ['day', 'dd', 'dom']) tell(word, 'day');
    for (const word of ['day of year', 'day of the year', 'doy', 'julian day', 'yday']) tell(word, 'dayOfYear');
    for (const word of ['minute', 'minutes', 'min']) tell(word, 'minute');
    tell('date', 'date');
    // what is no clock is told by a whole word too, and a light, wind or temperature at a time is none
    for (const word of 'sunshine duration zone offset sunrise sunset daylight wind temp'.split(' ')) {
      expect([word, roleOf(`${word} hour`)]).not.toEqual([word, 'clock']);
      expect([word, roleOf(`q${word} hour`)]).toEqual([word, 'clock']);
      if (word !== 'temp') expect([word, roleOf(`${word}q hour`)]).toEqual([word, 'clock']);
    }
    for (const unit of ['w m2', 'wm2', 'wh m2', 'whm2']) {
      expect([unit, roleOf(`global ${unit} utc`)]).toEqual([unit, 'ghi']);
      for (const other of [`q${unit}`, `${unit}q`])
        expect([other, roleOf(`global ${other} utc`)]).toEqual([other, 'clock']);
    }
  });

  test('a heading of 120 characters is read, a longer one is none', () => {
    expect(roleOf(`ghi ${'x'.repeat(116)}`)).toBe('ghi');
    expect(roleOf(`ghi ${'x'.repeat(117)}`)).toBeUndefined();
  });
});

describe('the unit of a heading', () => {
  // value · scale + offset: 1 Wh = 3600 J, 0 °C = 273.15 K = 32 °F, mile and nautical mile are exact
  test.each([
    ['ghi', 'GHI W/m2', 5, 5, false],
    ['ghi', 'GHI kW/m2', 5, 5000, false],
    ['ghi', 'GHI Wh/m2', 5, 5, true],
    ['dni', 'DNI kWh m-2', 5, 5000, true],
    ['dhi', 'DHI MJ/m2', 3.6, 1000, true],
    ['ghi', 'global kJ/m²', 3.6, 1, true],
    ['ghi', 'global J/cm2', 0.36, 1, true],
    ['ghi', 'global J/m2', 3600, 1, true],
    ['ghi', 'global watts per square metre', 5, 5, false],
    ['air', 'temp °C', 5, 5, false],
    ['air', 'temp degF', 50, 10, false],
    ['air', 'temp (deg F)', 32, 0, false],
    ['air', 'temp Kelvin', 273.15, 0, false],
    ['wind', 'wind m/s', 5, 5, false],
    ['wind', 'wind m s-1', 5, 5, false],
    ['wind', 'wind km/h', 36, 10, false],
    ['wind', 'wind mph', 1, 0.44704, false],
    ['wind', 'wind knots', 3600, 1852, false],
  ] as const)('%s "%s": %d is %d, energy %s', (role, heading, given, meant, energy) => {
    const { unit, assumed } = unitOf(heading, role);
    expect(given * unit.scale + unit.offset).toBeCloseTo(meant, 9);
    expect(unit.energy).toBe(energy);
    expect(assumed).toBe(false);
  });

  test.each([
    ['ghi', 'W/m2'],
    ['dni', 'W/m2'],
    ['dhi', 'W/m2'],
    ['air', 'C'],
    ['wind', 'm/s'],
  ] as const)('of %s is %s where none is named', (role, text) => {
    expect(unitOf('something', role)).toEqual({ unit: { text, scale: 1, offset: 0, energy: false }, assumed: true });
  });
});

test.each([
  ['ending', ['hour ending', 'end of interval', 'interval ends', 'time_utc (end)', 'Hour-Ending']],
  ['beginning', ['hour beginning', 'begin', 'begins', 'time (starting)', 'interval start', 'starts']],
  ['centred', ['centred', 'centered', 'centerd', 'center', 'centre', 'mid', 'middle', 'midpoint of the hour']],
  [
    undefined,
    [
      'time',
      'weekend',
      'ended',
      'endq',
      'beginner',
      'qbegin',
      'restart',
      'started',
      'central',
      'qcentre',
      'midday',
      'qmid',
    ],
  ],
])('a stamp is %s by its heading', (position, headings) => {
  for (const heading of headings) expect([heading, stampPositionOf(heading)]).toEqual([heading, position]);
});

describe('the clock that a heading names', () => {
  test.each([
    ['time_utc', 0],
    ['GMT', 0],
    ['hour (UTC+10)', 10],
    ['Time UTC + 2', 2],
    ['UTC-5', -5],
    ['time (UTC−5)', -5],
    ['time (UTC–3:30)', -3.5],
    ['gmt -3', -3],
    ['Timestamp (UTC+5:30)', 5.5],
    ['UTC+0530', 5.5],
    ['UTC+5 45', 5.75],
    ['UTC+05:00', 5],
    ['UTC-3:30', -3.5],
    ['UTC+14', 14],
    ['UTC+15', 0], // no clock is so far ahead, so only the letters count
    ['UTC+13:45', 13.75],
    ['utc+5 hour 30', 5],
    ['UTC+5:20', 5],
    ['time CET', 1],
    ['time_est', -5],
    ['time (IST)', 5.5],
    ['local time', undefined],
    ['zutc+5', undefined],
    ['best time', undefined],
    ['constructor', undefined],
    ['', undefined],
  ])('%j is ahead of UTC by %s h', (heading, hours) => {
    expect(clockOffsetOf(heading)).toBe(hours);
  });
});
