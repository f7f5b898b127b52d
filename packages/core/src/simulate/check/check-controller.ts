import type { Rig, SolarArray } from '../../rig/index.js';
import { stringOpenV, stringsShortA } from '../../solar/index.js';
import type { Finding } from './finding.js';

/** A cold morning, when an array that nothing draws on has its highest voltage [°C]. Assumption: colder places stand higher. */
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

/** Whether each array's controller bears its panels: their voltage in the cold with nothing drawn, and behind PWM their current. */
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
  if (BRIGHT * shortA <= currentA) return [];
  const given = `the panels give up to ${shortA.toFixed(1)} A in full sun and ${(BRIGHT * shortA).toFixed(1)} A beside bright clouds`;
  const wanted = `use a PWM controller of ${Math.ceil(BRIGHT * shortA)} A or more, or an MPPT, which holds the current back`;
  return [
    {
      level: 'caution',
      path,
      text: `${given}, ${shortA > currentA ? 'more than' : 'and then more than'} the ${currentA} A that its PWM controller bears: it overheats or switches off; ${wanted}`,
    },
  ];
}

function coldFindings(array: SolarArray, path: string): Finding[] {
  const { series, controller } = array;
  const { maxInputV } = controller;
  const coldV = stringOpenV(array, COLD_C);
  const isLive = coldV > TOUCH_V;
  const told = (level: Finding['level'], key: string, ...parts: string[]): Finding[] => [
    {
      level,
      path: `${path}.${key}`,
      text: [...parts, ...(isLive ? [`above ${TOUCH_V} V touching it is dangerous`] : [])].join('; '),
    },
  ];
  const unlessLive = isLive ? 'caution' : 'note';
  const stands = series > 1 ? `${series} in series stand` : 'it stands';
  if (maxInputV === undefined)
    return series === 1
      ? []
      : told(
          unlessLive,
          'series',
          `${stands} at about ${coldV.toFixed(0)} V in the cold when nothing is drawn: the controller must be made for more than that (give the rig its controller.inputVoltage, and the two are compared)`,
        );
  const key = 'controller.inputVoltage';
  const tenKelvinV = stringOpenV(array, COLD_C - 10) - coldV;
  const compared = `${stands} at ${coldV.toFixed(1)} V at ${COLD_C} °C when nothing is drawn (${tenKelvinV.toFixed(1)} V more for each 10 K colder), and its controller bears ${maxInputV} V`;
  if (coldV > maxInputV)
    return told(
      'danger',
      key,
      `${compared}: the controller is destroyed, and it can burn`,
      `${series > 1 ? 'put fewer in series, or use' : 'use'} a controller that bears ${Math.ceil(coldV / (1 - SCARCE))} V or more`,
    );
  const reachedC = tenKelvinV > 0 ? COLD_C - (10 * (maxInputV - coldV)) / tenKelvinV : -Infinity;
  const reached = reachedC > COLDEST_C ? `${Math.ceil(reachedC)} °C` : undefined;
  if (coldV >= maxInputV * (1 - SCARCE))
    return told(
      'caution',
      key,
      `${compared}: no more than ${100 * SCARCE} % is left${reached ? `, and at ${reached} nothing` : ''}`,
    );
  return told(unlessLive, key, `${compared}, which is enough${reached ? ` down to ${reached}` : ''}`);
}
