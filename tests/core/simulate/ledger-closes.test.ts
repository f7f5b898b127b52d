import { type Run, readRig, simulate, traceHeader, traceRow, withoutTrip } from '@stayput/core';
import { describe, expect, test } from 'vitest';

const sum = (of: Readonly<Record<string, number>>) => Object.values(of).reduce((total, one) => total + one, 0);

/** Two clear days of June, after two hours of driving, with three hours on mains a day; in steps of half an hour. */
function run(yaml: string, startSoc = 0.5): Run {
  const { rig } = readRig(`name: invented\n${yaml}`);
  const trip = withoutTrip({ at: '45, 10', from: '2026-06-10', days: 2 });
  const stops = trip.stops.map((stop) => ({ ...stop, driveH: 2, mainsH: 3 }));
  return simulate(rig, { ...trip, weather: { kind: 'clear' }, startSoc, stops }, { stepH: 0.5 });
}

const RIGS = {
  'MPPT, DC-DC and mains, every cable': `
battery: { chemistry: LFP, capacity: 200 Ah, cable: { length: 1 m, section: 16 mm2 } }
solar: [{ name: roof, power: 200 W, controller: { kind: MPPT, current: 10 A }, cable: { length: 6 m, section: 2.5 mm2 }, outputCable: { length: 3 m, section: 4 mm2 } }]
alternator: { rating: 120 A, charger: { kind: dcdc, current: 30 A, efficiency: 90 % }, cable: { length: 5 m, section: 10 mm2 }, outputCable: { length: 2 m, section: 10 mm2 } }
mains: { current: 15 A, cable: { length: 3 m, section: 4 mm2 } }
loads: [{ name: lamp, power: 30 W, cable: { length: 5 m, section: 1 mm2 } }, { name: pump, current: 2 A, cable: { length: 4 m, section: 1 mm2 } }]`,
  'PWM and relay, lead-acid outside': `
battery: { chemistry: AGM, capacity: 100 Ah, stands: outside }
solar: [{ name: roof, power: 100 W, count: 2, controller: { kind: PWM, current: 20 A }, cable: { length: 6 m, section: 4 mm2 }, outputCable: { length: 2 m, section: 4 mm2 } }, { name: side, power: 50 W, tilt: 60 deg, azimuth: 90 deg, controller: { kind: PWM, current: 10 A } }]
alternator: { rating: 90 A, charger: { kind: relay }, cable: { length: 5 m, section: 16 mm2 } }
loads: [{ name: lamp, power: 20 W, when: "20:00 to 23:00" }, { name: fan, power: "clamp(2 * (cabin - 15), 0, 30)" }]`,
  'an inverter asked for more than its rating, and a load that looks at the charge': `
battery: { chemistry: LFP, capacity: 100 Ah }
inverter: { rating: 300 W, standby: 8 W, on: always, cable: { length: 1 m, section: 10 mm2 } }
solar: [{ name: roof, power: 300 W }]
loads: [{ name: kettle, power: 500 W, when: "12:00 to 13:00", inverter: true }, { name: laptop, power: 60 W, inverter: true }, { name: wise, power: "soc > 0.4 ? 40 : 5" }, { name: wiser, power: "soc > 0.6 ? 20 : 0" }]`,
  'two fridges that a small battery cannot feed': `
battery: { chemistry: flooded, capacity: 40 Ah, disconnect: 40 %, reconnect: 50 %, floor: 50 % }
solar: [{ name: roof, power: 60 W }]
loads: [{ name: fridge, kind: fridge, volume: 45 L, setpoint: 4 degC, cable: { length: 6 m, section: 1.5 mm2 } }, { name: freezer, kind: fridge, volume: 30 L, setpoint: -18 degC, insulation: 40 mm }, { name: lamp, power: 15 W }]`,
  'a bank of 24 V with a heater': `
battery: { chemistry: LFP, capacity: 100 Ah, series: 2, stands: outside, heater: { power: 60 W, below: 30 degC } }
solar: [{ name: roof, power: 200 W, count: 2, series: 2 }]
mains: { current: 10 A }
loads: [{ name: lamp, power: 30 W }, { name: winch, current: 50 A, starterSide: true }]`,
} as const;

