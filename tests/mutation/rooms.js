// Which tests a room of core is tried against: its own, what outside sources say of it, and what must hold for any input. They run in this
// order until one notices the mutant, so cheap and telling ones stand first. Tests that hold the model against itself (memory, determinism)
// and those that pass through a room on the way to another are left out: with every test of the house a score could only be higher.
export const ROOMS = {
  wire: [
    'core/wire/conductor',
    'core/wire/fuse',
    'core/wire/advise',
    'core/wire/demands',
    'core/wire/circuits',
    'published/wires',
    'property/wire.property',
  ],
  battery: [
    'core/battery/kinetic',
    'core/battery/model',
    'core/battery/temperature',
    'core/battery/wear',
    'core/battery/bank',
    'published/battery',
    'property/battery.property',
  ],
  simulate: [
    'core/simulate/loop',
    'core/simulate/conditions',
    'core/simulate/assemble-battery',
    'core/simulate/assemble-solar',
    'core/simulate/assemble-chargers',
    'core/simulate/assemble-loads',
    'core/simulate/run-steps',
    'core/simulate/warm-up-pieces',
    'core/simulate/variants',
    'core/simulate/describe',
    'core/simulate/warnings',
    'core/simulate/summarise',
    'core/simulate/charge-report',
    'core/simulate/reports',
    'core/simulate/ledger',
    'core/simulate/step-rows',
    'core/simulate/run',
    'core/simulate/ledger-closes',
    'core/simulate/findings',
    'core/simulate/findings-bounds',
    'core/simulate/check-controller',
    'core/simulate/check-fridge',
    'core/simulate/check',
    'core/simulate/simulate',
    'core/simulate/shows',
    'core/simulate/collapse',
    'core/simulate/near-full',
    'core/simulate/loads-in-run',
    'core/simulate/fridge-in-run',
    'core/simulate/loop-in-c',
    'property/simulate.property',
  ],
  sky: [
    'core/sky/sun-formulas',
    'core/sky/sky-formulas',
    'core/sky/plane-formulas',
    'core/sky/sun',
    'core/sky/sky',
    'core/sky/plane',
    'published/sun',
    'published/sky',
    'published/plane',
  ],
  place: ['core/place/places', 'core/place/itinerary', 'core/place/civil-time'],
  weather: [
    'core/weather/clearness',
    'core/weather/ambient-course',
    'core/weather/day-sequence',
    'core/weather/made-weather',
    'core/weather/weather-grid',
    'core/weather/csv-stamps',
    'core/weather/weather-csv',
    'core/weather/epw',
    'core/weather/weather-series',
    'core/weather/weather-to-grid',
    'core/weather/light-shift',
    'core/weather/wind-column',
    'core/weather/weather-file',
    'published/climate',
    'core/weather/weather-climate',
  ],
  table: ['core/table/time-stamp', 'core/table/column-wording', 'core/weather/csv-stamps'],
  math: ['core/math/normal-distribution', 'core/math/change-point'],
};

/**
 * Tests of the room that the environment's ROOM names, in the order to run them.
 * @returns {string[]}
 */
export function testsOfRoom() {
  const { ROOM } = process.env;
  const tests = ROOMS[ROOM];
  if (!tests) throw new RangeError(`ROOM must be one of ${Object.keys(ROOMS).join(', ')}, got ${ROOM}`);
  return tests;
}
