/**
 * The hand worksheet of the published handbooks for stand-alone systems: load, days of autonomy, depth of discharge,
 * temperature, design month; array from peak sun hours. One step a function, so that each can be followed on paper.
 * Sources: SAND87-7023, Stand-Alone Photovoltaic Systems: A Handbook of Recommended Design Practices, Sandia National
 * Laboratories, 1995; IEEE 1013 (lead-acid batteries) and IEEE 1562 (array and battery) for the same steps. The method is
 * theirs; the numeric examples in their annexes could not be confirmed, so nothing here is checked against those.
 */

import { type Chemistry, isLead } from '../../rig/index.js';

/** Share of the energy that wires let through in the usual worksheet (SAND87-7023 order; common practice). */
export const WIRE_EFFICIENCY = 0.98;
/** The same of a battery, lead-acid and LFP. */
export const BATTERY_EFFICIENCY = { lead: 0.9, LFP: 0.97 } as const;
/** Dirt, mismatch and heat left out of a module's nameplate; common practice 0.7 to 0.8, no source. */
export const ARRAY_DERATE = 0.75;

/** Load with what is lost on the way to it and in the battery [Ah/day]. */
export function correctedDailyAh(dailyAh: number, wireEfficiency: number, batteryEfficiency: number): number {
  return dailyAh / (wireEfficiency * batteryEfficiency);
}

/**
 * Days of storage, divided by the depth of discharge, times the temperature's multiplier and the design margin. In amp-hours
 * or watt-hours, as the load is given.
 * @param perDay      corrected load of a day
 * @param days        of autonomy
 * @param depth       largest depth of discharge, (0, 1]
 * @param multiplier  >= 1: rated capacity over what the battery gives at its lowest temperature
 * @param designMargin 0.1 to 0.25 in IEEE 1013 (from memory); 0 = none
 */
export function storageFor(perDay: number, days: number, depth: number, multiplier = 1, designMargin = 0): number {
  return ((perDay * days) / depth) * multiplier * (1 + designMargin);
}

/** Cell temperature [°C] and multiplier on the capacity. */
type Multipliers = readonly (readonly [celsius: number, multiplier: number])[];
/**
 * Lead-acid: the widely reprinted sizing worksheet (20, 30 … 80 °F), at moderate rates. −20 °C is the middle of the common range
 * of the capacity, 0.45 to 0.65; −40 °C is drawn on.
 */
const LEAD_MULTIPLIER: Multipliers = [
  [-40, 2.33],
  [-20, 1.82],
  [-6.7, 1.59],
  [-1.1, 1.4],
  [4.4, 1.3],
  [10, 1.19],
  [15.6, 1.11],
  [21.2, 1.04],
  [25, 1],
];
/** LFP: middle of the common ranges at 0 °C (0.80 to 0.92) and −20 °C (0.50 to 0.75), from memory; −40 °C is drawn on. */
const LFP_MULTIPLIER: Multipliers = [
  [-40, 2.56],
  [-20, 1.6],
  [0, 1.16],
  [25, 1],
];

/** Rated capacity over what the sheet counts on at a cell temperature, >= 1: straight between its rows, flat beyond them. */
export function temperatureMultiplier(chemistry: Chemistry, cellC: number): number {
  const rows = isLead(chemistry) ? LEAD_MULTIPLIER : LFP_MULTIPLIER;
  let i = 1;
  while (i < rows.length - 1 && cellC > rows[i]![0]) i++;
  const [[low, colder], [high, warmer]] = [rows[i - 1]!, rows[i]!];
  const t = Math.min(1, Math.max(0, (cellC - low) / (high - low)));
  return colder + t * (warmer - colder);
}

/** Days that a bank lasts: the steps of `storageFor` backwards. */
export function autonomyDays(capacity: number, perDay: number, depth: number, multiplier = 1): number {
  return (capacity * depth) / (perDay * multiplier);
}

/** Current of the array at its best point that brings a day's load back in the sun of a day [A]. */
export function arrayCurrentA(correctedAh: number, peakSunHours: number): number {
  return correctedAh / peakSunHours;
}

/** Modules in parallel, before rounding up, each derated. */
export function modulesFor(arrayA: number, moduleImpA: number, derate: number): number {
  return arrayA / (moduleImpA * derate);
}

/**
 * Nameplate by energy, for a tracking controller [W].
 * @param correctedWh  load of a day with the losses on the way through the battery
 * @param derate       of the array and its controller, (0, 1]
 */
export function arrayW(correctedWh: number, peakSunHours: number, derate: number): number {
  return correctedWh / (peakSunHours * derate);
}

/** Energy of a day: nameplate, peak sun hours, performance ratio [Wh]. */
export function dailyYieldWh(nameplateW: number, peakSunHours: number, performanceRatio: number): number {
  return nameplateW * peakSunHours * performanceRatio;
}

/**
 * Days of storage that the handbook's curves ask for, by the fewest peak sun hours of the year: for loads that matter little
 * (95 % of the time) and for critical ones (99 %). Straight lines fitted to the curves of SAND87-7023.
 * Source: Messenger & Ventre, Photovoltaic Systems Engineering; coefficients from memory.
 * @param peakSunHours 1 to 6, the range of the curves; clamped [h]
 */
