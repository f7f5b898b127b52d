import type { FindingArgs, WarningArgs } from '@stayput/core';
import type {
  ChargeCause,
  CircuitFault,
  CircuitFaultArgs,
  CircuitFindingArgs,
  CircuitRemarkArgs,
  LogNoteArgs,
  OverloadArgs,
} from '@stayput/core/model';
import { describe, expect, test } from 'vitest';
import { adviceText, FAULT_WORDS, REMARK_WORDS } from '../../packages/cli/src/words/circuit-words.js';
import { FINDING_WORDS } from '../../packages/cli/src/words/finding-words.js';
import { LOG_NOTE_WORDS, ROW_REASON_WORDS, shortfallText, signText } from '../../packages/cli/src/words/log-words.js';
import { WARNING_WORDS, worstDayText } from '../../packages/cli/src/words/run-words.js';
import { sentence, type Words } from '../../packages/cli/src/words/worded.js';

/** Arguments of every code, one set or several; the compiler asks for a code that is missing. */
type Samples<Args> = { readonly [Code in keyof Args]-?: readonly Args[Code][] };

const section = { sectionMm2: 2.5 };
const gauge = { sectionMm2: 3.308, gaugeAwg: '12' };
const FAULTS: Samples<CircuitFaultArgs> = {
  cable_overloaded: [
    { ...section, currentA: 40, ampacityA: 27.7128, ambientC: 40, fuseProtects: false },
    { ...gauge, currentA: 40, ampacityA: 33, ambientC: 50, fuseProtects: true },
  ],
  no_fuse_large_enough: [{ currentA: 450, largestFuseA: 500 }],
  no_fuse_protects: [{ currentA: 26, fuseA: 35, ampacityA: 27.7128 }],
  fuse_too_large: [
    { ...section, fittedFuseA: 40, ampacityA: 27.7128, fuseA: 10, largestFuseA: 25 },
    { ...section, fittedFuseA: 40, ampacityA: 27.7128, fuseA: null, largestFuseA: 25 },
  ],
  fuse_too_small: [{ fittedFuseA: 4, currentA: 5 }],
  fuse_opens_at_start: [{ fittedFuseA: 5, surgeA: 10 }],
  power_not_delivered: [{ powerW: 600.3 }],
  drop_too_large: [{ dropShare: 0.3712, currentA: 5, limitShare: 0.1 }],
  start_voltage_low: [
    { arrivesV: 9.66, currentA: 10, cutOutV: 10.4 },
    { arrivesV: 9.66, currentA: 10 },
  ],
};
const REMARKS: Samples<CircuitRemarkArgs> = {
  fuse_at_battery: [{}],
  fuse_at_both_ends: [{}],
  on_starter_battery: [{}],
  drop_delays_absorption: [{}],
  pwm_voltage_to_spare: [{ hotV: 15.79, hotC: 87.8, neededV: 14.45 }],
  pwm_voltage_scarce: [{ hotV: 13.4, hotC: 87.8, neededV: 14.45 }],
};
const circuit = <Code extends keyof CircuitFaultArgs>(code: Code): CircuitFindingArgs[] =>
  FAULTS[code].map((args) => ({
    name: 'pump',
    faults: [{ code, args, level: 'caution' } as CircuitFault],
    sectionMm2: 2.5,
    adviseMm2: 6,
    remark: { code: 'on_starter_battery', args: {} },
  }));
