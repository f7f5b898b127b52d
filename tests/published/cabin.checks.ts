/** Heated cabins against the outside, followed by the run itself. */
import { readRig, withoutTrip } from '../../packages/core/src/rig/index.js';
import { simulate } from '../../packages/core/src/simulate/index.js';
import { type PublishedCheck, rangeChecks } from './check.js';

/** The cabin's air over two days of one temperature and hardly any light, in steps of ten minutes [°C]. */
function cabinAt(airC: number, cabin: string): Float64Array {
  const { rig } = readRig(`
name: invented
battery: { chemistry: LFP, capacity: 500 Ah }
cabin: { gain: 0 K, lag: 0 h, ${cabin} }
loads: [{ name: fan, power: 10 W }]`);
  const base = withoutTrip({ at: '0, 0', from: '2026-03-20', days: 2 });
  const all = (value: number) => Array<number>(12).fill(value);
  const months = { ghiKwhM2Day: all(5), tMaxC: all(airC), tMinC: all(airC) };
  const stops = base.stops.map((stop) => ({ ...stop, months }));
  return simulate(rig, { ...base, weather: { kind: 'dull' }, startSoc: 1, stops }).trace.cabinC;
}
/** Litres an hour of a heater that gives all it can, by when a litre is burnt. */
const litresPerHour = () => 6 / cabinAt(-15, 'heated: 20 degC, heater: { fuel: 1 L }').filter((c) => c > 19.9).length;

export const cabinChecks: PublishedCheck[] = [
  {
    quantity: 'air in a cabin whose heater is right for it, at −15 °C outside',
    unit: '°C',
    source: 'EN 1646-1, heating grade 3: 20 °C inside at −15 °C outside',
    origin: 'published',
    tolerance: 0.01,
    cases: [{ at: 'asked to keep 22 °C', expected: 20, got: () => cabinAt(-15, 'heated: 22 degC')[200]! }],
  },
  ...rangeChecks(
    'diesel of a heater of 2 kW at its most',
    'L/h',
    'data of diesel air heaters of 2 kW: 0.1 to 0.28 L/h for 0.8 to 2.2 kW; 42.8 MJ/kg, 75 to 85 % efficient',
    'common practice, no source',
    [['20 °C inside at −15 °C', 0.22, 0.28, litresPerHour]],
  ),
];
