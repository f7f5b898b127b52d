import { Z90 } from '../../math/index.js';
import { daysBetween } from '../../place/index.js';
import { ConfigError, type ConfigIssue, type EnergyRead, type Readings, type Rig } from '../../rig/index.js';
import { isFull, type Shown } from './vehicle-runs.js';

/** A value that was read, how far it may be off, and what a vehicle would have shown in its place. */
export interface Observed {
  /** as its file has it: totals[0].solar */
  readonly path: string;
  /** as it is compared: days full as the logarithm of their odds, which goes on where all days or none are full */
  readonly value: number;
  /** one standard deviation */
  readonly sd: number;
  readonly of: (shown: Shown) => number;
}

/** Common practice, no source: a counter of charge, a display of volts, and what is counted as a full day, one standard deviation. */
const SOC_SD = 0.05 / Z90;
const VOLTS_SD = 0.06;
const FULL_SHARE_SD = 0.03;
const CUTS_SD = 0.5;
/** With fewer rows of days no thirds are made. */
const MIN_ROWS = 9;

/**
 * What readings say, each against what a vehicle would show. Rows of days are compared by what is left when nobody knows which of the
 * days was dull: means, and those of the lowest and highest third.
 * @param dates that are followed
 */
export function observe(readings: Readings, rig: Rig, dates: readonly string[]): Observed[] {
  const at = (date: string) => daysBetween(dates[0]!, date);
  const observed: Observed[] = [];
  const add = (path: string, value: number, sd: number, of: Observed['of']) => observed.push({ path, value, sd, of });
  readings.totals.forEach(({ from, days, solar, used, full, empty, lowest, trust }, k) => {
    const [first, end] = [at(from), at(from) + days];
    const sum = (pick: (shown: Shown) => Float64Array) => (shown: Shown) => total(pick(shown), first, end);
    const energySd = (wh: number) => Math.max(1, (trust / Z90) * wh);
    if (solar)
      add(
        `totals[${k}].solar`,
        whOf(solar, rig),
        energySd(whOf(solar, rig)),
        sum((shown) => shown.solarWh),
      );
    if (used)
      add(
        `totals[${k}].used`,
        whOf(used, rig),
        energySd(whOf(used, rig)),
        sum((shown) => shown.usedWh),
      );
    if (full !== undefined) {
      const sdDays = Math.max(1, FULL_SHARE_SD * days);
      const odds = (n: number) => Math.log((n + 0.5) / (days - n + 0.5));
      const sd = (odds(Math.min(days, full + sdDays)) - odds(Math.max(0, full - sdDays))) / 2;
      add(`totals[${k}].full`, odds(full), sd, (shown) => odds(count(shown.highest, first, end, isFull)));
    }
    if (empty !== undefined)
      add(
        `totals[${k}].empty`,
        empty,
        Math.max(CUTS_SD, 0.2 * empty),
        sum((shown) => shown.cuts),
      );
    if (lowest !== undefined)
      add(`totals[${k}].lowest`, lowest, SOC_SD, (shown) =>
        shown.lowest.subarray(first, end).reduce((a, b) => Math.min(a, b), 1),
      );
  });
  const rows = <T>(pick: (row: Readings['days'][number]) => T | undefined) =>
    readings.days.flatMap((row) => {
      const value = pick(row);
      return value === undefined ? [] : [{ day: at(row.date), value }];
    });
  const addRows = (
    what: string,
    all: { day: number; value: number }[],
    sdOf: (mean: number) => number,
    pick: (shown: Shown) => Float64Array,
  ) => {
    if (all.length === 0) return;
    const shownAt = (shown: Shown) => all.map(({ day }) => pick(shown)[day]!);
    const values = all.map(({ value }) => value);
    const parts = all.length >= MIN_ROWS ? (['mean', 'lowest third', 'highest third'] as const) : (['mean'] as const);
    for (const part of parts)
      add(`days: ${part} of ${what}`, partMean(values, part), sdOf(partMean(values, part)), (shown) =>
        partMean(shownAt(shown), part),
      );
  };
  const energySd = (wh: number) => Math.max(1, 0.03 * wh);
  addRows(
    'solar',
    rows(({ solar }) => solar && whOf(solar, rig)),
    energySd,
    (shown) => shown.solarWh,
  );
  addRows(
    'lowest',
    rows(({ lowest }) => lowest),
    () => SOC_SD,
    (shown) => shown.lowest,
  );
  addRows(
    'highest',
    rows(({ highest }) => highest),
    () => SOC_SD,
    (shown) => shown.highest,
  );
  readings.moments.forEach(({ date, hour, soc, voltageV }, k) => {
    const step = 24 * at(date) + Math.floor(hour);
    if (soc !== undefined) add(`moments[${k}].soc`, soc, SOC_SD, (shown) => shown.soc[step]!);
    if (voltageV !== undefined)
      add(
        `moments[${k}].volts`,
        voltageV,
        VOLTS_SD * Math.max(1, (rig.battery.nominalV * rig.battery.series) / 12),
        (shown) => shown.batteryV[step]!,
      );
  });
  return observed;
}