const cold = { series: 2, coldV: 88.4, coldC: -10, tenKelvinV: 2.4, maxInputV: 90, isLive: true, touchV: 60 };
const one = { ...cold, series: 1, coldV: 44.2, tenKelvinV: 1.2, maxInputV: 50, isLive: false };
const absorption = { absorptionV: 14.8, lowV: 14, highV: 14.6, chemistry: 'LFP' } as const;
const battery = { askedW: 2100, currentA: 165.2, maxDischargeA: 100, voltageV: 12.71, fromSoc: 1 };
const { maxDischargeA: _, ...noLimit } = battery;
const OVERLOADS: Samples<OverloadArgs> = {
  inverter_overload: [
    { names: ['kettle'], askedW: 1000, ratingW: 600 },
    { names: ['kettle', 'toaster'], askedW: 1300, ratingW: 1000 },
  ],
  inverter_surge: [
    { names: ['pump'], startW: 2400, surgeW: 1200 },
    { names: ['pump', 'kettle'], startW: 2400, surgeW: 1200 },
  ],
  battery_overload: [
    { ...battery, names: ['hob'] },
    { ...battery, names: ['hob', 'kettle'], fromSoc: 0.4 },
    { ...noLimit, names: ['winch'], voltageV: 11.1, disconnectV: 11.5 },
    { ...noLimit, names: ['winch'] },
  ],
};
const FINDINGS: Samples<FindingArgs> = {
  ...OVERLOADS,
  cable_overloaded: circuit('cable_overloaded'),
  no_fuse_large_enough: circuit('no_fuse_large_enough'),
  no_fuse_protects: circuit('no_fuse_protects'),
  fuse_too_large: circuit('fuse_too_large'),
  fuse_too_small: circuit('fuse_too_small'),
  fuse_opens_at_start: circuit('fuse_opens_at_start'),
  power_not_delivered: circuit('power_not_delivered'),
  drop_too_large: circuit('drop_too_large'),
  start_voltage_low: circuit('start_voltage_low'),
  no_cable_given: [{ circuits: ['lamp', 'pump'] }],
  charge_below_freezing: [{ chemistry: 'LFP', chargeMinC: -5 }],
  battery_in_weather: [{ mounted: 'outside' }, { mounted: 'engine bay' }],
  battery_in_engine_bay: [{}],
  hydrogen: [{}],
  hydrogen_when_overcharged: [{}],
  floor_low_for_lead: [{ floor: 0.3 }],
  disconnect_above_floor: [{ disconnect: 0.31, floor: 0.3 }],
  reconnect_close: [{ aboveV: 0.2, nominalV: 12 }],
  battery_fuse_not_named: [{}],
  no_loads: [{}],
  absorption_high: [absorption],
  absorption_low: [{ ...absorption, absorptionV: 13.8 }],
  controller_clips: [{ currentA: 10, maxW: 140.4, arrayW: 200 }],
  datasheet_differs: [{ sheetW: 180.2, powerW: 200 }],
  pwm_wastes_voltage: [{ vmpV: 20, lostShare: 0.352 }],
  absorption_late: [{ dropV: 0.8234 }],
  chargers_above_battery: [{ chargersA: 45.15, maxChargeA: 40 }],
  mains_above_battery: [{ currentA: 50, maxChargeA: 40 }],
  relay_with_lithium: [{}],
  relay_feeds_vehicle: [{ lowVoltageV: 12.6, restedV: 13.1, vehicleA: 30 }],
  relay_above_battery: [{ currentA: 82.4, maxChargeA: 25, ohm: 0.0124 }],
  alternator_short_when_hot: [{ leftA: 0, currentA: 30 }],
  nothing_charges: [{}],
  rarely_filled: [{ chargersA: 15.15, capacityAh: 400, minShare: 0.05 }],
  array_voltage_unknown: [
    { series: 2, coldV: 88.4, isLive: true, touchV: 60 },
    { series: 2, coldV: 59.7, isLive: false, touchV: 60 },
  ],
  array_voltage_destroys: [
    { ...cold, maxInputV: 80, neededV: 93.05 },
    { ...one, maxInputV: 40, neededV: 46.5 },
  ],
  array_voltage_scarce: [
    { ...cold, marginShare: 0.05, reachedC: -16.67 },
    { ...one, marginShare: 0.05 },
  ],
  array_voltage_enough: [{ ...cold, reachedC: -29.6 }, { ...one, reachedC: -58.3 }, one],
  cells_assumed: [{ powerW: 300, cells: 36, largeCells: 60 }],
  azimuth_of_flat: [{ azimuthDeg: 90, tiltDeg: 0 }],
  pwm_current_high: [
    { shortA: 9.6, brightA: 12, currentA: 11.9 },
    { shortA: 9.6, brightA: 12, currentA: 9.5 },
  ],
  fridge_cut_out_early: [
    { name: 'fridge', soc: 0.52, dropV: 0.8, cutOutV: 11.6, sectionMm2: 4 },
    { name: 'fridge', soc: 0.52, dropV: 0.8, cutOutV: 11.6 },
  ],
  fridge_rated_beyond_compressor: [{ name: 'fridge', ratedWh: 1500, maxWh: 1087.2, ambientC: 25, compressorW: 45 }],
  fridge_rated_falls: [{ name: 'fridge', coolC: 25, coolWh: 400, warmC: 32, warmWh: 330 }],
  fridge_rated_elsewhere: [
    { name: 'freezer', ratedWh: 330, ambientC: 25, insideC: 4, setpointC: -18, setWh: 1087.24, maxWh: 1450.1 },
    { name: 'freezer', ratedWh: 330, ambientC: 25, insideC: 4, setpointC: -18, setWh: 1087.24, maxWh: 800 },
  ],
  fridge_two_zones: [{ name: 'fridge', firstL: 45, firstC: 4, secondL: 15, secondC: -18 }],
  inverter_above_battery: [{ fullA: 54.35, maxDischargeA: 54 }],
  inverter_mains_voltage: [{}],
  inverter_without_loads: [{ whPerDay: 168 }],
  inverter_always_on: [{ whPerDay: 168 }],
  mains_without_charger: [{}],
  drive_without_alternator: [{}],
};
const WARNINGS: Samples<WarningArgs> = {
  ...OVERLOADS,
  load_cut_out: [{ name: 'inverter', cutOuts: 3, byDrop: 1, lowestSoc: 0.2, highestSoc: 0.31 }],
  loads_off: [
    { hours: 0.123, firstAt: '2026-06-10 02:30' },
    { hours: 60, firstAt: '2026-06-10 02:30' },
  ],
  fridge_cut_out: [
    { name: 'fridge', cutOuts: 1, byDrop: 1, lowestSoc: 0.62, highestSoc: 0.62 },
    { name: 'fridge', cutOuts: 2, byDrop: 0, lowestSoc: 0.11, highestSoc: 0.15 },
    { name: 'fridge', cutOuts: 5, byDrop: 2, lowestSoc: 0.11, highestSoc: 0.62 },
  ],
  food_warm: [
    { name: 'fridge', hours: 3.5, warmestC: 9.04, warmAboveC: 5 },
    { name: 'freezer', hours: 72, warmestC: -3.26, warmAboveC: -15 },
  ],
  food_frozen: [{ name: 'fridge', hours: 9, freezesC: -1 }],
  fridge_cannot_hold: [{ name: 'freezer', hours: 1.5, setpointC: -18 }],
  inverter_overloaded: [{ hours: 1.5 }],
  cold_charge: [{ hours: 2.5 }],
  rarely_full: [{ days: 8 }],
  mains_without_charger: [{ hours: 3 }],
  drive_without_alternator: [{ hours: 2 }],
  cabin_not_warm: [{ heatedC: 18, hours: 9, coldestC: 3.21 }],
  cabin_not_heated: [{ meanC: 5.8 }],
  weather_shift: [{ text: 'the light is an hour late' }],
  starter_side: [{ name: 'winch' }],
};

