/** A small reference cycle of one battery at 25 °C, so that published efficiencies and times can be held against the tables. */
import { type BatteryModel, kineticStep, storedWh, tableAt } from '../../packages/core/src/battery/index.js';

const DT_H = 1 / 120;

export interface Leg {
  readonly hours: number;
  readonly chargeAh: number;
  readonly energyWh: number;
  readonly endSoc: number;
  readonly endV: number;
  /** state of charge at which the voltage limit was first met; NaN if never */
  readonly limitSoc: number;
}

/** Constant current down to `toSoc`, or until the available charge is gone, at the resistance of 25 °C. */
export function discharge(model: BatteryModel, currentA: number, fromSoc = 1, toSoc = 0): Leg {
  const { c, kPerH, reserveAh } = model.wells;
  let total = model.capacityAh * fromSoc + reserveAh;
  let q1 = c * total;
  let hours = 0;
  let energyWh = 0;
  let endV = 0;
  for (;;) {
    const next = kineticStep(q1, total - q1, -currentA, DT_H, c, kPerH);
    const soc = (total - currentA * DT_H - reserveAh) / model.capacityAh;
    if (next < 0 || soc < toSoc - 1e-12) break;
    const outV = tableAt(model.ocvV, soc) - currentA * tableAt(model.dischargeOhm, soc);
    q1 = next;
    total -= currentA * DT_H;
    hours += DT_H;
    energyWh += outV * currentA * DT_H;
    endV = outV;
  }
  const endSoc = (total - reserveAh) / model.capacityAh;
  return { hours, chargeAh: currentA * hours, energyWh, endSoc, endV, limitSoc: Number.NaN };
}

/** Constant current, then constant voltage, until the current falls to `tailA`. */
export function charge(model: BatteryModel, currentA: number, limitV: number, tailA: number, fromSoc = 0): Leg {
  let soc = fromSoc;
  let hours = 0;
  let chargeAh = 0;
  let energyWh = 0;
  let endV = 0;
  let limitSoc = Number.NaN;
  while (hours < 48) {
    const acceptedA = (limitV - tableAt(model.ocvV, soc)) / tableAt(model.chargeOhm, soc);
    const inA = Math.min(currentA, acceptedA);
    if (acceptedA < currentA && Number.isNaN(limitSoc)) limitSoc = soc;
    if (inA <= tailA) break;
    const stored = Math.min(1 - soc, (inA * DT_H * tableAt(model.chargeEfficiency, soc)) / model.capacityAh);
    endV = tableAt(model.ocvV, soc) + inA * tableAt(model.chargeOhm, soc);
    soc += stored;
    hours += DT_H;
    chargeAh += inA * DT_H;
    energyWh += inA * endV * DT_H;
    if (soc >= 1) break;
  }
  return { hours, chargeAh, energyWh, endSoc: soc, endV, limitSoc };
}

/** Energy out over energy in of a cycle from `top` down to `bottom` and back to `top`, at one current each way. */
export function roundTrip(model: BatteryModel, currentA: number, limitV: number, top: number, bottom: number) {
  const out = discharge(model, currentA, top, bottom);
  let soc = out.endSoc;
  let inWh = 0;
  let inAh = 0;
  while (soc < top) {
    const acceptedA = (limitV - tableAt(model.ocvV, soc)) / tableAt(model.chargeOhm, soc);
    const inA = Math.min(currentA, acceptedA);
    const step = Math.min(
      DT_H,
      ((top - soc) * model.capacityAh) / (inA * tableAt(model.chargeEfficiency, soc)) + 1e-12,
    );
    inWh += inA * (tableAt(model.ocvV, soc) + inA * tableAt(model.chargeOhm, soc)) * step;
    inAh += inA * step;
    soc += (inA * step * tableAt(model.chargeEfficiency, soc)) / model.capacityAh;
  }
  return {
    energy: out.energyWh / inWh,
    charge: out.chargeAh / inAh,
    storedWh: storedWh(model, top) - storedWh(model, bottom),
  };
}