describe.each(Object.entries(RIGS))('%s', (_name, yaml) => {
  test.each([0.5, 0.05, 0.98])('every watt-hour is recorded once, from %f full', (startSoc) => {
    const { summary: s, daily, loads, charging, battery, trace } = run(yaml, startSoc);
    const throughput = s.pvHarvestWh + s.alternatorWh + s.mainsWh + s.loadWh + sum(s.lossWh);
    const balance = s.pvHarvestWh + s.alternatorWh + s.mainsWh - s.loadWh - sum(s.lossWh) - s.storedChangeWh;
    expect(Math.abs(balance)).toBeLessThan(1e-9 * throughput);
    expect(Math.abs(s.ledgerErrorWh)).toBeLessThan(1e-9 * throughput);
    for (const day of daily) {
      const ofDay = day.pvHarvestWh + day.alternatorWh + day.mainsWh - day.loadWh - day.lossWh - day.storedChangeWh;
      expect(Math.abs(ofDay)).toBeLessThan(1e-9 * throughput);
      expect(sum(day.limitH)).toBeCloseTo(24, 9);
    }
    for (const loss of Object.values(s.lossWh)) expect(loss).toBeGreaterThanOrEqual(-1e-9);
    expect(s.pvHarvestWh + s.pvSpilledWh).toBeCloseTo(s.pvAvailableWh, 6);
    expect(sum(charging.spilledWh)).toBeCloseTo(s.pvSpilledWh, 6);
    expect(loads.reduce((total, load) => total + load.servedWh, 0)).toBeCloseTo(s.loadWh, 6);
    expect(loads.reduce((total, load) => total + load.unservedWh, 0)).toBeCloseTo(s.unservedWh, 6);
    for (const load of loads) {
      expect(load.servedWh).toBeGreaterThanOrEqual(0);
      expect(load.unservedWh).toBeGreaterThanOrEqual(-1e-9);
      expect(load.dutyCycle >= 0 && load.dutyCycle <= 1 + 1e-12).toBe(true);
    }
    // Through the battery's terminals went what came from outside, less what was used and lost outside of it.
    const outside = s.pvHarvestWh + s.alternatorWh + s.mainsWh - s.loadWh - (sum(s.lossWh) - s.lossWh.battery!);
    expect(Math.abs(battery.chargedWh - battery.dischargedWh - outside)).toBeLessThan(1e-9 * throughput);
    // In alone, as a meter of volts and amps would count it: means over a step, so not quite the same where one is split.
    const metered = trace.batteryV.reduce((wh, volts, i) => wh + Math.max(0, volts * trace.batteryA[i]!), 0);
    expect(Math.abs(battery.chargedWh - metered * trace.grid.stepH)).toBeLessThanOrEqual(0.02 * battery.chargedWh);
    expect(battery.lossWh).toBeCloseTo(s.lossWh.battery!, 9);
    expect(s.endSoc).toBe(trace.soc.at(-1));
    expect(s.lowestSoc).toBe(Math.min(startSoc, ...trace.soc));
    expect(battery.coldestC).toBe(Math.min(...trace.batteryC));
    expect(battery.warmestC).toBe(Math.max(...trace.batteryC));
  });
});

test('losses are where they arise: each cable and box that is there, and no other', () => {
  const lossOf = (name: keyof typeof RIGS) => run(RIGS[name]).summary.lossWh;
  const full = lossOf('MPPT, DC-DC and mains, every cable');
  for (const place of [
    'panelCable',
    'solarController',
    'controllerCable',
    'alternatorCable',
    'dcdcCharger',
    'dcdcCable',
    'mainsCharger',
    'mainsCable',
    'battery',
    'batteryCable',
    'loadCables',
  ])
    expect(full[place], place).toBeGreaterThan(0.1);
  expect([full.batteryHeater, full.inverter]).toEqual([0, 0]);
  const relay = lossOf('PWM and relay, lead-acid outside');
  expect(relay.alternatorCable).toBeGreaterThan(1);
  expect([relay.dcdcCharger, relay.dcdcCable, relay.mainsCharger, relay.mainsCable]).toEqual([0, 0, 0, 0]);
  expect(lossOf('a bank of 24 V with a heater').batteryHeater).toBeGreaterThan(100);
});

