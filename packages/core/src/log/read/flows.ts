import type { LogColumnName } from '../types.js';

/** Where a row has its flows: measured, or from what else is there. NaN where the log cannot tell. */
export interface Flows {
  readonly hasBattery: boolean;
  readonly hasHarvest: boolean;
  readonly hasLoad: boolean;
  readonly hasAlternator: boolean;
  /** into the battery [A] */
  batteryA(values: Float64Array): number;
  /** into the battery [W] */
  batteryW(values: Float64Array): number;
  /** from the panels [W] */
  harvestW(values: Float64Array): number;
  /** into the loads [W] */
  loadW(values: Float64Array): number;
  /** from the alternator [W] */
  alternatorW(values: Float64Array): number;
}

/**
 * Reads currents and powers from a row whatever of them was logged: power = voltage × current. A solar current without a
 * voltage of its own, or measured on the battery's side of the controller, is taken at the battery's.
 */
export function flowsOf(columns: readonly LogColumnName[], solarSide?: 'panel' | 'battery'): Flows {
  const at = (name: LogColumnName) => columns.indexOf(name);
  const [v, a, w] = [at('voltage'), at('current'), at('power')];
  const product = (watts: number, amps: number, volts: number) => (values: Float64Array) => {
    const measured = watts >= 0 ? values[watts]! : Number.NaN;
    if (!Number.isNaN(measured)) return measured;
    return amps >= 0 && volts >= 0 ? values[amps]! * values[volts]! : Number.NaN;
  };
  const has = (watts: number, amps: number, volts: number) => watts >= 0 || (amps >= 0 && volts >= 0);
  const solarV = solarSide !== 'battery' && at('solarVoltage') >= 0 ? at('solarVoltage') : v;
  const solar = [at('solarPower'), at('solarCurrent'), solarV] as const;
  const load = [at('loadPower'), at('loadCurrent'), v] as const;
  const alternator = [at('alternatorPower'), at('alternatorCurrent'), v] as const;
  return {
    hasBattery: a >= 0 || w >= 0,
    hasHarvest: has(...solar),
    hasLoad: has(...load),
    hasAlternator: has(...alternator),
    batteryA: (values) => {
      const measured = a >= 0 ? values[a]! : Number.NaN;
      if (!Number.isNaN(measured)) return measured;
      return w >= 0 && v >= 0 ? values[w]! / values[v]! : Number.NaN;
    },
    batteryW: product(w, a, v),
    harvestW: product(...solar),
    loadW: product(...load),
    alternatorW: product(...alternator),
  };
}
