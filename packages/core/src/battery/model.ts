import { type Battery, type Chemistry, isLead } from '../rig/index.js';
import { CHEMISTRIES, type ChemistryTable, curveAt } from './chemistry.js';
import { capacityAtHoursAh } from './kinetic.js';

/** Points of the tables over state of charge: every half percent, so that all points of the source tables are on it. */
const POINTS = 201;
/** From one point of the tables to the next. */
const STEP_SOC = 1 / (POINTS - 1);
const HOURS_PER_MONTH = 365.25 * 2;
/** As the available well runs out, the voltage of a discharge bends down over this last share of it. */
export const KNEE_SHARE = 0.2;

/**
 * The whole bank as tables over a uniform grid of state of charge, 0..1, at 25 °C: series, parallel and health applied.
 * State of charge is 1 − (charge taken)/capacityAh. Between points every table is a straight line; below 0, where slow
 * discharges end, the first one goes on.
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
  /** lowest voltage under load: the management system cuts off, or the battery counts as empty [V] */
  readonly lowestV: number;
  /** by what the terminal voltage has bent down when the available well runs out, at `kneeA` or more: see `dischargeSagV` [V] */
  readonly kneeV: number;
  readonly kneeA: number;
  /**
   * Of the terminal voltage while charging, which lies above the rested one by the lesser of I·chargeSteepOhm and
   * chargeBendV + I·chargeOhm [Ω], [V], [Ω]. The latter is `acceptanceOhm`, or what the cells resist where that is more; it rises near
   * full, so that the current tapers.
   */
  readonly chargeSteepOhm: Float64Array;
  readonly chargeBendV: Float64Array;
  readonly chargeOhm: Float64Array;
  readonly acceptanceOhm: Float64Array;
  /** at a constant voltage the current falls by this share an hour, as what it leaves behind changes the cells [1/h] */
  readonly taperPerH: Float64Array;
  /** share of the charging current that is stored; of a full battery nothing is, whatever stands here */
  readonly chargeEfficiency: Float64Array;
  readonly wells: Wells;
  /** where there is no charge left: lead-acid that is drawn slowly gives more than its rating, LFP ends where its voltage does */
  readonly emptySoc: number;
  /** share of the charge held that is lost per hour at 20 °C [1/h] */
  readonly selfDischargePerH: number;
}

/**
 * The two wells at 25 °C. Their sum is soc·capacityAh + reserveAh: the reserve is bound charge that is still there when the
 * discharge has ended that the capacity is rated for, so that exactly the rated capacity is given at that rate, less above
 * it and more below.
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
 * Accuracy: rested voltage of one maker's lead-acid within 0.15 V per 12 V, of LFP within 0.12 V; resistance within a
 * factor of 2.
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
  const straightOhm = (soc: number) =>
    internalOhm * curveAt(table.internalShape, soc) + (cells * table.polarisationOhmAh) / capacityAh;
  const dischargeOhm = column(straightOhm);
  const lowestV = cells * table.lowestV;
  const kneeA = capacityAh / table.ratedH;
  // The discharge that the capacity is rated for ends at the lowest voltage just when the available well is empty.
  const kneeV = Math.max(0, ocvV[0]! - kneeA * dischargeOhm[0]! - lowestV);
  const reserveAh = capacityAh * (1 / capacityAtHoursAh(1, table.ratedH, table.c, table.kPerH) - 1);
  const perMonth = battery.selfDischargePerMonth ?? table.selfDischargePerMonth;
  return {
    chemistry: battery.chemistry,
    points: POINTS,
    capacityAh,
    cells,
    ocvV,
    energyWh: energyColumn(ocvV, capacityAh),
    dischargeOhm,
    lowestV,
    kneeV,
    kneeA,
    ...chargeColumns(table, cells, capacityAh, straightOhm),
    chargeEfficiency: column((soc) => curveAt(table.chargeEfficiency, soc)),
    wells: { c: table.c, kPerH: table.kPerH, reserveAh },
    emptySoc: isLead(battery.chemistry) ? -reserveAh / capacityAh : 0,
    selfDischargePerH: -Math.log1p(-perMonth) / HOURS_PER_MONTH,
  };
}

/** Rested voltage of the bank at a state of charge, clamped to 0..1 [V]. */
export function ocvAt(model: BatteryModel, soc: number): number {
  return tableAt(model.ocvV, soc);
}

/**
 * By what the terminal voltage of a discharge lies lower as the available well runs out, with wells that had time to even
 * out: a parabola over its last fifth, in proportion to the current up to the one that the capacity is rated for, and no more
 * than at that beyond.
 * @param amps drawn, >= 0 [A]
 * @returns [V]
 */
export function dischargeSagV({ capacityAh, wells, kneeV, kneeA }: BatteryModel, soc: number, amps: number): number {
  const filled = (soc * capacityAh + wells.reserveAh) / (capacityAh + wells.reserveAh);
  const bend = Math.max(0, 1 - filled / KNEE_SHARE);
  return kneeV * bend * bend * Math.min(1, amps / kneeA);
}

/**
 * Current that the bank takes when it is held at a voltage.
 * @param factor of the cells' temperature, see `chargeFactor`; 1 = 25 °C
 * @returns >= 0 [A]
 */
export function acceptedA(model: BatteryModel, soc: number, volts: number, factor = 1): number {
  const aboveV = volts - ocvAt(model, soc);
  const steepA = aboveV / tableAt(model.chargeSteepOhm, soc);
  const beyondA = (aboveV - tableAt(model.chargeBendV, soc)) / tableAt(model.chargeOhm, soc);
  return Math.max(0, steepA, beyondA) / factor;
}

/**
 * Energy stored above empty: the integral of the open-circuit voltage over the charge [Wh]. Exact between points
 * too, where it is a parabola. `soc` is at most 1; below 0 it goes on, and less is stored than nothing.
 */
export function storedWh(model: BatteryModel, soc: number): number {
  const { ocvV, energyWh, points, capacityAh } = model;
  const x = Math.min(1, soc) * (points - 1);
  const i = Math.max(0, Math.min(points - 2, Math.floor(x)));
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

/** What the acceptance of the cells makes of the bank's voltage while it is charged. */
function chargeColumns(
  { acceptance, acceptanceV, acceptanceBend, chargeFactor, chargeEfficiency, ocvV }: ChemistryTable,
  cells: number,
  capacityAh: number,
  straightOhm: (soc: number) => number,
) {
  const aboveV = (soc: number) => cells * (acceptanceV - curveAt(ocvV, soc));
  const takenA = (soc: number) => capacityAh * curveAt(acceptance, soc);
  const { share, current } = acceptanceBend ?? { share: 0, current: 1 };
  const acceptanceOhm = column((soc) => ((1 - share) * aboveV(soc)) / takenA(soc));
  const chargeOhm = acceptanceOhm.map((ohm, n) => Math.max(ohm, chargeFactor * straightOhm(n * STEP_SOC)));
  const chargeBendV = column((soc) => share * aboveV(soc));
  const fallC = (soc: number) => (curveAt(acceptance, soc) - curveAt(acceptance, soc + STEP_SOC)) / STEP_SOC;
  return {
    // the two lines meet at that share of the acceptance
    chargeSteepOhm: column(
      (soc) => chargeOhm[Math.round(soc * (POINTS - 1))]! + (share * aboveV(soc)) / (current * takenA(soc)),
    ),
    chargeBendV,
    chargeOhm,
    acceptanceOhm,
    taperPerH: column((soc) => curveAt(chargeEfficiency, soc) * fallC(Math.min(soc, 1 - STEP_SOC))),
  };
}