export function storageDays(peakSunHours: number, load: 'critical' | 'other'): number {
  const hours = Math.min(6, Math.max(1, peakSunHours));
  return load === 'critical' ? 18.3 - 1.9 * hours : 4.58 - 0.48 * hours;
}

/** Array over load, in amp-hours a day: what IEEE 1562-2007 recommends. From memory. */
export const ARRAY_TO_LOAD = { other: { low: 1.1, high: 1.2 }, critical: { low: 1.3, high: 1.4 } } as const;

/** What the hand worksheet starts from. */
export interface WorksheetInput {
  /** mean load of the design month: what the appliances take, and with an inverter what that takes for them and for itself [Wh/day] */
  readonly dailyWh: number;
  readonly hasInverter?: boolean;
  /** in words: "Dec", or the trip */
  readonly designMonth: string;
  readonly nominalV: number;
  readonly chemistry: Chemistry;
  readonly autonomyDays: number;
  readonly depth: number;
  readonly temperatureC: number;
  readonly temperatureMultiplier: number;
  /** on the plane of the panels, in the design month [h] */
  readonly peakSunHours: number;
  readonly arrayDerate?: number;
}

/** A line of the hand worksheet. */
export interface WorksheetLine {
  readonly what: string;
  readonly value: number;
  readonly unit: string;
  /** how it comes about: "895.6 Wh / 12 V" */
  readonly how: string;
}

/** Sizing as it is done by hand. */
export interface Worksheet {
  readonly dailyAh: number;
  readonly batteryAh: number;
  /** undefined (null in JSON) where the design month has no sun */
  readonly solarW?: number;
  readonly designMonth: string;
  readonly lines: readonly WorksheetLine[];
  readonly remarks: readonly string[];
}

/** The whole sheet, line by line. @throws RangeError for a value that has no meaning in it */
export function worksheet(input: WorksheetInput): Worksheet {
  const {
    dailyWh,
    hasInverter = false,
    designMonth,
    nominalV,
    chemistry,
    depth,
    temperatureC,
    temperatureMultiplier,
    peakSunHours,
  } = input;
  const days = input.autonomyDays;
  const derate = input.arrayDerate ?? ARRAY_DERATE;
  for (const [name, value] of Object.entries({ nominalV, days, depth, temperatureMultiplier, derate }))
    if (!(value > 0 && Number.isFinite(value))) throw new RangeError(`${name} must be above 0, got ${value}`);
  if (!(dailyWh >= 0 && peakSunHours >= 0)) throw new RangeError('load and peak sun hours must be 0 or more');
  const lines: WorksheetLine[] = [];
  const line = (what: string, value: number, unit: string, how: string) => {
    lines.push({ what, value, unit, how });
    return value;
  };
  const batteryEff = BATTERY_EFFICIENCY[isLead(chemistry) ? 'lead' : 'LFP'];
  const n = (value: number, digits = 4) => String(Number(value.toPrecision(digits)));

  line('load of a day', dailyWh, 'Wh', `mean of ${designMonth}${hasInverter ? ', with what the inverter takes' : ''}`);
  const dailyAh = line('in amp-hours', dailyWh / nominalV, 'Ah', `${n(dailyWh)} Wh / ${n(nominalV)} V`);
  const corrected = line(
    'with losses',
    correctedDailyAh(dailyAh, WIRE_EFFICIENCY, batteryEff),
    'Ah',
    `${n(dailyAh)} Ah / (${WIRE_EFFICIENCY} wires x ${batteryEff} battery)`,
  );
  const stored = line('for days without sun', corrected * days, 'Ah', `x ${n(days)} days`);
  const deep = line('within its depth', stored / depth, 'Ah', `/ ${n(depth)} depth of discharge`);
  const batteryAh = line(
    'battery, rated',
    deep * temperatureMultiplier,
    'Ah',
    `x ${n(temperatureMultiplier, 3)} at ${n(temperatureC, 2)} °C`,
  );
  const remarks = [
    ...(peakSunHours >= 1
      ? [
          `the handbook's curve asks for ${storageDays(peakSunHours, 'other').toFixed(1)} days of storage at ${peakSunHours.toFixed(1)} peak sun hours, ${storageDays(peakSunHours, 'critical').toFixed(1)} for a critical load (as fitted by Messenger & Ventre, from memory)`,
        ]
      : []),
    'method of SAND87-7023 and IEEE 1013 / 1562; the numeric examples in their annexes could not be confirmed',
  ];
  if (!(peakSunHours > 0)) return { dailyAh, batteryAh, designMonth, lines, remarks };
  const correctedWh = corrected * nominalV;
  const solarW = line(
    'array, nameplate',
    arrayW(correctedWh, peakSunHours, derate),
    'W',
    `${n(correctedWh)} Wh / (${n(peakSunHours, 3)} peak sun hours x ${n(derate)} left after dirt, heat, mismatch)`,
  );
  const { other, critical } = ARRAY_TO_LOAD;
  line(
    'with array to load',
    solarW * other.low,
    'W',
    `x ${other.low} (to ${other.high}; critical loads ${critical.low} to ${critical.high}), IEEE 1562, from memory`,
  );
  return { dailyAh, batteryAh, solarW, designMonth, lines, remarks };
}
