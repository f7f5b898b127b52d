import { daysBetween } from '../../place/index.js';
import { ConfigError, type ConfigIssue, type EnergyRead, type Readings, type Rig } from '../../rig/index.js';
import { whOf } from './observe.js';
import { isFull } from './vehicle-runs.js';

/** Nothing gives more than this on a clear day at midsummer on a plane that is turned to the sun [kWh/m²]. */
const MOST_KWH_M2_DAY = 12;
/** Rows of days may be off from a total by so much beside the trust in it. */
const ROWS_TRUST = 0.03;
/** A day whose highest charge is below this was not full by any display. */
const NOT_FULL = 0.95;

const percent = (soc: number) => `${Math.round(100 * soc)} %`;

/** @throws ConfigError for readings that no vehicle could show, each with the bound that it breaks */
export function refuseImpossible(readings: Readings, rig: Rig): void {
  const issues: ConfigIssue[] = [];
  const refuse = (path: string, message: string, hint?: string) =>
    issues.push({ code: 'impossible', path, message, ...(hint && { hint }) });
  const panelW = rig.solar.reduce((sum, { powerW, count }) => sum + powerW * count, 0);
  const nominalV = rig.battery.nominalV * rig.battery.series;
  const wholeWh = rig.battery.capacityAh * rig.battery.count * nominalV;
  const shown = (wh: number) => (wh >= 1000 ? `${Number((wh / 1000).toPrecision(3))} kWh` : `${Math.round(wh)} Wh`);
  const mostWh = (days: number) => panelW * MOST_KWH_M2_DAY * days;
  const tooMuch = (path: string, solar: EnergyRead, days: number) => {
    const wh = whOf(solar, rig);
    if (wh > mostWh(days))
      refuse(
        path,
        `${shown(wh)} in ${days} day${days === 1 ? '' : 's'} are more than ${Math.round(panelW)} W of panels can give: at most ${shown(mostWh(days))}`,
        'look at unit, days and the panels of the rig',
      );
  };
  readings.totals.forEach(({ days, solar, used, lowest, full, empty, from, trust }, k) => {
    if (solar) tooMuch(`totals[${k}].solar`, solar, days);
    const isClosed = !rig.alternator && !rig.mains;
    if (used && solar && isClosed) {
      const [usedWh, mostUsedWh] = [whOf(used, rig), whOf(solar, rig) + 1.2 * wholeWh];
      if (usedWh > 1.1 * mostUsedWh)
        refuse(
          `totals[${k}].used`,
          `${shown(usedWh)} used exclude ${shown(whOf(solar, rig))} from the sun: with what the battery holds at most ${shown(mostUsedWh)} could be used`,
        );
    }
    const inside = (date: string) => date >= from && daysBetween(from, date) < days;
    const rowsWh = readings.days.reduce(
      (sum, row) => sum + (row.solar && inside(row.date) ? whOf(row.solar, rig) : 0),
      0,
    );
    if (solar && rowsWh > (1 + trust + ROWS_TRUST) * whOf(solar, rig))
      refuse(
        `totals[${k}].solar`,
        `${shown(whOf(solar, rig))} excludes the rows of days, which add up to ${shown(rowsWh)} over the same days`,
      );
    const { disconnect } = rig.battery;
    if (
      empty !== undefined &&
      empty > 0 &&
      lowest !== undefined &&
      disconnect.kind === 'soc' &&
      lowest > disconnect.soc + 0.1
    )
      refuse(
        `totals[${k}].lowest`,
        `never below ${percent(lowest)} excludes ${empty} times empty: loads are cut off at ${percent(disconnect.soc)}`,
      );
    readings.days.forEach((row, d) => {
      if (lowest !== undefined && row.lowest !== undefined && inside(row.date) && row.lowest < lowest - 0.02)
        refuse(
          `days[${d}].lowest`,
          `${percent(row.lowest)} excludes totals[${k}].lowest: ${percent(lowest)} over the same days`,
        );
    });
    readings.moments.forEach(({ date, soc }, m) => {
      if (lowest !== undefined && soc !== undefined && inside(date) && soc < lowest - 0.02)
        refuse(
          `moments[${m}].soc`,
          `${percent(soc)} excludes totals[${k}].lowest: ${percent(lowest)} over the same days`,
        );
    });
    const fullRows = readings.days.filter(
      ({ date, highest }) => highest !== undefined && inside(date) && isFull(highest),
    ).length;
    const notFull = readings.days.filter(
      ({ date, highest }) => highest !== undefined && inside(date) && highest < NOT_FULL,
    ).length;
    if (full !== undefined && full > days - notFull)
      refuse(
        `totals[${k}].full`,
        `full on ${full} of ${days} days excludes the rows of days, of which ${notFull} do not come near full: ${days - notFull} at most`,
      );
    if (full !== undefined && fullRows > full)
      refuse(`totals[${k}].full`, `full on ${full} days excludes the rows of days, of which ${fullRows} are full`);
  });
  readings.days.forEach(({ date, solar, lowest = 0, highest = 1 }, d) => {
    if (solar) tooMuch(`days[${d}].solar`, solar, 1);
    readings.moments.forEach((moment, m) => {
      const { soc } = moment;
      if (moment.date !== date || soc === undefined || (soc > lowest - 0.02 && soc < highest + 0.02)) return;
      refuse(`moments[${m}].soc`, `${percent(soc)} excludes days[${d}]: ${percent(lowest)} to ${percent(highest)}`);
    });
  });
  readings.moments.forEach(({ voltageV, fridgeC }, m) => {
    const [low, high] = [8, 16].map((volts) => (volts * nominalV) / 12) as [number, number];
    if (voltageV !== undefined && !(voltageV >= low && voltageV <= high))
      refuse(
        `moments[${m}].volts`,
        `${voltageV} V is no voltage of this battery: ${nominalV} V stands between ${low} and ${high} V`,
      );
    if (fridgeC !== undefined && !rig.loads.some(({ kind }) => kind === 'fridge'))
      refuse(`moments[${m}].fridge`, 'the rig has no fridge');
  });
  if (readings.totals.length + readings.days.length + readings.moments.length === 0)
    refuse('', 'the file holds no reading', 'add totals, days or moments');
  if (issues.length > 0) throw new ConfigError(issues);
}
