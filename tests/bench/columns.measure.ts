import { conditionsFor, readRig, withoutTrip } from '@stayput/core';
import { assemble } from '../../packages/core/src/simulate/inputs/assemble.js';
import { runOf } from '../../packages/core/src/simulate/run/simulate.js';
import { LOOP_CASES } from './cases.js';
import type { Measure } from './report.js';

const REPEATS = 9;

/** A year at 10 min with everything changed: weather and sun, the rig's columns, the loop with its ledger. */
export function benchColumns(): Measure[] {
  const { rig } = readRig(LOOP_CASES[0]!.rig);
  const trip = withoutTrip({ at: { latDeg: 41.7, lonDeg: -8.8 }, from: '2026-01-01', days: 365 });
  const least = { conditions: Infinity, columns: Infinity, run: Infinity };
  for (let k = 0; k < REPEATS; k++) {
    const times = [performance.now()];
    const conditions = conditionsFor(rig, trip, { seed: k });
    times.push(performance.now());
    const assembled = assemble(rig, conditions, 0.9);
    times.push(performance.now());
    runOf(assembled);
    times.push(performance.now());
    (['conditions', 'columns', 'run'] as const).forEach((part, at) => {
      least[part] = Math.min(least[part], times[at + 1]! - times[at]!);
    });
  }
  const { conditions, columns, run } = least;
  return [
    { name: 'columns: sun and made weather of a year', value: conditions, unit: 'ms' },
    { name: "columns: the rig's open-loop columns of a year", value: columns, unit: 'ms' },
    { name: 'columns: loop and ledger of a year', value: run, unit: 'ms' },
    { name: 'columns: a year with everything changed', value: conditions + columns + run, unit: 'ms', goal: 20 },
  ];
}
