import type { Rig, SolarArray } from '../rig/index.js';
import { stringOpenV } from '../solar/index.js';
import type { Finding } from './finding.js';

/** A cold morning, when an array that nothing draws on has its highest voltage [°C]. Assumption: colder places stand higher. */
const COLD_C = -10;
/**
 * Nearer to its rating than this a controller is not sure to last. It covers air down to about −27 °C, or a coefficient
 * that is not known: the NEC's factors for that, table 690.7(A), are 2 to 3.5 % above those of our modules at −10 °C.
 */
const SCARCE = 0.05;
/** Direct voltage above which live parts want protection from touch, in the dry: IEC 60364-4-41, from memory [V]. */
const TOUCH_V = 60;

/** What the panels stand at in the cold with nothing drawn, and whether their controller bears it: one finding an array at most. */
export function controllerFindings({ solar }: Pick<Rig, 'solar'>): Finding[] {
  return solar.flatMap((array, k) => coldFindings(array, `solar[${k}]`));
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
  return coldV >= maxInputV * (1 - SCARCE)
    ? told('caution', key, `${compared}: no more than ${100 * SCARCE} % is left, which a colder morning takes`)
    : told(unlessLive, key, `${compared}, which is enough`);
}
