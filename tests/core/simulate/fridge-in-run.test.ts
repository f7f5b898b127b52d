import { readFileSync } from 'node:fs';
import { circuits, readRig, simulate, traceHeader, withoutTrip } from '@stayput/core';
import { describe, expect, test } from 'vitest';

const example = (name: string) => readFileSync(new URL(`../../../examples/${name}`, import.meta.url), 'utf8');

/** Invented: a battery that never runs low in a cabin that has no sun of its own, and one fridge. */
const rigOf = (fields: string) =>
  readRig(`
name: invented
battery: { chemistry: LFP, capacity: 2000 Ah, selfDischarge: 0 % }
cabin: { gain: 0 K, lag: 0 h }
loads:
  - { name: fridge, kind: fridge, volume: 45 L, setpoint: 4 degC, insulation: 40 mm, contents: 9 kg, openings: 0, standby: 0 W${fields && `, ${fields}`} }`)
    .rig;
const months = (c: number) => ({
  ghiKwhM2Day: Array<number>(12).fill(5), // of no account without a panel
  tMaxC: Array<number>(12).fill(c),
  tMinC: Array<number>(12).fill(c),
});
/** Days without any swing of temperature. */
const at = (roomC: number, days = 3) => {
  const base = withoutTrip({ at: '0, 0', from: '2026-03-20', days });
  const stops = base.stops.map((stop) => ({ ...stop, months: months(roomC) }));
  return { ...base, weather: { kind: 'dull' as const }, startSoc: 1, stops };
};
const run = (fields: string, roomC = 30) => simulate(rigOf(fields), at(roomC));
const wh = (of: ReturnType<typeof run>) => of.loads[0]!.servedWh;

describe('a fridge in a run', () => {
  test('stands in the room that was asked for', () => {
    const { trace } = run('cover: 0 %');
    for (const roomC of trace.cabinC) expect(roomC).toBeCloseTo(30, 6);
  });

  test('that never runs, in a room as cold as it is, has no lowest voltage; one that runs sees less than the battery', () => {
    expect(run('', 2).loads[0]).not.toHaveProperty('lowestV');
    const { lowestV } = run('').loads[0]!;
    expect(lowestV).toBeGreaterThan(12);
    expect(lowestV).toBeLessThan(14.6);
  });

  test('in frost it draws by a heated cabin what it draws in a room as warm, and an unheated one is told', () => {
    const cold = at(-15);
    const fridgeRig = rigOf('');
    const heated = { ...fridgeRig, cabin: { ...fridgeRig.cabin, heatedC: 18 } };
    expect(wh(simulate(heated, cold))).toBeCloseTo(wh(run('', 18)), 6);
    const codes = (rig: typeof fridgeRig) => simulate(rig, cold).warnings.map(({ code }) => code);
    expect(codes(heated)).not.toContain('cabin_not_heated');
    expect(codes(fridgeRig)).toContain('cabin_not_heated');
    expect(simulate(fridgeRig, at(20)).warnings.map(({ code }) => code)).not.toContain('cabin_not_heated');
  });

  test('a cover takes its share off the heat leak, so off the energy of a closed fridge', () => {
    expect(wh(run('cover: 30 %')) / wh(run('cover: 0 %'))).toBeCloseTo(0.7, 6);
  });

  test('pulled down from warm it runs without pause, then holds, and that costs the heat of its contents', () => {
    const warm = run('start: 30 degC');
    const held = run('start: 4 degC');
    const { insideC } = warm.trace.loads[0]!;
    expect(insideC![5]).toBeGreaterThan(10);
    expect(insideC!.at(-1)).toBeCloseTo(4, 6);
    expect(warm.trace.loads[0]!.servedW[0]).toBeGreaterThan(40);
    // C · ΔT over the coefficient of performance: 9 kg of water and the liner, 26 K, less what leaked in less meanwhile
    const copRun = held.fridges[0]!.months[0]!;
    expect(copRun.dutyCycle).toBeGreaterThan(0.05);
    const heatWh = (9 * (4.186 / 3.6) + 0.03 * 45) * 26;
    const extraWh = wh(warm) - wh(held);
    const cop = (0.35 * (4 - 12.5 + 273.15)) / (30 + 12.5 - (4 - 12.5));
    expect(extraWh).toBeLessThan(heatWh / cop);
    expect(extraWh).toBeGreaterThan((0.8 * heatWh) / cop);
    expect(warm.loads[0]).toMatchObject({ warmAboveC: 5 });
    expect(warm.loads[0]!.warmHours!).toBeGreaterThan(1);
    expect(warm.warnings.find(({ code }) => code === 'food_warm')!.args).toMatchObject({ warmAboveC: 5 });
  });

  test('warm food costs its heat over the coefficient of performance, at the hour it is put in', () => {
    const fed = run('warmFood: [{ mass: 3 kg, at: "18:00", temperature: 30 degC }]');
    const cop = (0.35 * (4 - 12.5 + 273.15)) / (30 + 12.5 - (4 - 12.5));
    const expected = (3 * 3 * (4.186 / 3.6) * 26) / cop; // three days, m · cp · ΔT
    expect((wh(fed) - wh(run(''))) / expected).toBeCloseTo(1, 3);
    const { servedW } = fed.trace.loads[0]!;
    expect(servedW[18 * 6 + 3]!).toBeGreaterThan(servedW[17 * 6 + 3]! * 1.5);
  });

  test('doors, a freezer and a second zone take more', () => {
    const plain = wh(run(''));
    const opened = simulate(readRig(JSON.stringify(withOpenings(20))).rig, at(30));
    expect(opened.loads[0]!.servedWh).toBeGreaterThan(1.03 * plain);
    expect(wh(run('secondZone: { volume: 15 L, setpoint: -18 degC }, compressor: 60 W'))).toBeGreaterThan(1.5 * plain);
  });

  test('a freezer counts as too warm above -15 °C', () => {
    const rig = readRig(JSON.stringify({ ...withOpenings(0), ...freezer() })).rig;
    const frozen = simulate(rig, at(25));
    expect(frozen.loads[0]).toMatchObject({ warmAboveC: -15, warmHours: 0 });
    expect(frozen.fridges[0]!.warmSource).toMatch(/89\/108/);
  });

  test('too small for the heat, it says so', () => {
    const weak = run('compressor: 8 W, start: 4 degC', 43);
    expect(weak.warnings.map(({ code }) => code)).toContain('fridge_cannot_hold');
    expect(weak.loads[0]!.dutyCycle).toBeGreaterThan(0.95);
  });

  test('its inside is a column of the trace', () => {
    const { trace } = run('');
    expect(traceHeader(trace)).toContain('inside:fridge_c');
    for (const insideC of trace.loads[0]!.insideC!) expect(insideC).toBeCloseTo(4, 6);
  });
});