const LOG_NOTES: Samples<LogNoteArgs> = {
  log_zone: [{}],
  log_newest_first: [{}],
  log_sorted: [{}],
  log_held: [
    { headings: ['PV W'], by: 'change' },
    { headings: ['PV W', 'PV V'], by: 'devices' },
  ],
  log_on_change: [{ holdH: 0.25 }, { holdH: 3.14 }],
  log_sign: [{ column: 'current', positive: 'charging' }],
  log_night_harvest: [
    { dayH: 23.75, zone: 'UTC', sun: { nightShare: 0.91, clock: 'UTC-08:00' } },
    { dayH: 17, zone: 'Europe/Lisbon', sun: { nightShare: 0, clock: 'UTC-05:00' } },
    { dayH: 2, zone: 'UTC', lonDeg: -74.6 },
  ],
  log_columns_summed: [{ column: 'solarPower', headings: ['PV 1 (W)', 'PV 2 (W)'] }],
  log_column_first: [{ column: 'ambient', headings: ['Air (C)', 'Outside (C)'] }],
  log_unit: [{ heading: 'Batt', unit: 'V' }],
  log_unit_found: [
    { headings: ['P'], unit: 'kW', by: { of: 'product', watts: ['P'], amps: ['I'], ratio: 0.001 } },
    { headings: ['I'], unit: 'mA', by: { of: 'product', watts: ['P'], amps: ['I'], ratio: 1000 } },
    { headings: ['I'], unit: 'mA', by: { of: 'capacity', unit: 'A', ah: 103456 } },
    { headings: ['I'], unit: 'mA', by: { of: 'size', unit: 'A', most: 12345 } },
    { headings: ['Solar'], unit: 'kW', by: { of: 'battery', times: 987.2 } },
  ],
  log_one_way: [{ column: 'current', heading: 'Charge (A)' }],
  log_turned: [
    { column: 'solarPower', headings: ['Solar (W)'] },
    { column: 'loadPower', headings: ['Load (W)'] },
  ],
  log_solar_side: [
    { headings: ['PV (A)'], side: 'panel', by: 'power' },
    { headings: ['PV (A)'], side: 'battery', by: 'power' },
    { headings: ['PV (A)'], side: 'panel', by: 'current' },
    { headings: ['PV (A)'], side: 'battery', by: 'current' },
  ],
};

