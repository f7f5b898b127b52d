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
  /**
   * Lowest voltage of a cell under load: there its management system cuts it off, or it counts as empty. The 20-hour
   * discharge of lead-acid ends at it [V]
   */
  readonly lowestV: number;
  /** charging voltage of a cell at which the acceptance below is stated [V] … */
  readonly acceptanceV: number;
  /** … A per Ah that a cell takes there, by state of charge [1/h] */
  readonly acceptance: Curve;
  /** how the current falls with the voltage below that; absent = in proportion to what lies above the rested voltage */
  readonly acceptanceBend?: AcceptanceBend;
  /** share of the charge that is stored, by state of charge */
  readonly chargeEfficiency: Curve;
  /** two wells at 25 °C: share of the available one, and rate [1/h] */
  readonly c: number;
  readonly kPerH: number;
  /** hours of the discharge that the rated capacity is stated for */
  readonly ratedH: number;
  /** of the charge held, at 20 °C, per month */
  readonly selfDischargePerMonth: number;
  readonly cold: ColdTable;
  /** most that its makers let it be charged with, A per Ah */
  readonly maxChargeC: number;
  /** what of that is left below 5 and 10 °C, and where charging stops; absent = any temperature will do */
  readonly chargeByHeat?: { readonly upTo5C: number; readonly upTo10C: number; readonly hotC: number };
}

/**
 * Of lead-acid held at a voltage V between the rested one U and the acceptance voltage A, the current falls faster than
 * V − U (Tafel's law, here two straight lines): down to `current` of the acceptance in proportion to V − U − share·(A − U),
 * and from there to nothing at U.
 */
export interface AcceptanceBend {
  readonly share: number;
  readonly current: number;
}