function withOpenings(openings: number) {
  const fridge = { name: 'fridge', kind: 'fridge', volume: '45 L', setpoint: '4 degC', insulation: '40 mm' };
  return {
    name: 'invented',
    battery: { chemistry: 'LFP', capacity: '2000 Ah', selfDischarge: '0 %' },
    cabin: { gain: '0 K', lag: '0 h' },
    loads: [{ ...fridge, contents: '9 kg', openings, standby: '0 W' }],
  };
}

function freezer() {
  const { loads } = withOpenings(0);
  return { loads: [{ ...loads[0], setpoint: '-18 degC', insulation: '60 mm', compressor: '60 W' }] };
}

describe('the example rig over a year of climate', () => {
  const rig = readRig(example('heron.yaml'), { set: ['battery.capacity=400 Ah', 'solar[0].count=4'] }).rig;
  const year = { ...withoutTrip({ place: 'Seville', from: '2026-01-01', days: 365 }) };
  const of = simulate(rig, year, { stepH: 0.5 });
  const { months: byMonth } = of.fridges[0]!;

  test('has twelve months that add up to the run', () => {
    expect(byMonth.map(({ month }) => month)).toEqual(
      Array.from({ length: 12 }, (_, k) => `2026-${String(k + 1).padStart(2, '0')}`),
    );
    const fridge = of.loads.find(({ name }) => name === 'fridge')!;
    const sum = (pick: (m: (typeof byMonth)[number]) => number) => byMonth.reduce((total, m) => total + pick(m), 0);
    expect(sum(({ hours }) => hours)).toBeCloseTo(365 * 24, 6);
    expect(sum(({ whPerDay, hours }) => (whPerDay * hours) / 24)).toBeCloseTo(fridge.servedWh, 6);
    expect(sum(({ dutyCycle, hours }) => dutyCycle * hours) / (365 * 24)).toBeCloseTo(fridge.dutyCycle, 9);
    expect(sum(({ warmHours }) => warmHours)).toBeCloseTo(fridge.warmHours!, 6);
  });

  test('runs the more the hotter the month, two to five times as much in the hottest as in the coldest', () => {
    const byHeat = [...byMonth].sort((a, b) => a.roomMeanC - b.roomMeanC);
    byHeat.slice(1).forEach((m, k) => {
      if (m.roomMeanC > byHeat[k]!.roomMeanC + 1) expect(m.holdDutyCycle).toBeGreaterThan(byHeat[k]!.holdDutyCycle);
    });
    const ratio = byHeat.at(-1)!.holdDutyCycle / byHeat[0]!.holdDutyCycle;
    expect(ratio).toBeGreaterThan(2); // common practice, no source
    expect(ratio).toBeLessThan(7);
  });
});

