import { HOUR_MS } from '../../math/index.js';
import { isoLocal } from '../../place/index.js';
import type { Run, Trace } from '../types.js';

/** Headings of a trace as CSV; a fridge adds its inside temperature, and that of its second zone. */
export function traceHeader(trace: Trace): string[] {
  return [
    'time',
    'soc',
    'battery_v',
    'battery_a',
    'battery_c',
    'pv_available_w',
    'pv_harvest_w',
    'alternator_w',
    'mains_w',
    'load_w',
    'unserved_w',
    'ambient_c',
    'cabin_c',
    'ghi_w_m2',
    'poa_w_m2',
    ...trace.loads.map((load) => `load:${load.name}_w`),
    ...trace.loads.filter((load) => load.insideC).map((load) => `inside:${load.name}_c`),
    ...trace.loads.filter((load) => load.secondInsideC).map((load) => `second zone:${load.name}_c`),
  ];
}

/** One step as a row: its beginning in local civil time, means over it, and the state of charge at its end. */
export function traceRow({ trace, days }: Pick<Run, 'trace' | 'days'>, i: number): (string | number)[] {
  const { grid } = trace;
  return [
    isoLocal(grid.startMs + Math.round(i * grid.stepH * HOUR_MS), days),
    trace.soc[i]!,
    trace.batteryV[i]!,
    trace.batteryA[i]!,
    trace.batteryC[i]!,
    trace.pvAvailableW[i]!,
    trace.pvHarvestW[i]!,
    trace.alternatorW[i]!,
    trace.mainsW[i]!,
    trace.loadW[i]!,
    trace.unservedW[i]!,
    trace.ambientC[i]!,
    trace.cabinC[i]!,
    trace.ghiWm2[i]!,
    trace.poaWm2[i]!,
    ...trace.loads.map((load) => load.servedW[i]!),
    ...trace.loads.flatMap((load) => (load.insideC ? [load.insideC[i]!] : [])),
    ...trace.loads.flatMap((load) => (load.secondInsideC ? [load.secondInsideC[i]!] : [])),
  ];
}