describe.each([
  ['circuit faults', FAULT_WORDS, FAULTS],
  ['circuit remarks', REMARK_WORDS, REMARKS],
  ['findings', FINDING_WORDS, FINDINGS],
  ['warnings', WARNING_WORDS, WARNINGS],
  ['log notes', LOG_NOTE_WORDS, LOG_NOTES],
] as [string, Words<object>, Samples<object>][])('%s', (_kind, words, samples) => {
  test('every code has a sentence, and there is none for a code that does not exist', () => {
    expect(Object.keys(words).sort()).toEqual(Object.keys(samples).sort());
  });

  test.each(Object.entries(samples) as [string, readonly object[]][])('%s', (code, sets) => {
    const said = sets.map((args) => sentence(words, { code, args } as never));
    for (const text of said) {
      expect(text.length).toBeGreaterThan(15);
      expect(text).not.toMatch(/undefined|null|NaN|Infinity|\[object|\d\.\d{4,}|\s{2}/);
      // words with two meanings, which a reader in the field would not say
      expect(text).not.toMatch(/\b(bears?|mends?|told|stands?)\b/);
    }
    expect(new Set(said).size, 'each set of arguments is there for words of its own').toBe(said.length);
  });
});

const finding = <Code extends keyof FindingArgs>(code: Code, k = 0) =>
  sentence(FINDING_WORDS, { code, args: FINDINGS[code][k] } as never);
const warning = <Code extends keyof WarningArgs>(code: Code, k = 0) =>
  sentence(WARNING_WORDS, { code, args: WARNINGS[code][k] } as never);

const logNote = <Code extends keyof LogNoteArgs>(code: Code, k = 0) =>
  sentence(LOG_NOTE_WORDS, { code, args: LOG_NOTES[code][k] } as never);

test('how a log was read', () => {
  expect(logNote('log_night_harvest')).toBe(
    "the harvest is centred on 23:45 solar time, 91 % of it while the sun is down: the time zone UTC makes night of day; by the sun the log's clock runs at about UTC-08:00: --zone UTC-08:00, or the name of the zone",
  );
  expect(logNote('log_night_harvest', 1)).not.toContain('sun is down');
  expect(logNote('log_night_harvest', 2)).toMatch(/stems from about 75 degrees west/);
  expect(logNote('log_on_change')).toContain('for 15 min at most');
  expect(logNote('log_unit_found')).toBe('"P" names no unit: "P" is a thousandth of volts x "I", so it is in kW');
  expect(signText({ positive: 'discharging', by: 'voltage' })).toBe('the voltage falls as it grows');
  expect(signText({ positive: 'charging', by: 'sun' })).toBe('it is higher in the sun than in the dark');
});

test('what of a log is lost comes with what would help', () => {
  expect(
    shortfallText({
      of: 'rows',
      share: 0.52,
      reason: 'covered',
      advice: [{ name: 'sort' }, ' reads rows in any order'],
    }),
  ).toBe(
    '52 % of the rows are not used: its time lies before rows already read: a repeated export, or a clock set back. What follows is of the rest. What would help: --sort reads rows in any order.',
  );
  expect(shortfallText({ of: 'hours', share: 0.2 })).toMatch(/^20 % of the hours have no rows\. .*--rejects FILE/);
  expect(shortfallText({ of: 'cells', share: 0.3, heading: 'PV (W)' })).toMatch(
    /^30 % of one column's cells .*"PV \(W\)" holds text/,
  );
  expect(new Set(Object.values(ROW_REASON_WORDS)).size).toBe(Object.keys(ROW_REASON_WORDS).length);
});

test('a circuit: faults in order, what would do, what is to be known', () => {
  expect(finding('drop_too_large')).toBe(
    'pump: loses 37 % at 5 A, more than 10 %; use at least 6 mm² for pump; on the starter battery',
  );
  const [overloaded] = circuit('cable_overloaded');
  expect(adviceText({ ...overloaded!, adviseMm2: null })).toMatch(
    /^40 A is more than 2.5 mm² may carry here \(27.7 A at 40 °C\): it can burn; no standard cable does: shorten the run or split the circuit;/,
  );
  expect(adviceText({ ...overloaded!, adviseMm2: 2.5 })).toMatch(/; the cable itself is thick enough;/);
  expect(adviceText({ ...overloaded!, adviseMm2: 3.308, adviseAwg: '12' })).toMatch(
    /use at least 12 AWG \(3.31 mm²\) for pump/,
  );
});

test('a fuse that is only too small for the start asks for no other cable', () => {
  const [{ faults, ...rest }] = circuit('fuse_opens_at_start') as [CircuitFindingArgs];
  expect(adviceText({ ...rest, faults: faults.map((fault) => ({ ...fault, level: 'note' })) })).toBe(
    'the 5 A fuse may open when it starts with 10 A; on the starter battery',
  );
});

test('panels that destroy their controller, and what would do', () => {
  expect(finding('array_voltage_destroys')).toBe(
    '2 panels in series give 88.4 V at -10 °C when nothing is drawn (2.4 V more for each 10 K colder), and the controller is made for 80 V: the controller is destroyed, and it can burn; put fewer in series, or use a controller made for 94 V or more; above 60 V touching it is dangerous',
  );
  expect(finding('array_voltage_destroys', 1)).toMatch(/; use a controller made for 47 V or more$/);
  expect(finding('array_voltage_enough', 1)).toMatch(/^the panel gives 44\.2 V .*, which is enough down to -58 °C$/);
});

test('a fridge that cuts out, and food too warm', () => {
  expect(finding('fridge_cut_out_early')).toMatch(
    /still at 52 %: .* 0\.80 V are lost .*; 4 mm² or more keeps it running$/,
  );
  expect(finding('fridge_cut_out_early', 1)).toMatch(/; no cable cures that: a lower cut-out would/);
  expect([0, 1, 2].map((k) => warning('fridge_cut_out', k))).toEqual([
    'fridge cut out once, always by the drop in its cable; the battery was then at 62 %',
    'fridge cut out twice, as the battery itself was low; the battery was then never below 11 %, and once at 15 %',
    'fridge cut out 5 times, 2 of them by the drop in its cable; the battery was then never below 11 %, and once at 62 %',
  ]);
  expect(warning('food_warm')).toBe(
    'fridge was too warm for food for 3.5 h, 9.0 °C at the warmest (too warm is above 5 °C: common guidance of food agencies for chilled food)',
  );
  expect(warning('food_warm', 1)).toMatch(/for 3\.0 days, -3\.3 °C .*above -15 °C: .*89\/108.* frozen/);
});

test.each([
  [0.123, '0.12 h'],
  [47, '47 h'],
  [48, '2.0 days'],
  [60, '2.5 days'],
])('%d h off are said as %s', (hours, words) => {
  const text = sentence(WARNING_WORDS, { code: 'loads_off', args: { hours, firstAt: '2026-06-10 02:30' } });
  expect(text).toBe(`the battery was cut off for ${words}: first on 2026-06-10 02:30`);
});

describe('the worst day', () => {
  const NONE = { sun: 0, engine: 0, mains: 0, rating: 0, relay: 0, acceptance: 0, cold: 0, full: 0 };
  const text = (hours: Partial<Record<ChargeCause, number>>, idleHours = 0, days = 2) =>
    worstDayText({ worstDay: { date: '2026-06-10', lowestSoc: 0.3, hours: { ...NONE, ...hours }, idleHours } }, days);

  test('ranks the causes by their hours, leaves out brief ones, and counts the rest of the day as idle', () => {
    expect(text({ acceptance: 0.75, sun: 9, cold: 1.5, full: 0.2 }, 11.55)).toBe(
      'On the worst day, 10 Jun, the sun was the limit (9 h), then the cold (1.5 h), then the battery’s acceptance (45 min); in the other 12 h nothing charged.',
    );
  });

  test('names each cause', () => {
    expect(text({ engine: 8, mains: 7, rating: 3, relay: 2, full: 1.5, sun: 1 })).toBe(
      'On the worst day, 10 Jun, the alternator was the limit (8 h), then the mains (7 h), then the permitted current (3 h), then the small voltage across the relay and its cables (2 h), then a full battery (1.5 h), then the sun (1 h).',
    );
  });

  test('a quarter of an hour is worth its words, and an hour without charge too', () => {
    expect(text({ cold: 0.25 }, 22.75)).toMatch(
      /the cold was the limit \(15 min\); in the other 23 h nothing charged\.$/,
    );
    expect(text({ cold: 22 }, 1)).toMatch(/\(22 h\); in the other 1 h nothing charged\.$/);
    expect(text({ cold: 22.25 }, 0.75)).toMatch(/\(22 h\)\.$/);
  });

  test('a day on which nothing charged, and a run of one day', () => {
    expect(text({}, 23)).toBe('On the worst day, 10 Jun, nothing charged the battery.');
    expect(text({}, 23, 1)).toBe('On 10 Jun nothing charged the battery.');
    expect(text({ cold: 23 }, 0, 1)).toBe('On 10 Jun the cold was the limit (23 h).');
  });
});

test('one load that is too much, and several that are only together', () => {
  expect(finding('inverter_overload')).toBe(
    "kettle asks for 1,000 W, more than the inverter's 600 W: it switches off; use an inverter of 1,000 W or more",
  );
  expect(finding('battery_overload', 1)).toBe(
    'hob and kettle at the same time ask for 2,100 W of the battery, 165 A, more than the 100 A that it may give at 40 % charge and below: it cuts everything off; run them one after the other',
  );
  expect(finding('battery_overload', 2)).toMatch(/its voltage falls to 11\.1 V, below the disconnect of 11\.5 V/);
});
