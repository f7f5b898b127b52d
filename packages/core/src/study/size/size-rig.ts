import type { Battery, PartsList, Rig, SolarArray } from '../../rig/index.js';
import type { Combination } from './size-list.js';

/**
 * The rig with the parts of a choice in place of its own. What the list offers of a kind replaces all the rig has of
 * it; loads, wires, alternator, cabin stay.
 */
export function rigWith(rig: Rig, parts: PartsList, { battery, panels, charger }: Omit<Combination, 'bill'>): Rig {
  const { alternator, ...withoutEngine } = rig;
  const engine =
    alternator && charger !== 'none'
      ? {
          alternator: charger === undefined ? alternator : { ...alternator, charger: parts.chargers[charger]!.charger },
        }
      : {};
  return {
    ...withoutEngine,
    ...engine,
    battery: battery ? bankOf(rig, parts.batteries[battery.line]!.battery, battery.count) : rig.battery,
    solar:
      parts.panels.length === 0
        ? rig.solar
        : panels.flatMap((count, k) => (count > 0 ? [arrayOf(rig, parts.panels[k]!, count)] : [])),
  };
}

/**
 * So many of a battery in parallel, where the rig's own stands and on its cable unless the list says otherwise. What its
 * limits allow one of them, the bank is allowed so many times; so with a heater.
 */
export function bankOf(rig: Rig, battery: Battery, count: number): Battery {
  const cable = battery.cable ?? rig.battery.cable;
  return {
    ...battery,
    count: battery.count * count,
    // Reading fills in the cabin where a line says nothing.
    stands: battery.stands === 'cabin' ? rig.battery.stands : battery.stands,
    maxChargeA: battery.maxChargeA * count,
    ...(battery.maxDischargeA !== undefined && { maxDischargeA: battery.maxDischargeA * count }),
    ...(battery.resistanceOhm !== undefined && { resistanceOhm: battery.resistanceOhm / count }),
    ...(battery.heater && { heater: { ...battery.heater, powerW: battery.heater.powerW * count } }),
    ...(cable && { cable }),
  };
}

/**
 * So many strings of a module on one controller, which is so many times as large as the line's. Shade, skyline and
 * cables are those of the rig's first array where the line has none.
 */
export function arrayOf(rig: Rig, { name, array }: PartsList['panels'][number], count: number): SolarArray {
  const own = rig.solar[0];
  const cable = array.cable ?? own?.cable;
  const outputCable = array.outputCable ?? own?.outputCable;
  return {
    ...array,
    name,
    count: array.count * count,
    shade: array.shade.length > 0 ? array.shade : (own?.shade ?? []),
    horizon: array.horizon.length > 0 ? array.horizon : (own?.horizon ?? []),
    controller: { ...array.controller, currentA: array.controller.currentA * count },
    ...(cable && { cable }),
    ...(outputCable && { outputCable }),
  };
}
