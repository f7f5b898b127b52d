import { type Datasheet, PANEL_CELLS, type PanelTechnology, type SolarArray } from '../rig/index.js';
import { fitModule } from './fit-module.js';
import { type GenericModule, genericDatasheet } from './generic-module.js';
import { curveAt, STC_C, STC_WM2 } from './module.js';
import { type PerformanceTable, performanceTable } from './performance-table.js';
import { maximumPower } from './single-diode.js';

/** The module of an array, solved, and how much of its current the array's nameplate stands for. */
export interface ArrayModule {
  readonly table: PerformanceTable;
  /** current of one real module over that of the table's, so that it gives its nameplate at standard conditions */
  readonly scale: number;
  /** bypass groups in one module: a diode over at most 24 cells (common practice); 0 for thin film, see part-shade.ts */
  readonly groups: number;
  /** solved current tables of the PWM case, by their voltages; filled when first asked for */
  readonly currentTables: Map<string, Float64Array>;
}

interface Solved {
  readonly table: PerformanceTable;
  readonly powerW: number;
  readonly groups: number;
  readonly currentTables: Map<string, Float64Array>;
}

/** Power of a cell of the module that is solved; only its currents go with it [W]. */
const CELL_W = 3;

// A generic module's power scales its currents only, so a table serves all of one number of cells; those of datasheets live with the datasheet.
const generic = new Map<string, Solved>();
const fitted = new WeakMap<Datasheet, Map<PanelTechnology, Solved>>();

/**
 * The array's module from its datasheet, or the generic one of its technology, scaled to its nameplate.
 * Where the nameplate differs from vmp · imp the nameplate holds for power and the datasheet for voltages.
 * @throws ConfigError when the datasheet cannot be a module's
 */
export function arrayModule(array: Pick<SolarArray, 'powerW' | 'technology' | 'cells' | 'datasheet'>): ArrayModule {
  const solved = array.datasheet ? fromSheet(array.datasheet, array.technology) : fromWatts(array);
  return {
    table: solved.table,
    scale: array.powerW / solved.powerW,
    groups: solved.groups,
    currentTables: solved.currentTables,
  };
}

function fromSheet(sheet: Datasheet, technology: PanelTechnology): Solved {
  const byTechnology = fitted.get(sheet) ?? new Map<PanelTechnology, Solved>();
  fitted.set(sheet, byTechnology);
  const solved = byTechnology.get(technology) ?? solve(sheet, technology);
  byTechnology.set(technology, solved);
  return solved;
}

function fromWatts({ technology, cells = PANEL_CELLS[technology] }: GenericModule): Solved {
  const key = `${technology} of ${cells} cells`;
  const solved = generic.get(key) ?? solve(genericDatasheet({ powerW: cells * CELL_W, technology, cells }), technology);
  generic.set(key, solved);
  return solved;
}

function solve(sheet: Datasheet, technology: PanelTechnology): Solved {
  const module = fitModule(sheet, sheet.cells, technology);
  return {
    table: performanceTable(module),
    powerW: maximumPower(curveAt(module, STC_WM2, STC_C)).powerW,
    groups: technology === 'thin film' ? 0 : Math.ceil(module.cells / 24),
    currentTables: new Map(),
  };
}
