import type { Chemistry } from '../rig/index.js';

/** A curve by straight lines between its points; `at` ascends. Mostly over state of charge, 0 to 1. */
export interface Curve {
  readonly at: readonly number[];
  readonly value: readonly number[];
}

/** What sets one chemistry apart. Voltages and resistances are per cell, at 25 °C. */
export interface ChemistryTable {
  /** nominal of one cell [V] */
  readonly cellV: number;
  /** cells of a battery that is called 12 V, whatever they add up to */
  readonly cellsPer12V: number;
  /** rested open-circuit voltage of one cell [V] */
  readonly ocvV: Curve;
  /** internal (ohmic) resistance of one cell times its capacity, half charged [Ω·Ah] */
  readonly internalOhmAh: number;
  /** that resistance against its value at half charge */
  readonly internalShape: Curve;
  /** further fall of the voltage that builds up within minutes (polarisation): same unit, either direction [Ω·Ah] */
  readonly polarisationOhmAh: number;
  /** charging against discharging: how much steeper the voltage moves far from full */
  readonly chargeFactor: number;
  /** cell voltage that the discharge at the 20-hour rate ends at; absent where the open-circuit curve has the knee [V] */
  readonly end20hV?: number;
  /** absorption voltage of a cell for which the acceptance below is stated [V] */
  readonly acceptanceV: number;
  /** acceptance there: A per Ah still missing [1/h] … */
  readonly acceptancePerH: number;
  /** … plus what is taken when full [A per Ah] */
  readonly acceptanceFullC: number;
  /** share of the charge that is stored, by state of charge */
  readonly chargeEfficiency: Curve;
  /** two wells: share of the available one and rate [1/h]; c = 1 is a single well */
  readonly c: number;
  readonly kPerH: number;
  /** of the charge held, at 20 °C, per month */
  readonly selfDischargePerMonth: number;
  /** activation energy of the resistance [J/mol] */
  readonly resistanceJPerMol: number;
  /** share of the capacity that can be had, by cell temperature [°C]; 1 from 25 °C up */
  readonly capacity: Curve;
  /** most that its makers let it be charged with, A per Ah */
  readonly maxChargeC: number;
  /** what of that is left below 5 and 10 °C, and where charging stops; absent = any temperature will do */
  readonly chargeByHeat?: { readonly upTo5C: number; readonly upTo10C: number; readonly hotC: number };
}

/**
 * Specific gravity of the electrolyte of a flooded deep-cycle battery at 27 °C, by state of charge (1.277 when full).
 * The rested voltage of a cell is specific gravity + 0.845 V.
 * Source: common-practice table, from memory; 0 % is the last two rows drawn on. Makers differ by 0.05 V per 12 V.
 */
export const FLOODED_GRAVITY: Curve = {
  at: [0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1],
  value: [1.048, 1.073, 1.098, 1.124, 1.148, 1.172, 1.195, 1.217, 1.238, 1.258, 1.277],
};

/**
 * Usable share of a lead-acid battery's capacity by temperature: the inverse of the multipliers of the widely
 * reprinted sizing worksheet (80, 70 … 20 °F: 1.00, 1.04, 1.11, 1.19, 1.30, 1.40, 1.59), at moderate rates; 1 at the
 * rating temperature of 25 °C. −20 °C is the middle of the common range 0.45 to 0.65; −40 °C is drawn on.
 */
const LEAD_CAPACITY: Curve = {
  at: [-40, -20, -6.7, -1.1, 4.4, 10, 15.6, 21.2, 25],
  value: [0.43, 0.55, 1 / 1.59, 1 / 1.4, 1 / 1.3, 1 / 1.19, 1 / 1.11, 1 / 1.04, 1],
};
/** LFP: middle of the common ranges at 0 °C (0.80 to 0.92) and −20 °C (0.50 to 0.75), from memory; −40 °C is drawn on. */
const LFP_CAPACITY: Curve = { at: [-40, -20, 0, 25], value: [0.39, 0.625, 0.86, 1] };

const perCell = (cells: number, curve: Curve): Curve => ({
  at: curve.at,
  value: curve.value.map((v) => v / cells),
});

/** Lead-acid resistance roughly doubles from full to empty; common practice, from memory. */
const LEAD_SHAPE: Curve = { at: [0, 0.5, 1], value: [1.5, 1, 0.75] };
const LEAD = {
  cellV: 2,
  cellsPer12V: 6,
  internalShape: LEAD_SHAPE,
  // 8 mΩ for 100 Ah at 12 V, so that a battery at the 5-hour rate stands 0.2 to 0.5 V below its rested voltage; common practice, no source.
  polarisationOhmAh: 0.8 / 6,
  chargeFactor: 1,
  // The end of the 20-hour rating: 1.75 V a cell (10.5 V), IEC 61056 and IEC 60254, from memory.
  end20hV: 1.75,
  // Absorption at the classical 2.40 V a cell; acceptance in A is roughly the Ah still missing.
  // Mass, Proc. 2nd Int. Electric Vehicle Symposium, 1971: I = I0·exp(−a·t), with a of about 1/h; from memory.
  acceptanceV: 2.4,
  acceptancePerH: 1,
  acceptanceFullC: 0.005,
  resistanceJPerMol: 10_000,
  capacity: LEAD_CAPACITY,
} as const;