/** Nothing gives more than this on a clear day at midsummer on a plane that is turned to the sun [kWh/m²]. */
const MOST_KWH_M2_DAY = 12;

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
  readings.totals.forEach(({ days, solar, used, lowest, full, from }, k) => {
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
    readings.days.forEach((row, d) => {
      if (lowest !== undefined && row.lowest !== undefined && inside(row.date) && row.lowest < lowest - 0.02)
        refuse(
          `days[${d}].lowest`,
          `${Math.round(100 * row.lowest)} % excludes totals[${k}].lowest: ${Math.round(100 * lowest)} % over the same days`,
        );
    });
    readings.moments.forEach(({ date, soc }, m) => {
      if (lowest !== undefined && soc !== undefined && inside(date) && soc < lowest - 0.02)
        refuse(
          `moments[${m}].soc`,
          `${Math.round(100 * soc)} % excludes totals[${k}].lowest: ${Math.round(100 * lowest)} % over the same days`,
        );
    });
    const fullRows = readings.days.filter(
      ({ date, highest }) => highest !== undefined && inside(date) && isFull(highest),
    ).length;
    if (full !== undefined && fullRows > full)
      refuse(`totals[${k}].full`, `full on ${full} days excludes the rows of days, of which ${fullRows} are full`);
  });
  readings.days.forEach(({ solar }, d) => {
    if (solar) tooMuch(`days[${d}].solar`, solar, 1);
  });
  if (readings.totals.length + readings.days.length + readings.moments.length === 0)
    refuse('', 'the file holds no reading', 'add totals, days or moments');
  if (issues.length > 0) throw new ConfigError(issues);
}

export function whOf(read: EnergyRead, { battery }: Rig): number {
  return read.kind === 'energy'
    ? read.wh
    : read.ah * battery.nominalV * battery.series * (battery.chemistry === 'LFP' ? 13.2 / 12 : 12.6 / 12);
}

function total(column: Float64Array, first: number, end: number): number {
  let sum = 0;
  for (let i = first; i < end; i++) sum += column[i]!;
  return sum;
}

function count(column: Float64Array, first: number, end: number, holds: (value: number) => boolean): number {
  let sum = 0;
  for (let i = first; i < end; i++) if (holds(column[i]!)) sum++;
  return sum;
}

function partMean(values: readonly number[], part: 'mean' | 'lowest third' | 'highest third'): number {
  const third = Math.floor(values.length / 3);
  const sorted = part === 'mean' ? values : values.toSorted((a, b) => a - b);
  const taken = part === 'mean' ? sorted : part === 'lowest third' ? sorted.slice(0, third) : sorted.slice(-third);
  return taken.reduce((a, b) => a + b, 0) / taken.length;
}
