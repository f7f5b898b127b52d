/** The hand worksheet against numbers outside the project. The numeric annexes of the standards could not be confirmed. */
import {
  ARRAY_TO_LOAD,
  arrayCurrentA,
  arrayW,
  autonomyDays,
  BATTERY_EFFICIENCY,
  correctedDailyAh,
  dailyYieldWh,
  modulesFor,
  storageDays,
  storageFor,
  temperatureMultiplier,
  WIRE_EFFICIENCY,
} from '../../packages/core/src/study/size/worksheet.js';
import type { PublishedCheck } from './check.js';

const recomputed = 'recomputed from the published formula' as const;
const HANDBOOK =
  'order of SAND87-7023, Stand-Alone Photovoltaic Systems: A Handbook of Recommended Design Practices, 1995, and IEEE 1013; a worked example made up for the purpose';

/** name, number, W, hours a day */
const LOADS = [
  ['LED lights', 2, 6, 4],
  ['fridge compressor', 1, 45, 9.6],
  ['water pump', 1, 48, 0.2],
  ['phones', 2, 8, 3],
  ['laptop (12 V)', 1, 60, 2.5],
  ['fan', 1, 18, 6],
  ['diesel heater', 1, 20, 5],
] as const;
const LOAD_WH = [48, 432, 9.6, 48, 150, 108, 100] as const;
const loadWh = ([, number, watts, hours]: (typeof LOADS)[number]) => number * watts * hours;
const totalWh = () => LOADS.reduce((sum, load) => sum + loadWh(load), 0);
const corrected = () => correctedDailyAh(totalWh() / 12, WIRE_EFFICIENCY, BATTERY_EFFICIENCY.lead);
/** at 15.6 °C, in the widely reprinted worksheet */
const MULTIPLIER = 1.11;

export const sizingChecks: PublishedCheck[] = [
  {
    quantity: 'hand worksheet: battery from energy, autonomy, depth and temperature',
    unit: 'Ah at 12 V, Wh',
    source: 'worked example of a public page with the widely reprinted worksheet, simplified steps of IEEE 1013',
    origin: 'published',
    tolerance: 0.1,
    cases: [
      { at: 'stored [Wh]', expected: 2500, got: () => storageFor(1000, 2.5, 1) },
      { at: 'within its depth [Wh]', expected: 5000, got: () => storageFor(1000, 2.5, 0.5) },
      { at: 'at 4.4 °C [Wh]', expected: 6500, got: () => storageFor(1000, 2.5, 0.5, 1.3) },
      {
        at: "at 4.4 °C with the sheet's own multiplier [Wh]",
        expected: 6500,
        got: () => storageFor(1000, 2.5, 0.5, temperatureMultiplier('AGM', 4.4)),
      },
      { at: 'battery [Ah]', expected: 541.7, got: () => storageFor(1000, 2.5, 0.5, 1.3) / 12 },
    ],
  },
  {
    quantity: 'hand worksheet, lead-acid: loads to battery to array',
    unit: 'as named',
    source: HANDBOOK,
    origin: recomputed,
    tolerance: 0.001,
    relative: true,
    cases: [
      ...LOADS.map((load, k) => ({ at: `${load[0]} [Wh]`, expected: LOAD_WH[k]!, got: () => loadWh(load) })),
      { at: 'all loads [Wh]', expected: 895.6, got: totalWh },
      { at: 'a day [Ah]', expected: 74.633, got: () => totalWh() / 12 },
      { at: 'with losses [Ah]', expected: 84.618, got: corrected },
      { at: 'battery [Ah]', expected: 563.56, got: () => storageFor(corrected(), 3, 0.5, MULTIPLIER) },
      {
        at: 'batteries of 100 Ah',
        expected: 6,
        got: () => Math.ceil(storageFor(corrected(), 3, 0.5, MULTIPLIER) / 100),
      },
      { at: 'array [A]', expected: 28.206, got: () => arrayCurrentA(corrected(), 3) },
      { at: 'modules, exact', expected: 5.209, got: () => modulesFor(arrayCurrentA(corrected(), 3), 5.7, 0.95) },
      { at: 'modules', expected: 6, got: () => Math.ceil(modulesFor(arrayCurrentA(corrected(), 3), 5.7, 0.95)) },
      { at: 'autonomy of 600 Ah [days]', expected: 3.194, got: () => autonomyDays(600, corrected(), 0.5, MULTIPLIER) },
    ],
  },
  {
    quantity: 'hand worksheet, LFP with a tracking controller: energy method',
    unit: 'as named',
    source: 'energy balance; a worked example made up for the purpose',
    origin: recomputed,
    tolerance: 0.001,
    relative: true,
    cases: [
      { at: 'battery [Wh]', expected: 2172.5, got: () => storageFor(895.6 / 0.97, 2, 0.85) },
      { at: 'battery at 12.8 V [Ah]', expected: 169.72, got: () => storageFor(895.6 / 0.97, 2, 0.85) / 12.8 },
      { at: 'array [W]', expected: 423, got: () => arrayW(correctedDailyAh(895.6, 0.97, 0.97), 3, 0.75) },
    ],
  },
  {
    quantity: 'days of storage by the fewest peak sun hours',
    unit: 'days',
    source: 'Messenger & Ventre, Photovoltaic Systems Engineering: straight lines fitted to the curves of SAND87-7023',
    origin: 'from memory',
    tolerance: 0.05,
    cases: [
      ...[16.4, 14.5, 12.6, 10.7, 8.8, 6.9].map((expected, k) => ({
        at: `critical load, ${k + 1} h`,
        expected,
        got: () => storageDays(k + 1, 'critical'),
      })),
      ...[4.1, 3.62, 3.14, 2.66, 2.18, 1.7].map((expected, k) => ({
        at: `other load, ${k + 1} h`,
        expected,
        got: () => storageDays(k + 1, 'other'),
      })),
    ],
  },
  {
    quantity: 'array over load',
    unit: '1',
    source: 'IEEE 1562-2007, clause on the array-to-load ratio',
    origin: 'from memory',
    tolerance: 1e-12,
    cases: [
      { at: 'low importance, least', expected: 1.1, got: () => ARRAY_TO_LOAD.other.low },
      { at: 'low importance, most', expected: 1.2, got: () => ARRAY_TO_LOAD.other.high },
      { at: 'critical, least', expected: 1.3, got: () => ARRAY_TO_LOAD.critical.low },
      { at: 'critical, most', expected: 1.4, got: () => ARRAY_TO_LOAD.critical.high },
    ],
  },
  {
    quantity: 'days of autonomy',
    unit: 'days',
    source: 'definition: usable capacity over the load of a day, nothing charging',
    origin: recomputed,
    tolerance: 1e-12,
    cases: [{ at: '120 Ah usable, 48 Ah a day', expected: 2.5, got: () => autonomyDays(120, 48, 1) }],
  },
  {
    quantity: 'daily yield by performance ratio',
    unit: 'Wh, Ah at 13 V',
    source: 'E = P·H·PR; peak sun hours are irradiation over 1 kW/m² by definition',
    origin: recomputed,
    tolerance: 0.001,
    cases: [
      { at: '100 W, 2.5 kWh/m², 0.75 [Wh]', expected: 187.5, got: () => dailyYieldWh(100, 2.5, 0.75) },
      { at: 'the same [Ah]', expected: 14.423, got: () => dailyYieldWh(100, 2.5, 0.75) / 13 },
      { at: '1 kW, 4.6 kWh/m² [peak sun hours]', expected: 4.6, got: () => dailyYieldWh(1000, 4.6, 1) / 1000 },
    ],
  },
];
