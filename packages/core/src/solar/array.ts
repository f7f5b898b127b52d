import type { SolarArray } from '../rig/types.js';
import { type ArrayModule, arrayModule } from './array-module.js';
import { cellTemperatureColumn } from './cell-temperature.js';
import { type PartShade, partShadeCurrentA, partShadePower } from './part-shade.js';
import { currentTable, locate, type TablePlace, tableRow, tableValue } from './performance-table.js';
import { type CurrentAtVoltage, pwmVoltagesV } from './pwm.js';

/** What falls on an array, one value a step, all of one length. */
export interface ArrayInput {
  /** on the plane after shade and after reflection at the glass: what reaches the cells of a clean panel, as a mean over the panel [W/m²] */
  readonly effectiveWm2: Float64Array;
  /** on the plane before reflection: what heats it [W/m²] */
  readonly poaWm2: Float64Array;
  readonly ambientC: Float64Array;
  /** at 10 m [m/s] */
  readonly windMs: Float64Array;
  /** share of the panel that a hard shadow covers, 0..1, for the electrical penalty; its light is already missing above */
  readonly beamShade?: Float64Array;
  /** the beam that is left on the plane, before reflection, as a mean over the panel [W/m²]; needed with `beamShade` */
  readonly beamWm2?: Float64Array;
}

export interface ArrayOptions {
  /** nominal voltage of the battery bank [V]; 12 unless given */
  readonly nominalV?: number;
}

/** What an array can give, open loop, one value a step. */
export interface ArrayColumns {
  /** at the array's terminals at maximum power, after temperature, low light, dirt, mismatch, age and part shade [W]; 0 at night */
  readonly availableW: Float64Array;
  /** at that point, whole strings [V]; 0 at night. An MPPT works only while this is above battery voltage + startAboveV */
  readonly voltageV: Float64Array;
  readonly cellC: Float64Array;
  /** of an array on a PWM controller only */
  readonly currentAtV?: CurrentAtVoltage;
}

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
  const current = module.scale * (1 - losses.mismatch) * (1 - losses.ageing);
  const power = current * array.count;
  const leastV = leastMpptV(array, nominalV);

  const cellC = cellTemperatureColumn(array.mount, poaWm2, ambientC, windMs);
  const availableW = new Float64Array(steps);
  const voltageV = new Float64Array(steps);
  const place: TablePlace = { node: 0, sunShare: 0, heatShare: 0 };
  const shaded: PartShade = { powerW: 0, voltageV: 0 };
  for (let i = 0; i < steps; i++) {
    const sunWm2 = effectiveWm2[i]! * clean;
    if (!(sunWm2 > 0)) continue;
    const share = beamShade && groups > 0 ? beamShade[i]! : 0;
    const beam = share > 0 && share < 1 ? beamWm2![i]! * clean : 0;
    if (beam > 0) {
      const litWm2 = sunWm2 + share * beam;
      partShadePower(
        table,
        place,
        litWm2,
        Math.max(0, litWm2 - beam),
        cellC[i]!,
        share,
        groups,
        series,
        leastV,
        shaded,
      );
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

/** A buck-type tracker needs the string above a charging battery, taken as 13.3 V for each 12 V, to use a bypassed point. */
function leastMpptV(array: SolarArray, nominalV: number): number {
  return (13.3 * nominalV) / 12 + array.controller.startAboveV;
}

/** Beam on the sunlit cells, from the mean that shade left; dirt and glass are taken to dim it as they dim the whole. */
function fullBeamWm2(leftWm2: number, share: number, sunWm2: number, poaWm2: number): number {
  return poaWm2 > 0 ? (leftWm2 / (1 - share)) * (sunWm2 / poaWm2) : 0;
}

function pwmCurrents(
  input: ArrayInput,
  module: ArrayModule,
  cellC: Float64Array,
  clean: number,
  strings: number,
  series: number,
  nominalV: number,
): CurrentAtVoltage {
  const { effectiveWm2, poaWm2, beamShade, beamWm2 } = input;
  const voltagesV = pwmVoltagesV(nominalV);
  const count = voltagesV.length;
  const key = `${nominalV} V / ${series}`;
  let table = module.currentTables.get(key);
  if (!table) {
    table = currentTable(
      module.table.module,
      voltagesV.map((volt) => volt / series),
    );
    module.currentTables.set(key, table);
  }
  const steps = effectiveWm2.length;
  const currentA = new Float64Array(steps * count);
  const place: TablePlace = { node: 0, sunShare: 0, heatShare: 0 };
  for (let i = 0; i < steps; i++) {
    const sunWm2 = effectiveWm2[i]! * clean;
    if (!(sunWm2 > 0)) continue;
    const share = beamShade && module.groups > 0 ? beamShade[i]! : 0;
    const beam = share > 0 && share < 1 ? fullBeamWm2(beamWm2![i]!, share, sunWm2, poaWm2[i]!) : 0;
    if (beam > 0) {
      const lit = sunWm2 + share * beam;
      const dim = Math.max(0, lit - beam);
      for (let j = 0; j < count; j++)
        currentA[i * count + j] =
          strings *
          partShadeCurrentA(module.table.module, lit, dim, cellC[i]!, share, module.groups, series, voltagesV[j]!);
    } else {
      locate(place, sunWm2, cellC[i]!);
      tableRow(table, place, count, strings * sunWm2, currentA, i * count);
    }
  }
  return { voltagesV, currentA };
}
