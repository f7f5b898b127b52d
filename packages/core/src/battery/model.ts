import type { Battery, Chemistry } from '../rig/index.js';
import { CHEMISTRIES, type ChemistryTable, curveAt } from './chemistry.js';
import { capacityAtHoursAh } from './kinetic.js';

/** Points of the tables over state of charge: every half percent, so that all points of the source tables are on it. */
const POINTS = 201;
const HOURS_PER_MONTH = 365.25 * 2;
/** At the end of the 20-hour discharge the voltage has bent down over this last share of the charge. */
const KNEE_SOC = 0.2;

/**
 * The whole bank as tables over a uniform grid of state of charge, 0..1, at 25 °C: series, parallel and health applied.
 * State of charge is 1 − (charge taken)/capacityAh. Between points every table is a straight line.
 */
export interface BatteryModel {
  readonly chemistry: Chemistry;
  readonly points: number;
  /** what is left of the rated capacity; lead-acid at the 20-hour rate [Ah] */
  readonly capacityAh: number;
  /** cells in series */
  readonly cells: number;
  /** rested [V] */
  readonly ocvV: Float64Array;
  /** integral of the open-circuit voltage over the charge, from empty; exact for the piecewise straight curve [Wh] */
  readonly energyWh: Float64Array;
  /** of the terminal voltage while discharging, after minutes of it: ohmic and polarisation [Ω] */
  readonly dischargeOhm: Float64Array;
  /** of the terminal voltage while charging; rises near full so that the acceptance tapers [Ω] */
  readonly chargeOhm: Float64Array;
  /** share of the charging current that is stored */
  readonly chargeEfficiency: Float64Array;
  readonly wells: Wells;
  /** share of the charge held that is lost per hour at 20 °C [1/h] */
  readonly selfDischargePerH: number;
}

/**
 * The two wells. Their sum is soc·capacityAh + reserveAh: the reserve is bound charge that is still there when the
 * 20-hour discharge has ended, so that exactly the rated capacity is given at the 20-hour rate and less above it.
 */
export interface Wells {
  /** share of the available well; 1 = a single well */
  readonly c: number;
  readonly kPerH: number;
  readonly reserveAh: number;
}

/** Cells in series of the bank. LFP is named 12 V by habit where its four cells have 12.8 V. */
export function seriesCells(battery: Pick<Battery, 'chemistry' | 'nominalV' | 'series'>): number {
  const { chemistry, nominalV, series } = battery;
  const { cellV, cellsPer12V } = CHEMISTRIES[chemistry];
  const one = nominalV % 12 === 0 ? (nominalV / 12) * cellsPer12V : Math.round(nominalV / cellV);
  return Math.max(1, one) * series;
}

/**
 * Tables of the whole bank.
 * Assumption: resistance grows as capacity is lost (1/health). `battery.resistanceOhm` stands for the ohmic part.
 * Accuracy: rested voltage of one maker's lead-acid within 0.15 V per 12 V, of LFP within 0.2 V; resistance within a
 * factor of 2. The charging current tapers by `chargeOhm`; a battery at soc 1 stores nothing more (clamp it there, the
 * rest is gas and heat, or for LFP no current at all).
 * @throws RangeError for a capacity, count, series or health out of range or NaN
 */
