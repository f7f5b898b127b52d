import { MONTH_NAMES } from '../../math/index.js';
import type { PartsList, Rig } from '../../rig/index.js';
import { calendarOf, monthSums } from '../run/calendar.js';
import { arrayOf } from './size-rig.js';
import type { SizeYear } from './size-year.js';
import { temperatureMultiplier, type Worksheet, worksheet } from './worksheet.js';

export const DEFAULT_AUTONOMY_DAYS = 3;

/**
 * The hand worksheet for the same rig, places and weather: its design month is the one with the most load for its sun, its
 * battery of the kind of the list's first line. The plane is that of the list's first panel, or of the rig's first array.
 */
export function worksheetOf(
  rig: Rig,
  parts: PartsList,
  years: readonly SizeYear[],
  days = DEFAULT_AUTONOMY_DAYS,
): Worksheet {
  const battery = parts.batteries[0]?.battery ?? rig.battery;
  const panel = parts.panels[0] ? arrayOf(rig, parts.panels[0], 1) : rig.solar[0];
  const sums = { days: new Float64Array(12), loadWh: new Float64Array(12), poaWh: new Float64Array(12) };
  const coldestC = new Float64Array(12).fill(Infinity);
  for (const year of years) {
    const { itinerary, grid, weather } = year.conditions;
    const light = panel ? year.plane(panel).plane.poaWm2 : weather.ghiWm2;
    const poaWh = monthSums(light, calendarOf(itinerary), grid.stepH);
    for (let month = 0; month < 12; month++) {
      sums.days[month] = sums.days[month]! + year.demand.days[month]!;
      sums.loadWh[month] = sums.loadWh[month]! + year.demand.loadWh[month]!;
      sums.poaWh[month] = sums.poaWh[month]! + poaWh[month]!;
      coldestC[month] = Math.min(coldestC[month]!, year.demand.coldestC[month]!);
    }
  }
  const ratio = (month: number) => sums.loadWh[month]! / sums.poaWh[month]!;
  const design = [...MONTH_NAMES.keys()]
    .filter((month) => sums.days[month]! > 0)
    .reduce((worst, month) => (ratio(month) > ratio(worst) ? month : worst));
  const temperatureC = coldestC[design]!;
  return worksheet({
    dailyWh: sums.loadWh[design]! / sums.days[design]!,
    designMonth: MONTH_NAMES[design]!,
    ...(rig.inverter && { hasInverter: true }),
    nominalV: battery.nominalV * battery.series,
    chemistry: battery.chemistry,
    autonomyDays: days,
    depth: 1 - battery.floor,
    temperatureC,
    temperatureMultiplier: temperatureMultiplier(battery.chemistry, temperatureC),
    peakSunHours: sums.poaWh[design]! / 1000 / sums.days[design]!,
  });
}
