import type { ColumnRole } from '@stayput/core/model';
import { WEATHER_COLUMN_OPTIONS } from '@stayput/core/model';
import type { Block } from './blocks.js';

/** Headings that are understood, by what they hold. */
export const WEATHER_HEADINGS: Readonly<Partial<Record<ColumnRole, readonly [says: string, ...headings: string[]]>>> = {
  ghi: ['light on the flat, W/m2', 'global horizontal W/m2', 'GHI (W/m^2)', 'solar radiation kJ/m2'],
  dni: ['light straight from the sun', 'direct normal W/m2', 'DNI'],
  dhi: ['light from the sky', 'diffuse horizontal W/m2', 'DHI'],
  air: ['air temperature', 'air temperature C', 'dry bulb (degC)', 'temp F'],
  wind: ['wind speed', 'wind m/s', 'wind speed km/h'],
  clock: ['date and time', 'utc hour end', 'timestamp', 'time (UTC+1)'],
  date: ['the date, where the time has a column of its own', 'date'],
};

export function weatherTopic(): Block[] {
  return [
    { text: '--weather KIND, or weather: KIND in a trip, says what sky the rig stands under.' },
    {
      entries: [
        [
          'climate',
          'the default: days drawn so that their months have the means of the nearest places of the built-in table, with cloud that comes and stays as it does. --seed N is another draw; the same seed gives the same weather on any machine. Years of one seed give percentiles (--years N)',
        ],
        ['clear', 'a cloudless sky'],
        ['dull', 'a run of overcast days, for the worst case'],
        ['FILE', 'measured or typical weather: EPW, TMY3, or a CSV'],
      ],
    },
    {
      text: 'A made year is one that could be; it is no forecast. A stop can give its own months (months: irradiation, maxTemperature, minTemperature), which stand above the table. "stayput help places" lists the table.',
    },
    { heading: 'Weather files' },
    {
      text: 'Hourly or finer, or a table of days. A CSV may begin with other lines; its columns are found by their wording and units. Needed are a time, the light on the flat (or direct and diffuse) and the air temperature; the split of the light and the wind are filled in where they are missing. Some headings that are understood:',
    },
    {
      entries: Object.entries(WEATHER_HEADINGS).map(([role, [says, ...headings]]) => [
        role,
        `${says}: ${headings.map((heading) => `"${heading}"`).join(', ')}`,
      ]),
    },
    {
      text: `Where the wording is not clear, name the column: --column ghi=SolarRad --column air="T out". What can be named: ${WEATHER_COLUMN_OPTIONS.join(', ')}.`,
    },
    {
      text: 'A stamp stands for the hour that ends with it, unless the heading says "beginning" or "centred" (or --column stamp=beginning). Its zone is read from the heading (UTC, UTC+2); else it is local time without daylight saving.',
    },
    { heading: 'Years' },
    {
      text: 'A typical year, stitched from several calendar years, serves for any year, its 28 February again on the 29th. A file with real dates must cover the run.',
    },
    {
      text: 'Years of your own: --weather FOLDER, or --weather 2019.csv,2020.csv, each file with one or more years of the same place. stay, yield, size and sweep go through all of them, and say how many there were; simulate takes the one that holds its days. A day of a table of days needs its date, its light with a unit (kWh/m2, MJ/m2, Wh/m2, or W/m2 as the mean of 24 hours) and the lowest and highest temperature; hours are made from them. Days that are missing, make no sense or have more light than 1.05 of a cloudless day in clean air are told by their lines, and the nearest days stand for them, at most one in ten.',
    },
  ];
}