/**
 * Charge efficiency of sealed lead-acid, which recombines its gas: 1.05 to 1.15 times what was taken must be put back.
 * Common practice, from memory.
 */
const SEALED_EFFICIENCY: Curve = { at: [0, 0.7, 0.8, 0.9, 1], value: [0.97, 0.97, 0.93, 0.85, 0.6] };

/**
 * The chemistries. Sources, all from memory and none re-read unless said otherwise:
 * - open circuit: common-practice tables, rested, 25 °C (flooded 27 °C). AGM and gel makers differ by 0.1 to 0.2 V per
 *   12 V. LFP is the curve rested after discharge, a few tens of millivolts per 12 V below the one after charge.
 * - resistance: middle of the common range for 100 Ah at 12 V: flooded 5 to 10 mΩ, AGM 2.5 to 5 mΩ, LFP with its
 *   management system 2 to 10 mΩ; gel taken as a little above AGM.
 * - flooded charge efficiency: Stevens & Corey, 25th IEEE Photovoltaic Specialists Conference, 1996: 0.91 from 0 to
 *   84 % (as charge out per charge in), 0.55 from 79 to 84 %, below 0.5 above 90 %.
 * - c and k: least squares on the capacities at 1, 2, 5, 10 and 20 h that Peukert's law gives with the exponent
 *   named beside them; worst 2.3 % off (flooded, 2 h). Exponents: middle of the handbook range (Linden & Reddy), for
 *   flooded the lower part of 1.2 to 1.4, as the upper is for starter batteries.
 * - self-discharge: middle of the common range.
 */
export const CHEMISTRIES: Readonly<Record<Chemistry, ChemistryTable>> = {
  flooded: {
    ...LEAD,
    ocvV: { at: FLOODED_GRAVITY.at, value: FLOODED_GRAVITY.value.map((sg) => sg + 0.845) },
    internalOhmAh: 0.75 / 6,
    chargeEfficiency: { at: [0, 0.65, 0.79, 0.84, 0.9, 1], value: [0.98, 0.98, 0.6, 0.53, 0.49, 0.45] },
    c: 0.435, // exponent 1.25
    kPerH: 0.449,
    selfDischargePerMonth: 0.05,
    maxChargeC: 0.25,
  },
  AGM: {
    ...LEAD,
    ocvV: perCell(6, { at: [0, 0.25, 0.5, 0.75, 1], value: [11.7, 12, 12.25, 12.55, 12.85] }),
    internalOhmAh: 0.375 / 6,
    chargeEfficiency: SEALED_EFFICIENCY,
    c: 0.685, // exponent 1.10
    kPerH: 0.383,
    selfDischargePerMonth: 0.02,
    maxChargeC: 0.4,
  },
  gel: {
    ...LEAD,
    ocvV: perCell(6, { at: [0, 0.25, 0.5, 0.75, 1], value: [11.8, 12, 12.35, 12.65, 12.85] }),
    internalOhmAh: 0.5 / 6,
    chargeEfficiency: SEALED_EFFICIENCY,
    c: 0.54, // exponent 1.175
    kPerH: 0.415,
    selfDischargePerMonth: 0.02,
    maxChargeC: 0.25,
  },
  LFP: {
    cellV: 3.2,
    cellsPer12V: 4,
    ocvV: perCell(4, {
      at: [0, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1],
      value: [10, 12.5, 12.8, 12.9, 13, 13.1, 13.13, 13.15, 13.25, 13.3, 13.35, 13.6],
    }),
    internalOhmAh: 0.6 / 4,
    internalShape: { at: [0, 0.1, 0.2, 1], value: [1.5, 1.15, 1, 1] },
    polarisationOhmAh: 0,
    // The curve after charge lies 30 to 60 mV per 12 V above the one after discharge: half of the resistance again at
    // the 5-hour rate.
    chargeFactor: 1.5,
    // Full current until the high 90s; ends at 3 to 5 % of the capacity. Common practice, from memory.
    acceptanceV: 3.55,
    acceptancePerH: 10,
    acceptanceFullC: 0.005,
    chargeEfficiency: { at: [0, 1], value: [0.995, 0.995] },
    c: 1,
    kPerH: 1,
    selfDischargePerMonth: 0.02,
    resistanceJPerMol: 20_000,
    capacity: LFP_CAPACITY,
    maxChargeC: 1,
    // 0.1 C from 0 to 5 °C, the middle of 0.2 to 0.3 C up to 10 °C, none above the middle of 45 to 55 °C.
    chargeByHeat: { upTo5C: 0.1, upTo10C: 0.25, hotC: 50 },
  },
};

/** Value of a curve; flat beyond its ends. */
export function curveAt(curve: Curve, x: number): number {
  const { at, value } = curve;
  let i = 1;
  while (i < at.length - 1 && x > at[i]!) i++;
  const x0 = at[i - 1]!;
  const t = Math.min(1, Math.max(0, (x - x0) / (at[i]! - x0)));
  return value[i - 1]! + t * (value[i]! - value[i - 1]!);
}