test('a DC-DC charger gives its rating for two hours of driving, and loses by its efficiency', () => {
  const { summary: s } = run(RIGS['MPPT, DC-DC and mains, every cable'], 0.3);
  // 30 A for 2 h at 12.8 to 14.2 V: 768 to 852 Wh out; in is out / 0.9, so a ninth of it is lost
  const outWh = 9 * s.lossWh.dcdcCharger!;
  expect(outWh).toBeGreaterThan(768);
  expect(outWh).toBeLessThan(870);
  expect(s.alternatorWh - s.lossWh.alternatorCable!).toBeCloseTo(10 * s.lossWh.dcdcCharger!, 6);
  // Joule: 30 A through 2 · 2 m of 1.91 Ω/km at 30 °C for 2 h
  expect(s.lossWh.dcdcCable!).toBeCloseTo(30 ** 2 * (4 * 0.00191) * (264.5 / 254.5) * 2, 6);
  // and 15 A through 2 · 3 m of 4.95 Ω/km for 3 h, as long as it is not held back
  expect(s.lossWh.mainsCable! / 2).toBeLessThanOrEqual(15 ** 2 * (6 * 0.00495) * (264.5 / 254.5) * 3 * (1 + 1e-9));
});

test('an inverter takes its standby all day, and serves no more than its rating, each load by its part', () => {
  const {
    summary: s,
    loads,
    warnings,
  } = run(
    RIGS['an inverter asked for more than its rating, and a load that looks at the charge'].replace(
      '100 Ah',
      '1000 Ah',
    ),
    0.9,
  );
  const [kettle, laptop] = loads;
  // 560 W asked of 300: for an hour a day both get 300/560 of theirs; the laptop is whole in the other 23
  expect(kettle!.servedWh).toBeCloseTo(2 * 500 * (300 / 560), 6);
  expect(kettle!.unservedWh).toBeCloseTo(2 * 500 * (260 / 560), 6);
  expect(laptop!.servedWh).toBeCloseTo(2 * (23 * 60 + 60 * (300 / 560)), 6);
  expect(s.lossWh.inverter).toBeGreaterThan(2 * 24 * 8 - 1);
  expect(warnings.find(({ code }) => code === 'inverter_overloaded')).toMatchObject({
    count: 4,
    args: { hours: 2 },
  });
});

test('what the run warns of is dated, counted and explained', () => {
  const { warnings, summary: s, trace } = run(RIGS['two fridges that a small battery cannot feed'], 0.6);
  const off = warnings.find(({ code }) => code === 'loads_off')!;
  const first = trace.unservedW.findIndex((watts) => watts > 0);
  expect(off.firstMs).toBe(trace.grid.startMs + first * 0.5 * 3.6e6);
  expect(off.count).toBeGreaterThanOrEqual(1);
  expect(off.args).toMatchObject({ hours: s.hoursOff });
  expect(s.hoursOff).toBeGreaterThan(1);
  const warm = warnings.find(({ code, component }) => code === 'food_warm' && component === 'freezer')!;
  expect(warm.args).toMatchObject({ name: 'freezer', warmAboveC: -15 });
  const codes = warnings.map(({ code }) => code);
  expect(codes).toContain('mains_without_charger');
  expect(codes).toContain('drive_without_alternator');
  const starter = run(RIGS['a bank of 24 V with a heater']);
  expect(starter.warnings.find(({ code }) => code === 'starter_side')?.args).toEqual({
    name: 'winch',
  });
  expect(starter.loads.map(({ name }) => name)).toEqual(['lamp']);
});

test('a row of the trace is its columns at that step, under their headings', () => {
  const one = run(RIGS['two fridges that a small battery cannot feed']);
  const { trace } = one;
  const row = Object.fromEntries(traceHeader(trace).map((name, k) => [name, traceRow(one, 50)[k]]));
  expect(row).toEqual({
    time: '2026-06-11T01:00+02:00',
    soc: trace.soc[50],
    battery_v: trace.batteryV[50],
    battery_a: trace.batteryA[50],
    battery_c: trace.batteryC[50],
    pv_available_w: trace.pvAvailableW[50],
    pv_harvest_w: trace.pvHarvestW[50],
    alternator_w: trace.alternatorW[50],
    mains_w: trace.mainsW[50],
    load_w: trace.loadW[50],
    unserved_w: trace.unservedW[50],
    ambient_c: trace.ambientC[50],
    cabin_c: trace.cabinC[50],
    ghi_w_m2: trace.ghiWm2[50],
    poa_w_m2: trace.poaWm2[50],
    'load:fridge_w': trace.loads[0]!.servedW[50],
    'load:freezer_w': trace.loads[1]!.servedW[50],
    'load:lamp_w': trace.loads[2]!.servedW[50],
    'inside:fridge_c': trace.loads[0]!.insideC![50],
    'inside:freezer_c': trace.loads[1]!.insideC![50],
  });
});
