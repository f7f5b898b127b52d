import type { ArrayModule } from './array-module.js';
import { photoA } from './module.js';
import { fullBeamWm2, partShadeCurrentA } from './part-shade.js';
import { currentRow, innerCurrentTable, locate, type TablePlace } from './performance-table.js';
import { type CurrentAtVoltage, pwmVoltagesV } from './pwm.js';
import type { ArrayInput } from './types.js';

/**
 * The array's current at fixed voltages in each step.
 * @param clean share of light that dirt leaves
 * @param strings parallel strings times what scales the module's current to the array's
 */
export function pwmCurrents(
  input: ArrayInput,
  module: ArrayModule,
  cellC: Float64Array,
  clean: number,
  strings: number,
  series: number,
  nominalV: number,
): CurrentAtVoltage {
  const { effectiveWm2, poaWm2, beamShade, beamWm2 } = input;
  const solved = module.table.module;
  const voltagesV = pwmVoltagesV(nominalV);
  const count = voltagesV.length;
  const key = `${nominalV} V / ${series}`;
  const moduleV = voltagesV.map((volt) => volt / series);
  const table = module.currentTables.get(key) ?? innerCurrentTable(solved, moduleV);
  module.currentTables.set(key, table);
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
          strings * partShadeCurrentA(solved, lit, dim, cellC[i]!, share, module.groups, series, voltagesV[j]!);
    } else {
      locate(place, sunWm2, cellC[i]!);
      currentRow(table, place, count, photoA(solved, sunWm2, cellC[i]!), strings, currentA, i * count);
    }
  }
  return { voltagesV, currentA };
}
