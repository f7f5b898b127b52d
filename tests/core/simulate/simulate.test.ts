import { readFileSync } from 'node:fs';
import { type Rig, readRig, readTrip, simulate, traceHeader, traceRow, withoutTrip } from '@stayput/core';
import { describe, expect, test } from 'vitest';

const example = (name: string) => readFileSync(new URL(`../../../examples/${name}`, import.meta.url), 'utf8');
const heron = readRig(example('heron.yaml')).rig;
const coast = readTrip(example('north-west-coast.yaml')).trip;
const rigOf = (yaml: string): Rig => readRig(yaml).rig;
/** Warm, and no panel to be lit: only the battery and its loads. */
const nowhere = (days: number) => ({
  ...withoutTrip({ at: '0, 20', from: '2026-03-10', days }),
  weather: { kind: 'dull' as const },
  startSoc: 1,
});

describe('the example rig on the example trip', () => {
  const onTrip = () => simulate(heron, coast);

  test('lasts the nights of its stops, in whole civil days', () => {
    const run = onTrip();
    expect(run.summary.days).toBe(11);
    expect(run.daily.map((day) => day.date)[0]).toBe('2026-10-03');
    expect(run.daily.at(-1)!.date).toBe('2026-10-13');
    // The clocks of the middle stop are an hour ahead: the day of arrival there is 23 h, the day of leaving 25 h long.
    expect(run.days.map((day) => (day.endMs - day.startMs) / 3.6e6)).toEqual([
      24, 24, 24, 23, 24, 24, 24, 24, 24, 25, 24,
    ]);
  });

  test('its trace has the columns of the contract and one row a step', () => {
    const run = onTrip();
    expect(traceHeader(run.trace).slice(0, 16)).toEqual(
      'time soc battery_v battery_a battery_c pv_available_w pv_harvest_w alternator_w mains_w load_w unserved_w ambient_c cabin_c ghi_w_m2 poa_w_m2 load:fridge_w'.split(
        ' ',
      ),
    );
    expect(traceRow(run, 0)).toHaveLength(traceHeader(run.trace).length);
    expect(traceRow(run, 0)[0]).toBe('2026-10-03T00:00+01:00');
    expect(run.trace.soc).toHaveLength(11 * 144);
  });

  test('a flat panel meets exactly the light of the horizontal, less what the stop shades', () => {
    const { poaWm2, ghiWm2 } = onTrip().trace;
    const last = 10 * 144; // the last stop has no shade; the panel's own window ends at 09:30
    for (let i = last + 60; i < last + 144; i++) expect(poaWm2[i]!).toBeCloseTo(ghiWm2[i]!, 9);
  });

  test('`use` makes a load use so much more', () => {
    const run = onTrip();
    const laptop = run.trace.loads.find((load) => load.name === 'laptop')!;
    const noon = (day: number) =>
      laptop.servedW[day * 144 + 72]! + (run.trace.unservedW[day * 144 + 72]! > 0 ? Number.NaN : 0);
    expect(noon(5) / noon(1)).toBeCloseTo(1.5, 9);
  });

  test('halving the step changes the lowest state of charge by less than a point', () => {
    const at = (stepH: number) => simulate(heron, coast, { stepH }).summary.lowestSoc;
    expect(Math.abs(at(1 / 6) - at(1 / 12))).toBeLessThan(0.01);
    expect(Math.abs(at(1) - at(1 / 2))).toBeLessThan(0.01);
  });
});

describe('closed forms', () => {
  test('a constant load empties a battery in capacity above the cut-off over its current (coulomb counting)', () => {
    const rig = rigOf(`
battery: { chemistry: LFP, capacity: 100 Ah, disconnect: 10 %, reconnect: 15 %, floor: 10 %, selfDischarge: 0 % }
cabin: { gain: 0 K }
loads: [{ name: lamp, current: 2 A }]`);
    const run = simulate(rig, { ...nowhere(3), startSoc: 1 });
    // 90 Ah at 2 A: 45 h of 72.
    expect(72 - run.summary.hoursOff).toBeCloseTo(45, 6);
    expect(run.summary.lowestSoc).toBeCloseTo(0.1, 9);
    expect(run.loads[0]!.dutyCycle).toBeCloseTo(45 / 72, 6);
  });

  test('a load behind a cable gets its watts, and the cable takes I²R', () => {
    const rig = rigOf(`
battery: { chemistry: LFP, capacity: 200 Ah, selfDischarge: 0 % }
cabin: { gain: 0 K }
loads: [{ name: heater, power: 60 W, cable: { length: 5 m, section: 2.5 mm2 } }]`);
    const run = simulate(rig, nowhere(1));
    expect(run.summary.loadWh).toBeCloseTo(60 * 24, 6);
    // IEC 60228 class 5: 7.98 Ω/km at 20 °C, 10 m out and back, (234.5 + 30)/254.5 at 30 °C.
    const ohm = (7.98 / 1000) * 10 * (264.5 / 254.5);
    const amps = (volt: number) => (volt - Math.sqrt(volt * volt - 4 * ohm * 60)) / (2 * ohm);
    let lossWh = 0;
    for (let i = 0; i < 144; i++)
      lossWh += (amps(run.trace.batteryV[i]! + run.trace.batteryA[i]! * 0.001) ** 2 * ohm) / 6;
    // The series in the loop leaves out 14x⁴ of x = PR/V², 14x³ of the loss: 3.6e-4 at x = 0.0295.
    expect(Math.abs(run.summary.lossWh.loadCables! / lossWh - 1)).toBeLessThan(4e-4);
  });

  test('polar night gives zero light and zero yield, not NaN', () => {
    const trip = {
      ...withoutTrip({ at: '78.2, 15.6', from: '2026-12-15', days: 5 }),
      weather: { kind: 'clear' as const },
    };
    const { summary } = simulate(heron, trip);
    expect(summary.pvAvailableWh).toBe(0);
    expect(summary.lowestSoc).toBeGreaterThanOrEqual(0);
  });
});

describe('the thin cable', () => {
  test('makes the fridge cut out while the battery is still half full, and the run says why', () => {
    const thin = readRig(example('heron.yaml'), {
      set: [
        'loads.fridge.cable.section=0.75 mm2',
        'loads.fridge.cable.length=9 m',
        'loads.fridge.cutOut=11.6 V',
        'loads.fridge.cutIn=12.4 V',
      ],
    }).rig;
    const run = simulate(thin, { ...coast, weather: { kind: 'dull' } });
    const fridge = run.loads.find((load) => load.name === 'fridge')!;
    expect(fridge.cutOuts).toBeGreaterThan(0);
    expect(fridge.cutOutsByDrop).toBe(fridge.cutOuts);
    expect(fridge.cutOutHighestSoc).toBeGreaterThan(0.5);
    expect(run.warnings.some((warning) => warning.code === 'fridge_cut_out')).toBe(true);
  });
});