export function batteryModel(battery: Battery): BatteryModel {
  const { capacityAh: ratedAh, count, series, health } = battery;
  if (!(ratedAh > 0 && Number.isFinite(ratedAh))) throw new RangeError(`capacityAh must be above 0, got ${ratedAh}`);
  if (!(count >= 1 && series >= 1)) throw new RangeError(`count and series start at 1, got ${count} and ${series}`);
  if (!(health > 0 && health <= 1)) throw new RangeError(`health must be above 0 and at most 1, got ${health}`);
  const table = CHEMISTRIES[battery.chemistry];
  const cells = seriesCells(battery);
  const capacityAh = ratedAh * count * health;
  const ocvV = column((soc) => cells * curveAt(table.ocvV, soc));
  const internalOhm = battery.resistanceOhm ?? (cells * table.internalOhmAh) / capacityAh;
  const dischargeOhm = column(dischargeOhmAt(table, cells, capacityAh, internalOhm));
  const full = capacityAtHoursAh(1, 20, table.c, table.kPerH);
  const perMonth = battery.selfDischargePerMonth ?? table.selfDischargePerMonth;
  return {
    chemistry: battery.chemistry,
    points: POINTS,
    capacityAh,
    cells,
    ocvV,
    energyWh: energyColumn(ocvV, capacityAh),
    dischargeOhm,
    chargeOhm: column((soc) => {
      const base = straightOhm(table, cells, capacityAh, internalOhm, soc) * table.chargeFactor;
      const acceptedA = capacityAh * (table.acceptancePerH * (1 - soc) + table.acceptanceFullC);
      return Math.max(base, (cells * (table.acceptanceV - curveAt(table.ocvV, soc))) / acceptedA);
    }),
    chargeEfficiency: column((soc) => curveAt(table.chargeEfficiency, soc)),
    wells: { c: table.c, kPerH: table.kPerH, reserveAh: table.c < 1 ? capacityAh * (1 / full - 1) : 0 },
    selfDischargePerH: -Math.log1p(-perMonth) / HOURS_PER_MONTH,
  };
}

/** Rested voltage of the bank at a state of charge, clamped to 0..1 [V]. */
export function ocvAt(model: BatteryModel, soc: number): number {
  return tableAt(model.ocvV, soc);
}

/**
 * Energy stored above empty: the integral of the open-circuit voltage over the charge [Wh]. Exact between points
 * too, where it is a parabola. `soc` is clamped to 0..1.
 */
export function storedWh(model: BatteryModel, soc: number): number {
  const { ocvV, energyWh, points, capacityAh } = model;
  const x = Math.min(1, Math.max(0, soc)) * (points - 1);
  const i = Math.min(points - 2, Math.floor(x));
  const t = x - i;
  const v0 = ocvV[i]!;
  return energyWh[i]! + ((capacityAh * t) / (points - 1)) * (v0 + 0.5 * t * (ocvV[i + 1]! - v0));
}

/** Any of the model's columns at a state of charge, clamped to 0..1: straight between points. */
export function tableAt(table: Float64Array, soc: number): number {
  const last = table.length - 1;
  const x = Math.min(1, Math.max(0, soc)) * last;
  const i = Math.min(last - 1, Math.floor(x));
  const v0 = table[i]!;
  return v0 + (x - i) * (table[i + 1]! - v0);
}

function column(value: (soc: number) => number): Float64Array {
  return Float64Array.from({ length: POINTS }, (_, i) => value(i / (POINTS - 1)));
}

function energyColumn(ocvV: Float64Array, capacityAh: number): Float64Array {
  const energyWh = new Float64Array(POINTS);
  const stepAh = capacityAh / (POINTS - 1);
  for (let i = 1; i < POINTS; i++) energyWh[i] = energyWh[i - 1]! + 0.5 * stepAh * (ocvV[i - 1]! + ocvV[i]!);
  return energyWh;
}

/** Ohmic and polarisation, without the knee at the end of a discharge [Ω]. */
function straightOhm(table: ChemistryTable, cells: number, capacityAh: number, internalOhm: number, soc: number) {
  return internalOhm * curveAt(table.internalShape, soc) + (cells * table.polarisationOhmAh) / capacityAh;
}

/** With the knee: at the 20-hour current the terminals reach the end voltage of the rating just when empty. */
function dischargeOhmAt(table: ChemistryTable, cells: number, capacityAh: number, internalOhm: number) {
  const { end20hV } = table;
  const straight = (soc: number) => straightOhm(table, cells, capacityAh, internalOhm, soc);
  if (end20hV === undefined) return straight;
  const emptyOhm = (cells * (curveAt(table.ocvV, 0) - end20hV)) / (capacityAh / 20);
  const kneeOhm = Math.max(0, emptyOhm - straight(0));
  return (soc: number) => straight(soc) + kneeOhm * (soc < KNEE_SOC ? (1 - soc / KNEE_SOC) ** 2 : 0);
}
