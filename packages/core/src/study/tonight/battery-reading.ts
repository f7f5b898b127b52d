import { type BatteryModel, chargeFactor, resistanceFactor, tableAt } from '../../battery/index.js';
import { normalQuantile, Z90 } from '../../math/index.js';
import { ConfigError, isLead } from '../../rig/index.js';

/**
 * What the owner reads off the battery: a state of charge, or volts at its terminals with the current (0 = rested), positive
 * while charging.
 */
export type BatteryReading =
  | { readonly kind: 'soc'; readonly soc: number }
  | { readonly kind: 'voltage'; readonly voltageV: number; readonly currentA: number };

/** A counter of ampere hours is off by so much of the capacity, 9 times in 10. Common practice, no source. */
const COUNTER_OFF = 0.05;
/** Last digit and accuracy of a display of volts, one standard deviation [V]. Common practice, no source. */
const METER_V = 0.02;
/**
 * How far the rested voltage of a battery may be from its chemistry's table, one standard deviation [V per 12 V]. Flooded: makers
 * differ by 0.05 V; AGM and gel by 0.1 to 0.2 V, of which the middle is taken (see `FLOODED_GRAVITY` and `CHEMISTRIES`); LFP 0.07 V.
 */
const MAKER_V = { flooded: 0.03, AGM: 0.045, gel: 0.045, LFP: 0.04 } as const;
/**
 * An LFP cell rested after charging stands so much above one rested after discharge, and nobody knows which it is [V].
 * Source: 33.2 mV at half charge and C/30, 23 to 58 mV elsewhere, of one 26650 cell in the test data published with Plett, Battery Management
 * Systems I, Artech House 2015; 2 to 5 mV of it are resistance.
 */
const LFP_HYSTERESIS_V = 0.033;
/** Resistance is known within a factor of two, 9 times in 10: see `batteryModel`. */
const OHM_SPREAD = Math.log(2) / Z90;

const GRID = 400;
/** Middles of five equal parts of what is drawn beside the charge. */
const PARTS = [0.1, 0.3, 0.5, 0.7, 0.9];

/**
 * What a reading leaves of the state of charge: the value below which a share of all that explains it lies. By volts: every charge
 * as likely before, weighed by how well it explains the reading with meter, maker, resistance and, of LFP, hysteresis unknown
 * (Bayes' rule on a grid).
 * @param cellC of the cells now [°C]
 * @returns state of charge by share, 0..1
 * @throws ConfigError for volts that such a battery never has
 */
export function chargeAfter(model: BatteryModel, reading: BatteryReading, cellC: number): (share: number) => number {
  if (reading.kind === 'soc') {
    const sd = COUNTER_OFF / Z90;
    return (share) => Math.min(1, Math.max(0, reading.soc + sd * normalQuantile(share)));
  }
  const { voltageV, currentA } = reading;
  const { chemistry, cells } = model;
  const in12V = cells / (isLead(chemistry) ? 6 : 4);
  refuseImpossible(model, voltageV, in12V);
  const sd = Math.hypot(METER_V, MAKER_V[chemistry] * in12V);
  const hysteresisV = chemistry === 'LFP' ? LFP_HYSTERESIS_V * cells : 0;
  const outFactor = resistanceFactor(chemistry, cellC);
  const inFactor = chargeFactor(chemistry, cellC);
  const above = new Float64Array(GRID + 1);
  let sum = 0;
  for (let i = 0; i <= GRID; i++) {
    const soc = i / GRID;
    const restedV = tableAt(model.ocvV, soc);
    const dropV =
      currentA <= 0
        ? currentA * outFactor * tableAt(model.dischargeOhm, soc)
        : chargeRiseV(model, soc, currentA, inFactor);
    let likely = 0;
    for (const part of PARTS) {
      const ohm = Math.exp(OHM_SPREAD * normalQuantile(part));
      for (const branch of hysteresisV > 0 ? PARTS : [0]) {
        const z = (voltageV - restedV - branch * hysteresisV - ohm * dropV) / sd;
        likely += Math.exp(-0.5 * z * z);
      }
    }
    sum += likely * (i === 0 || i === GRID ? 0.5 : 1);
    above[i] = sum;
  }
  // Beyond what any charge explains, it is as full, or as empty, as can be.
  if (!(sum > 1e-200)) {
    const end = voltageV > tableAt(model.ocvV, 0.5) ? 1 : 0;
    return () => end;
  }
  return (share) => {
    const wanted = share * sum;
    let i = 0;
    while (i < GRID && above[i]! < wanted) i++;
    if (i === 0) return 0;
    const before = above[i - 1]!;
    return (i - 1 + Math.min(1, (wanted - before) / Math.max(1e-300, above[i]! - before))) / GRID;
  };
}

/** By what the terminals stand above the rested voltage while charging [V]. */
function chargeRiseV(model: BatteryModel, soc: number, amps: number, factor: number): number {
  const a = amps * factor;
  return Math.min(
    a * tableAt(model.chargeSteepOhm, soc),
    tableAt(model.chargeBendV, soc) + a * tableAt(model.chargeOhm, soc),
  );
}

/** Below what any battery is left at, and above what any charger gives [V per 12 V]. Common practice, no source. */
const LOWEST_V = 8;
const HIGHEST_V = 16;

function refuseImpossible({ chemistry }: BatteryModel, voltageV: number, in12V: number): void {
  const [low, high] = [LOWEST_V * in12V, HIGHEST_V * in12V];
  if (voltageV >= low && voltageV <= high) return;
  throw new ConfigError([
    {
      code: 'out_of_range',
      path: 'volts',
      message: `${voltageV} V is no voltage of this battery: ${12 * in12V} V of ${chemistry} stands between ${low} and ${high} V`,
      hint: 'read it at the battery, in volts of the whole bank',
    },
  ]);
}