/** What the temperature of the cells does. Activation energies are those of a resistance, which falls as it warms. */
export interface ColdTable {
  /** of the resistance while discharging, from `coldC` up and below it [J/mol] */
  readonly jPerMol: number;
  readonly coldJPerMol: number;
  readonly coldC: number;
  /** of the charging voltage above the rested one; absent = as the resistance [J/mol] */
  readonly chargeJPerMol?: number;
  /** of the flow between the wells; absent = as the resistance [J/mol] */
  readonly flowJPerMol?: number;
  /** of the available well at 25 °C, lost for each kelvin below that, and gained above it up to 40 °C */
  readonly sharePerK: number;
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

const perCell = (cells: number, curve: Curve): Curve => ({
  at: curve.at,
  value: curve.value.map((v) => v / cells),
});

/** Lead-acid resistance roughly doubles from full to empty; common practice, from memory. */
const LEAD_SHAPE: Curve = { at: [0, 0.5, 1], value: [1.5, 1, 0.75] };
const LEAD_COLD: ColdTable = {
  jPerMol: 10_000,
  coldJPerMol: 10_000,
  coldC: 25,
  chargeJPerMol: 30_000,
  sharePerK: 0.009,
};
/**
 * So that the 20-hour capacity falls by the 0.6 % per kelvin that a maker's VRLA manual and IEC 60896-21 state, and that of 1 to 3 h by
 * their 1 % (measured in runs: 0.86 and 0.75 at 0 °C).
 */
const SEALED_COLD: ColdTable = { ...LEAD_COLD, flowJPerMol: 6000 };
const LEAD = {
  cellV: 2,
  cellsPer12V: 6,
  internalShape: LEAD_SHAPE,
  // 8 mΩ for 100 Ah at 12 V, so that a battery at the 5-hour rate stands 0.2 to 0.5 V below its rested voltage; common practice, no source.
  polarisationOhmAh: 0.8 / 6,
  chargeFactor: 1,
  // The end of the 20-hour rating: 1.75 V a cell (10.5 V), IEC 61056 and IEC 60254, from memory.
  lowestV: 1.75,
  // Absorption at the classical 2.40 V a cell.
  acceptanceV: 2.4,
  // Held at the float voltage of 2.25 V it takes a tenth of that, so that it is full only after a day or more (a maker's VRLA
  // manual: more than 24 h), and at 13.9 V in place of 14.4 absorption takes two to three times as long (common practice).
  acceptanceBend: { share: 0.35, current: 0.1 },
  ratedH: 20,
  // The acid conducts and lets its ions wander 1.5 % better for each kelvin. With what gives at once that makes the capacities of
  // IEEE 485 for 1 to 8 h (flooded: 0.71 at 0 °C, 0.48 at −20 °C). Acceptance at 14.4 V against 25 °C: 0.33 at 0 °C, 0.12 at −20 °C
  // (common practice 0.3 to 0.5 and 0.05 to 0.15).
  cold: LEAD_COLD,
} as const;

/**
 * Charge efficiency of sealed lead-acid, which recombines its gas: 1.05 to 1.15 times what was taken must be put back.
 * Common practice, from memory.
 */
const SEALED_EFFICIENCY: Curve = { at: [0, 0.7, 0.8, 0.9, 1], value: [0.97, 0.97, 0.93, 0.85, 0.6] };

/**
 * The chemistries. Sources, all from memory and none re-read unless said otherwise:
 * - open circuit: common-practice tables, rested, 25 °C (flooded 27 °C). AGM and gel makers differ by 0.1 to 0.2 V per
 *   12 V. LFP is the curve rested after discharge, a few tens of millivolts per 12 V below the one after charge. Rounded to 0.05 V per
 *   12 V, as cells differ by 0.15 V: a faded one lies up to 0.1 V lower, a new one as much higher (tests/published).
 * - resistance: middle of the common range for 100 Ah at 12 V: flooded 5 to 10 mΩ, AGM 2.5 to 5 mΩ, LFP with its
 *   management system 2 to 10 mΩ; gel taken as a little above AGM.
 * - acceptance: in A roughly the Ah still missing, Mass, Proc. 2nd Int. Electric Vehicle Symposium, 1971: I = I0·exp(−a·t),
 *   with a of about 1/h. AGM from a marine electrician's published bench test of a battery of 105 Ah (rated; 95.7 Ah measured),
 *   which met 14.4 V at 77 % with 21 A and at 63 % with 42 A, and whose current then fell by 0.88/h.
 * - flooded charge efficiency: Stevens & Corey, 25th IEEE Photovoltaic Specialists Conference, 1996: 0.91 from 0 to
 *   84 % (as charge out per charge in), 0.55 from 79 to 84 %, below 0.5 above 90 %.
 * - c and k: by the capacities at 1, 2, 3, 5, 10 and 20 h that Peukert's law gives with the exponent named beside them, down to
 *   the lowest voltage; worst 2 % off (flooded, 1 and 10 h). Exponents: middle of the handbook range (Linden & Reddy), for
 *   flooded the lower part of 1.2 to 1.4, as the upper is for starter batteries. LFP: so that a tenth is left at 0.5 C and 0 °C
 *   and a quarter at −20 °C, the middle of the common ranges (0.85 to 0.95, 0.5 to 0.78), and hardly anything at C/30.
 * - self-discharge: middle of the common range.
 */
export const CHEMISTRIES: Readonly<Record<Chemistry, ChemistryTable>> = {
  flooded: {
    ...LEAD,
    ocvV: { at: FLOODED_GRAVITY.at, value: FLOODED_GRAVITY.value.map((sg) => sg + 0.845) },
    internalOhmAh: 0.75 / 6,
    acceptance: { at: [0, 1], value: [1.005, 0.005] },
    chargeEfficiency: { at: [0, 0.65, 0.79, 0.84, 0.9, 1], value: [0.98, 0.98, 0.6, 0.53, 0.49, 0.45] },
    c: 0.45, // exponent 1.25
    kPerH: 0.39,
    selfDischargePerMonth: 0.05,
    maxChargeC: 0.25,
  },
  AGM: {
    ...LEAD,
    ocvV: perCell(6, { at: [0, 0.25, 0.5, 0.75, 1], value: [11.7, 12, 12.25, 12.55, 12.85] }),
    internalOhmAh: 0.375 / 6,
    acceptance: { at: [0, 0.633, 0.774, 0.9, 1], value: [1.2, 0.45, 0.245, 0.125, 0.003] },
    chargeEfficiency: SEALED_EFFICIENCY,
    c: 0.725, // exponent 1.10
    kPerH: 0.2,
    cold: SEALED_COLD,
    selfDischargePerMonth: 0.02,
    maxChargeC: 0.4,
  },
  gel: {
    ...LEAD,
    ocvV: perCell(6, { at: [0, 0.25, 0.5, 0.75, 1], value: [11.8, 12, 12.35, 12.65, 12.85] }),
    internalOhmAh: 0.5 / 6,
    acceptance: { at: [0, 0.8, 0.9, 1], value: [0.8, 0.2, 0.11, 0.0045] },
    chargeEfficiency: SEALED_EFFICIENCY,
    c: 0.57, // exponent 1.175
    kPerH: 0.32,
    cold: SEALED_COLD,
    selfDischargePerMonth: 0.02,
    maxChargeC: 0.25,
  },
  LFP: {
    cellV: 3.2,
    cellsPer12V: 4,
    ocvV: perCell(4, {
      at: [0, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1],
      value: [10, 12.3, 12.7, 12.85, 12.95, 13.05, 13.1, 13.12, 13.15, 13.25, 13.3, 13.5],
    }),
    internalOhmAh: 0.48 / 4,
    internalShape: { at: [0, 0.1, 0.2, 0.5, 1], value: [1.8, 1.3, 1.15, 1, 0.9] },
    polarisationOhmAh: 0,
    // The curve after charge lies 30 to 60 mV per 12 V above the one after discharge: half of the resistance again at
    // the 5-hour rate.
    chargeFactor: 1.5,
    // Management systems cut off at 2.5 to 2.8 V, cells are rated down to 2.5 V. Common practice, from memory.
    lowestV: 2.5,
    // Full current until the high 90s; ends at 3 to 5 % of the capacity, and full it takes next to nothing. Common practice, from memory.
    acceptanceV: 3.55,
    acceptance: { at: [0, 1], value: [10.002, 0.002] },
    chargeEfficiency: { at: [0, 1], value: [0.995, 0.995] },
    c: 0.5,
    kPerH: 14,
    ratedH: 5,
    selfDischargePerMonth: 0.02,
    // Cells double their resistance every 10 K below freezing and change it less above: two lines of about 40 and 15 to 25 kJ/mol
    // through open measurements of two cells.
    cold: { jPerMol: 20_000, coldJPerMol: 37_000, coldC: 5, sharePerK: 0 },
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