describe('the thin cable of Grebe', () => {
  const autumn = withoutTrip({ place: 'Lisbon', from: '2026-10-04', days: 12 });
  const grebe = (...set: string[]) => readRig(example('thin-cable.yaml'), { set }).rig;
  const dull = { seed: 2 }; // a week with little sun, so that the battery comes below 70 %
  const faulty = simulate(grebe(), autumn, dull);
  const fridge = faulty.loads.find(({ name }) => name === 'fridge')!;

  test('makes the fridge cut out again and again while the battery is well above half', () => {
    expect(fridge.cutOuts!).toBeGreaterThan(3);
    expect(fridge.cutOutsByDrop).toBe(fridge.cutOuts);
    expect(fridge.cutOutLowestSoc!).toBeGreaterThan(0.55);
    expect(faulty.summary.hoursOff).toBe(0);
    expect(faulty.warnings.find(({ code }) => code === 'fridge_cut_out')!.args).toMatchObject({
      name: 'fridge',
      cutOuts: fridge.cutOuts,
      byDrop: fridge.cutOuts,
      lowestSoc: fridge.cutOutLowestSoc,
    });
  });

  test('is corrected by following the advice of wires', () => {
    const advice = circuits(grebe()).find(({ name }) => name === 'fridge')!;
    expect(advice).toMatchObject({ ok: false, sectionMm2: 1.5, level: 'caution' });
    const corrected = grebe(`${advice.path}.section=${advice.adviseMm2} mm2`);
    expect(circuits(corrected).every(({ ok }) => ok)).toBe(true);
    const after = simulate(corrected, autumn, dull);
    expect(after.loads.find(({ name }) => name === 'fridge')).toMatchObject({
      cutOuts: 0,
      unservedWh: 0,
      warmHours: 0,
    });
  });
});

describe('at steps of a minute the thermostat switches', () => {
  const minute = (fields: string, days = 12) => simulate(rigOf(fields), at(30, days), { stepH: 1 / 60 });
  const ten = (fields: string, days = 12) => simulate(rigOf(fields), at(30, days), { stepH: 1 / 6 });

  test('the compressor is on or off, a kelvin about the set point, with pauses in between', () => {
    const { trace } = minute('', 2);
    const { servedW, insideC } = trace.loads[0]!;
    const most = Math.max(...servedW);
    const between = servedW.filter((watts) => watts > 1e-9 && watts < most - 1e-9).length;
    let starts = 0;
    for (let i = 1; i < servedW.length; i++) if (servedW[i]! > 0 && servedW[i - 1] === 0) starts++;
    expect(starts).toBeGreaterThan(4);
    expect(between).toBeLessThanOrEqual(2 * starts); // the minute in which it stops
    expect(Math.min(...insideC!)).toBeCloseTo(3, 6);
    expect(Math.max(...insideC!)).toBeLessThanOrEqual(5 + 1e-9);
    expect(Math.max(...insideC!)).toBeGreaterThan(4.95);
    // Closed form of a cycle: from 3 to 5 degC by the leak, back by the compressor, both nearly straight.
    const dutyOf = servedW.filter((watts) => watts > 0).length / servedW.length;
    expect(Math.abs(dutyOf - ten('', 2).loads[0]!.dutyCycle)).toBeLessThan(0.02);
  });

  test.each([
    '',
    'cover: 30 %',
    'compressor: 60 W',
    'warmFood: [{ mass: 1 kg, at: "18:00" }]',
    'secondZone: { volume: 10 L, setpoint: -15 degC }',
  ])('and takes what the duty cycle takes, within two percent: %s', (fields) => {
    expect(Math.abs(wh(minute(fields)) / wh(ten(fields)) - 1)).toBeLessThan(0.02);
  });

  test('a fridge whose set point is the threshold itself is not called too warm for its swing', () => {
    const right = readRig(
      JSON.stringify({ ...withOpenings(0), loads: [{ ...withOpenings(0).loads[0], setpoint: '5 degC' }] }),
    ).rig;
    for (const stepH of [1 / 60, 1 / 6]) expect(simulate(right, at(30), { stepH }).loads[0]!.warmHours).toBe(0);
    const wrong = readRig(
      JSON.stringify({ ...withOpenings(0), loads: [{ ...withOpenings(0).loads[0], setpoint: '8 degC' }] }),
    ).rig;
    for (const stepH of [1 / 60, 1 / 6])
      expect(simulate(wrong, at(30), { stepH }).loads[0]!.warmHours).toBeCloseTo(72, 0);
  });

  test('the ledger closes as it does with a duty cycle', () => {
    expect(Math.abs(minute('', 2).summary.ledgerErrorWh)).toBeLessThan(1e-6);
  });
});
