import { readParts, readRig, withoutTrip } from '@stayput/core';
import { describe, expect, test } from 'vitest';
import { weatherYears } from '../../../packages/core/src/simulate/inputs/conditions.js';
import { worksheetOf } from '../../../packages/core/src/study/size/size-worksheet.js';
import { SizeYear } from '../../../packages/core/src/study/size/size-year.js';

/** The battery is as cold as the air, so that a day's mean can be seen. */
const { rig } = readRig(`
battery: { chemistry: AGM, capacity: 100 Ah, floor: 50 %, stands: outside, thermalLag: 0 h }
solar: [{ power: 100 W }]
loads: [{ name: lamp, power: 10 W }]`);
const { parts } = readParts('panels: [{ name: flat, power: 100 W, mass: 5 kg, price: 90 }]');
const trip = { ...withoutTrip({ at: '45,5', from: '2025-01-20', days: 20 }), weather: { kind: 'clear' as const } };
const made = weatherYears(rig, trip, { stepH: 1 }).year(0);
const { grid, weather } = made;

/** A year whose air is this warm all day, by the day of its run from 0. */
const yearOf = (ofDay: (day: number) => number) => {
  const ambientC = weather.ambientC.map((_, i) => ofDay(Math.floor((i * grid.stepH) / 24)));
  return new SizeYear(rig, { ...made, weather: { ...weather, ambientC }, cabinC: ambientC });
};
/** January has days 0 to 11 of the run, February the rest. */
const JANUARY_DAYS = 12;

type Sheet = ReturnType<typeof worksheetOf>;
const lineOf = ({ lines }: Sheet, name: string) => lines.find(({ what }) => what === name)!;
const degrees = (sheet: Sheet) => Number(/at (-?[\d.]+) °C/.exec(lineOf(sheet, 'battery, rated').how)![1]);

describe('the worksheet’s temperature', () => {
  test('is that of the coldest day of the design month, which is not the mean and not another month’s', () => {
    const sheet = worksheetOf(rig, parts, [yearOf((day) => (day === 3 ? -7 : day === 15 ? -20 : 9))]);
    expect(sheet.designMonth).toBe('Jan'); // the lower sun, and the same load every day
    expect(degrees(sheet)).toBe(-7);
  });

  test('is that of the coldest of the years, whichever comes first', () => {
    const [mild, hard] = [yearOf(() => 8), yearOf((day) => (day < JANUARY_DAYS ? -4 : 20))];
    for (const years of [
      [mild, hard],
      [hard, mild],
    ])
      expect(degrees(worksheetOf(rig, parts, years))).toBe(-4);
  });

  test('makes the battery larger: what is colder gives less', () => {
    const at = (airC: number) => worksheetOf(rig, parts, [yearOf(() => airC)]).batteryAh;
    expect(at(-10)).toBeGreaterThan(1.1 * at(10));
  });
});

test('the worksheet’s load, voltage, depth and sun are those of the rig in its design month', () => {
  const year = yearOf(() => 10);
  const sheet = worksheetOf(rig, parts, [year, year]);
  const dayWh = lineOf(sheet, 'load of a day').value;
  expect(dayWh).toBeCloseTo(240, 6); // 10 W all day, twice the same year
  expect(sheet.dailyAh).toBeCloseTo(240 / 12, 6);
  const stored = (some: Sheet) => lineOf(some, 'for days without sun').value / lineOf(some, 'with losses').value;
  expect(stored(sheet)).toBeCloseTo(3, 9);
  expect(stored(worksheetOf(rig, parts, [year], 5))).toBeCloseTo(5, 9);
  expect(lineOf(sheet, 'within its depth').how).toBe('/ 0.5 depth of discharge');
  // peak sun hours of a flat panel under these skies, January alone
  let sunWh = 0;
  for (let i = 0; i < JANUARY_DAYS * 24; i++) sunWh += year.plane(rig.solar[0]!).plane.poaWm2[i]!;
  const hours = sunWh / 1000 / JANUARY_DAYS;
  const arrayW = (lineOf(sheet, 'with losses').value * 12) / (hours * 0.75);
  expect(sheet.solarW! / arrayW).toBeCloseTo(1, 9);
});
