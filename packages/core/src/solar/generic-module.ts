import { type Datasheet, PANEL_CELLS, type PanelTechnology, type SolarArray } from '../rig/index.js';
import { fitModule } from './fit-module.js';
import type { ModuleParameters } from './module.js';

/** Per cell and per rated current: what a usual module of a technology has. Common practice, no source, but as noted. */
interface CellType {
  readonly vocV: number;
  readonly vmpV: number;
  /** short-circuit over maximum-power current */
  readonly iscOverImp: number;
  readonly tempPowerPerK: number;
  readonly tempVoltagePerK: number;
  readonly tempCurrentPerK: number;
}

/**
 * mono: passivated rear contact; fill factor 0.79; −0.36 %/K is the usual of that type, older ones have −0.45.
 * poly: fill factor 0.76; compare the 54-cell module of Villalva 2009: 0.609 V, 0.487 V per cell, 1.079, −0.374 %/K of Voc.
 * thin film: copper indium gallium selenide on a flexible sheet; fill factor 0.70.
 * Ranges of King et al. 2004 and common datasheets: power −0.50 to −0.29, Voc −0.33 to −0.24, Isc 0.03 to 0.07 %/K.
 */
const CELL: Readonly<Record<PanelTechnology, CellType>> = {
  mono: {
    vocV: 0.675,
    vmpV: 0.565,
    iscOverImp: 1.06,
    tempPowerPerK: -0.0036,
    tempVoltagePerK: -0.0029,
    tempCurrentPerK: 0.0005,
  },
  poly: {
    vocV: 0.62,
    vmpV: 0.505,
    iscOverImp: 1.07,
    tempPowerPerK: -0.0042,
    tempVoltagePerK: -0.0033,
    tempCurrentPerK: 0.0005,
  },
  'thin film': {
    vocV: 0.6,
    vmpV: 0.48,
    iscOverImp: 1.14,
    tempPowerPerK: -0.0038,
    tempVoltagePerK: -0.003,
    tempCurrentPerK: 0.0001,
  },
};

/** What a generic datasheet is made from. */
export type GenericModule = Pick<SolarArray, 'powerW' | 'technology' | 'cells'>;

/**
 * The stated datasheet of a module of which only watts, technology and cells are known: of 36 cells Vmp about 20 V (mono) or
 * 18 V (poly). Vmp·Imp is the nameplate.
 * @param array nameplate of one module, > 0 [W]; cells in series, >= 1
 */
export function genericDatasheet({
  powerW,
  technology,
  cells = PANEL_CELLS[technology],
}: GenericModule): Datasheet & { readonly cells: number } {
  if (!(powerW > 0)) throw new RangeError(`powerW must be more than 0, got ${powerW}`);
  if (!(cells >= 1)) throw new RangeError(`cells must be 1 or more, got ${cells}`);
  const cell = CELL[technology];
  const vmpV = cell.vmpV * cells;
  const impA = powerW / vmpV;
  return {
    vocV: cell.vocV * cells,
    iscA: cell.iscOverImp * impA,
    vmpV,
    impA,
    tempPowerPerK: cell.tempPowerPerK,
    tempVoltagePerK: cell.tempVoltagePerK,
    tempCurrentPerK: cell.tempCurrentPerK,
    cells,
  };
}

/** The five parameters of `genericDatasheet`. */
export function genericModule(array: GenericModule): ModuleParameters {
  const sheet = genericDatasheet(array);
  return fitModule(sheet, sheet.cells, array.technology);
}
