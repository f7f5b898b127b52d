import { LARGE_PANEL_CELLS, LARGE_PANEL_W, type Rig, type SolarArray } from '../../rig/index.js';
import { stringOpenV, stringsShortA } from '../../solar/index.js';
import type { Finding } from './finding.js';

/** A cold morning, when an array that nothing draws on has its highest voltage [°C]. Assumption: in colder places it is higher. */
const COLD_C = -10;
/**
 * Nearer to its rating than this a controller is not sure to last. It covers air down to about −27 °C, or a coefficient
 * that is not known: the NEC's factors for that, table 690.7(A), are 2 to 3.5 % above those of our modules at −10 °C.
 */
const SCARCE = 0.05;
/** Light on a panel near bright clouds, above that of full sun: NEC 690.8(A)(1) multiplies the short-circuit current by this; from memory. */
const BRIGHT = 1.25;
/** Nobody lives in a vehicle in colder air [°C]. Common practice, no source. */
const COLDEST_C = -60;
/** Direct voltage above which live parts want protection from touch, in the dry: IEC 60364-4-41, from memory [V]. */
const TOUCH_V = 60;

/** Whether each array's controller withstands its panels: their voltage in the cold with nothing drawn, and behind PWM their current. */
export function controllerFindings({ solar }: Pick<Rig, 'solar'>): Finding[] {
  return solar.flatMap((array, k) => [
    ...coldFindings(array, `solar[${k}]`),
    ...currentFindings(array, `solar[${k}].controller.current`),
  ]);
}

/** A PWM controller only connects the panels to the battery: it cannot take less current than they give, as an MPPT can. */
function currentFindings({ controller, ...array }: SolarArray, path: string): Finding[] {
  if (controller.kind !== 'PWM') return [];
  const shortA = stringsShortA(array);
  const { currentA } = controller;
  const brightA = BRIGHT * shortA;
  if (brightA <= currentA) return [];
  return [{ level: 'caution', path, code: 'pwm_current_high', args: { shortA, brightA, currentA } }];
}

/** Where a large panel's cells are not known, the more of them it may have: what its controller must withstand is on the safe side. */
function highestVoltage(array: SolarArray): SolarArray {
  const { datasheet, cells, powerW, technology } = array;
  return datasheet || cells !== undefined || powerW <= LARGE_PANEL_W
    ? array
    : { ...array, cells: LARGE_PANEL_CELLS[technology] };
}

function coldFindings(ofRig: SolarArray, arrayPath: string): Finding[] {
  const array = highestVoltage(ofRig);
  const { series, controller } = array;
  const { maxInputV } = controller;
  const coldV = stringOpenV(array, COLD_C);
  const isLive = coldV > TOUCH_V;
  const live = { isLive, touchV: TOUCH_V };
  const unlessLive = isLive ? 'caution' : 'note';
  if (maxInputV === undefined) {
    if (series === 1) return [];
    const path = `${arrayPath}.series`;
    return [{ level: unlessLive, path, code: 'array_voltage_unknown', args: { series, coldV, ...live } }];
  }
  const path = `${arrayPath}.controller.inputVoltage`;
  const tenKelvinV = stringOpenV(array, COLD_C - 10) - coldV;
  const args = { series, coldV, coldC: COLD_C, tenKelvinV, maxInputV, ...live };
  if (coldV > maxInputV) {
    const neededV = coldV / (1 - SCARCE);
    return [{ level: 'danger', path, code: 'array_voltage_destroys', args: { ...args, neededV } }];
  }
  const reachedC = tenKelvinV > 0 ? COLD_C - (10 * (maxInputV - coldV)) / tenKelvinV : -Infinity;
  const reached = reachedC > COLDEST_C && { reachedC };
  if (coldV >= maxInputV * (1 - SCARCE)) {
    const scarce = { ...args, marginShare: SCARCE, ...reached };
    return [{ level: 'caution', path, code: 'array_voltage_scarce', args: scarce }];
  }
  return [{ level: unlessLive, path, code: 'array_voltage_enough', args: { ...args, ...reached } }];
}
