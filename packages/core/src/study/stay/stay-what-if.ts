import type { Battery, Rig } from '../../rig/index.js';
import type { OneMore } from './stay-types.js';

export interface WhatIf extends OneMore {
  readonly rig: Rig;
}

/** One more string of the first array's panels on the same controller; undefined without an array. */
export function withOneMorePanel(rig: Rig): WhatIf | undefined {
  const [first, ...others] = rig.solar;
  if (!first) return undefined;
  const { series, powerW } = first;
  return {
    what: series === 1 ? `${powerW} W panel` : `string of ${series} panels of ${powerW} W`,
    ...times(series, first),
    rig: { ...rig, solar: [{ ...first, count: first.count + series }, ...others] },
  };
}

/** One more battery in parallel, with its own management system: limits and conductance of the bank grow with it. */
export function withOneMoreBattery(rig: Rig): WhatIf {
  const { battery } = rig;
  const { count, series, capacityAh, chemistry, resistanceOhm } = battery;
  const grown = (count + 1) / count;
  const larger: Battery = {
    ...battery,
    count: count + 1,
    maxChargeA: battery.maxChargeA * grown,
    ...(battery.maxDischargeA !== undefined && { maxDischargeA: battery.maxDischargeA * grown }),
    ...(resistanceOhm !== undefined && { resistanceOhm: resistanceOhm / grown }),
  };
  return {
    what:
      series === 1
        ? `${capacityAh} Ah ${chemistry} battery`
        : `string of ${series} ${capacityAh} Ah ${chemistry} batteries`,
    ...times(series, battery),
    rig: { ...rig, battery: larger },
  };
}

function times(count: number, { massKg, price }: { readonly massKg?: number; readonly price?: number }) {
  return {
    ...(massKg !== undefined && { massKg: count * massKg }),
    ...(price !== undefined && { price: count * price }),
  };
}
