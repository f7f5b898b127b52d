import type { SolarArray } from '../rig/index.js';
import { genericDatasheet } from './generic-module.js';
import { STC_C } from './module.js';

/** What of an array its strings' voltages rest on. */
export type StringOfModules = Pick<SolarArray, 'powerW' | 'technology' | 'cells' | 'datasheet' | 'series'>;

/**
 * Open-circuit voltage of one string in full sun:  Voc · series · (1 + β · (T − 25 °C)).
 * Source: the linear form of IEC 60891; Voc and β are the datasheet's, or else those usual for the technology.
 * Accuracy: linear within 1 % from −40 to 75 °C; a usual β in place of the module's own is at most 0.1 %/K off, 3.5 % at
 * −10 °C. In weaker light it is less.
 * @param cellC of the cells: of the air where no sun has warmed them yet [°C]
 * @returns [V]
 */
export function stringOpenV(array: StringOfModules, cellC: number): number {
  const usual = genericDatasheet(array);
  const { vocV, tempVoltagePerK = usual.tempVoltagePerK! } = array.datasheet ?? usual;
  return vocV * array.series * (1 + tempVoltagePerK * (cellC - STC_C));
}

/**
 * Working voltage of one string, at maximum power in full sun:  Vmp · series · (1 + γ · (T − 25 °C)).
 * γ is that of power: the current at maximum power hardly changes with temperature (King et al. 2004: ±0.05 %/K), so that
 * a hot module's voltage comes out a little low, by 2 % at 75 °C.
 * @param cellC of the cells [°C]
 * @returns [V]
 */
export function stringWorkingV(array: StringOfModules, cellC: number): number {
  const { vmpV, tempPowerPerK } = array.datasheet ?? genericDatasheet(array);
  return vmpV * array.series * (1 + tempPowerPerK * (cellC - STC_C));
}

/**
 * Short-circuit current of all strings together, in full sun at 25 °C:  Isc · strings.
 * Accuracy: some 0.05 %/K more in heat; beside bright clouds a quarter more for minutes.
 * @returns [A]
 */
export function stringsShortA(array: StringOfModules & Pick<SolarArray, 'count'>): number {
  const { iscA } = array.datasheet ?? genericDatasheet(array);
  return (iscA * array.count) / array.series;
}
