import type { SolarArray } from '../rig/index.js';
import { arrayModule } from './array-module.js';
import { cellTemperatureColumn } from './cell-temperature.js';
import { fullBeamWm2, type PartShade, partShadePower } from './part-shade.js';
import { locate, type TablePlace, tableValue } from './performance-table.js';
import { pwmCurrents } from './pwm-columns.js';
import type { ArrayColumns, ArrayInput, ArrayOptions } from './types.js';

/**
 * Power, voltage and cell temperature of an array on the grid. Ageing and mismatch lower the current; dirt dims the light.
 * Strings in series add voltage, strings in parallel current. Fast: the module is solved once into a table
 * (`performanceTable`), which is read in each step.
 * @throws RangeError when columns differ in length, or beamShade comes without beamWm2
 * @throws ConfigError when the datasheet cannot be a module's
 */
export function arrayColumns(array: SolarArray, input: ArrayInput, options: ArrayOptions = {}): ArrayColumns {
  const { effectiveWm2, poaWm2, ambientC, windMs, beamShade, beamWm2 } = input;
  const steps = effectiveWm2.length;
  for (const column of [poaWm2, ambientC, windMs, beamShade, beamWm2])
    if (column && column.length !== steps)
      throw new RangeError(`columns must be of one length, ${steps}; got ${column.length}`);
  if (beamShade && !beamWm2) throw new RangeError('beamShade needs beamWm2 beside it');

  const { series, losses } = array;
  const nominalV = options.nominalV ?? 12;
  const module = arrayModule(array);
  const { table, groups } = module;
  const clean = 1 - losses.soiling;
  const current = module.scale * (1 - losses.mismatch) * (1 - losses.ageing) * (1 - (losses.other ?? 0));
  const power = current * array.count;
  const minV = minMpptV(nominalV);

  const cellC = cellTemperatureColumn(array.mount, poaWm2, ambientC, windMs);
  const availableW = new Float64Array(steps);
  const voltageV = new Float64Array(steps);
  const place: TablePlace = { node: 0, sunShare: 0, heatShare: 0 };
  const shaded: PartShade = { powerW: 0, voltageV: 0 };
  for (let i = 0; i < steps; i++) {
    const sunWm2 = effectiveWm2[i]! * clean;
    if (!(sunWm2 > 0)) continue;
    const share = beamShade && groups > 0 ? beamShade[i]! : 0;
    const beam = share > 0 && share < 1 ? fullBeamWm2(beamWm2![i]!, share, sunWm2, poaWm2[i]!) : 0;
    if (beam > 0) {
      const litWm2 = sunWm2 + share * beam;
      partShadePower(table, place, litWm2, Math.max(0, litWm2 - beam), cellC[i]!, share, groups, series, minV, shaded);
      availableW[i] = power * shaded.powerW;
      voltageV[i] = shaded.voltageV;
    } else {
      locate(place, sunWm2, cellC[i]!);
      availableW[i] = power * tableValue(table.powerPerWm2, place) * sunWm2;
      voltageV[i] = series * tableValue(table.voltageV, place);
    }
  }
  if (array.controller.kind === 'MPPT') return { availableW, voltageV, cellC };
  const strings = current * (array.count / series);
  return {
    availableW,
    voltageV,
    cellC,
    currentAtV: pwmCurrents(input, module, cellC, clean, strings, series, nominalV),
  };
}

/** Once started, a tracker that steps down runs on while its string is this far above the battery [V]. Common practice, no source. */
const RUNS_ABOVE_V = 1;

/** Least voltage of a string at which such a tracker still works, on a charging battery of 13.3 V for each 12 V. */
export function minMpptV(nominalV: number): number {
  return (13.3 * nominalV) / 12 + RUNS_ABOVE_V;
}
