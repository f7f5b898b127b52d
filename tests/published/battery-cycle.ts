/** Legs of a reference cycle at 25 °C, each a run of the program, so that published efficiencies and times can be compared with it. */
import type { Chemistry } from '../../packages/core/src/rig/index.js';
import type { Run } from '../../packages/core/src/simulate/index.js';
import { type Around, bank, runOn } from './bench.js';

const STEP_H = 1 / 60;
/** Full but for rounding. */
const FULL = 1 - 1e-6;

export interface Leg {
  readonly hours: number;
  readonly chargeAh: number;
  readonly energyWh: number;
  readonly endSoc: number;
  readonly endV: number;
  /** state of charge at which the voltage limit was first met; NaN if never */
  readonly limitSoc: number;
}

/** Constant current down to `toSoc`, or until the loads are cut off as no more can be drawn. */
export function discharge(chemistry: Chemistry, currentA: number, fromSoc = 1, toSoc = 0, around: Around = {}): Leg {
  const days = Math.ceil((1.1 * 100 * (fromSoc - toSoc)) / currentA / 24);
  const { stepH = STEP_H } = around;
  const { trace } = runOn(
    `${bank(chemistry, `maxDischarge: 500 A`)}\nloads: [{ name: draw, current: ${currentA} A }]`,
    { days, stepH, ...around },
    fromSoc,
  );
  let chargeAh = 0;
  let energyWh = 0;
  let endSoc = fromSoc;
  let endV = 0;
  for (let i = 0; i < trace.soc.length && endSoc > toSoc + 1e-9; i++) {
    const amps = -trace.batteryA[i]!;
    chargeAh += amps * stepH;
    energyWh += amps * trace.batteryV[i]! * stepH;
    endSoc = trace.soc[i]!;
    if (trace.unservedW[i]! > 0) break; // cut off within this step
    endV = trace.batteryV[i]!;
  }
  return { hours: chargeAh / currentA, chargeAh, energyWh, endSoc, endV, limitSoc: Number.NaN };
}

/** Constant current, then constant voltage, until the current falls to `tailA`, or the battery is full; without end if two days do not do. */
export function charge(chemistry: Chemistry, currentA: number, limitV: number, tailA: number, fromSoc = 0): Leg {
  const { trace } = charged(chemistry, currentA, limitV, fromSoc);
  let chargeAh = 0;
  let energyWh = 0;
  let limitSoc = Number.NaN;
  for (let i = 0; i < trace.soc.length; i++) {
    const amps = trace.batteryA[i]!;
    if (amps < currentA - 1e-3 && Number.isNaN(limitSoc)) limitSoc = i > 0 ? trace.soc[i - 1]! : fromSoc;
    if (amps > tailA) {
      chargeAh += amps * STEP_H;
      energyWh += amps * trace.batteryV[i]! * STEP_H;
      if (trace.soc[i]! < FULL) continue;
    }
    return { hours: (i + 1) * STEP_H, chargeAh, energyWh, endSoc: trace.soc[i]!, endV: trace.batteryV[i]!, limitSoc };
  }
  const endSoc = trace.soc.at(-1)!;
  return { hours: Infinity, chargeAh: Infinity, energyWh: Infinity, endSoc, endV: trace.batteryV.at(-1)!, limitSoc };
}

/** A charger of that current that holds its voltage for good. */
export function charged(chemistry: Chemistry, currentA: number, limitV: number, fromSoc: number): Run {
  const rig = `${bank(chemistry, 'maxCharge: 500 A')}
mains: { current: ${currentA} A, charge: { absorption: ${limitV} V, float: ${limitV} V, perDegree: 0 mV/K } }`;
  return runOn(rig, { days: 2, stepH: STEP_H, mains: 1 }, fromSoc);
}

/** Energy and charge out over in, of a cycle from full down to empty and back, at one current each way. */
export function roundTrip(chemistry: Chemistry, currentA: number, limitV: number) {
  const out = discharge(chemistry, currentA);
  const back = charge(chemistry, currentA, limitV, 0, out.endSoc);
  return { energy: out.energyWh / back.energyWh, charge: out.chargeAh / back.chargeAh };
}
