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
    'core/simulate/run-part',
    'core/simulate/rehearse-pieces',
    'core/simulate/variants',
    'core/simulate/describe',
    'core/simulate/warnings',
    'core/simulate/summarise',
    'core/simulate/charge-report',
    'core/simulate/reports',
    'core/simulate/account',
    'core/simulate/step-rows',
    'core/simulate/run-whole',
    'core/simulate/books',
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
  place: [
    'core/place/places',
    'core/place/itinerary',
    'core/place/civil-time',
    'core/place/normal-distribution',
    'core/place/clearness',
    'core/place/sun-formulas',
    'core/place/sky-formulas',
    'core/place/plane-formulas',
    'core/place/ambient-course',
    'core/place/day-sequence',
    'core/place/made-weather',
    'core/place/sun',
    'core/place/sky',
    'core/place/plane',
    'core/place/weather-grid',
    'core/place/time-stamp',
    'core/place/column-wording',
    'core/place/csv-stamps',
    'core/place/weather-csv',
    'core/place/epw',
    'core/place/weather-series',
    'core/place/weather-to-grid',
    'core/place/light-shift',
    'core/place/wind-column',
    'core/place/weather-file',
    'published/sun',
    'published/sky',
    'published/plane',
    'published/climate',
    'core/place/weather-climate',
  ],
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
