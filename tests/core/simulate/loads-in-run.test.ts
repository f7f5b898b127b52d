import { type Run, readRig, readTrip, simulate, withoutTrip } from '@stayput/core';
import { describe, expect, test } from 'vitest';

/** A battery that never runs low, and an invented load. Near the equator: the sun rises about 6 and sets about 18. */
const rigOf = (loads: string, rest = '') =>
  readRig(`
name: invented
battery: { chemistry: LFP, capacity: 2000 Ah, selfDischarge: 0 % }
cabin: { gain: 0 K }
${rest}
loads:
  - ${loads}`).rig;
const four = {
  ...withoutTrip({ at: '0, 0', from: '2026-03-20', days: 4 }),
  weather: { kind: 'dull' as const },
  startSoc: 1,
};
const run = (loads: string, rest = '') => simulate(rigOf(loads, rest), four);
/** Watts of the load at each local hour of a day; the zone of 0, 0 is UTC. */
const hourly = ({ trace }: Run, day: number, which = 0) =>
  Array.from({ length: 24 }, (_, hour) => {
    const from = (day * 24 + hour) * 6;
    return trace.loads[which]!.servedW.subarray(from, from + 6).reduce((sum, watts) => sum + watts / 6, 0);
  });
const energyWh = (of: Run) => of.loads[0]!.servedWh;

describe('a load runs when its timetable says', () => {
  test('without one it is always on', () => {
    expect(energyWh(run('{ name: lamp, power: 10 W }'))).toBeCloseTo(4 * 24 * 10, 6);
  });

  test.each(['hasOwnProperty', 'toString', 'valueOf'])('also under the name %s, which every object has', (name) => {
    expect(energyWh(run(`{ name: ${name}, power: 10 W }`))).toBeCloseTo(4 * 24 * 10, 6);
    expect(run(`{ name: ${name}, kind: fridge, volume: 40 L, setpoint: 4 degC }`).summary.loadWh).toBeGreaterThan(0);
  });

  test('an expression never draws more than a load may, wherever it has its pole', () => {
    expect(() => rigOf('{ name: lamp, power: sqrt(1e308) }')).toThrow(/gives more than 20,000 W/);
    const wild = run('{ name: lamp, power: "1e200 * (hour > 7) * (hour < 8)" }');
    expect(Math.abs(wild.summary.ledgerErrorWh)).toBeLessThan(1e-6);
  });

  test('in a window across midnight', () => {
    const lamp = run('{ name: lamp, power: 10 W, when: "22:00 to 02:00" }');
    expect(energyWh(lamp)).toBeCloseTo(4 * 4 * 10, 6);
    hourly(lamp, 1).forEach((watts, hour) => {
      expect(watts).toBeCloseTo(hour >= 22 || hour < 2 ? 10 : 0, 9);
    });
  });

  test('from sunset by solar time', () => {
    const lamp = run('{ name: lamp, power: 10 W, when: sunset to 22:30 }');
    const hours = hourly(lamp, 0);
    expect(hours[17]).toBe(0);
    expect(hours[18]).toBeGreaterThan(5); // sunset at the equator in March: about 18:10 with refraction
    expect(hours[21]).toBeCloseTo(10, 9);
    expect(hours[22]).toBeCloseTo(5, 9);
  });

  test('hours a day within a window, times a day, every few days, a share of use', () => {
    const laptop = run('{ name: laptop, power: 60 W, hours: 3, when: "09:00 to 17:00" }');
    expect(energyWh(laptop)).toBeCloseTo(4 * 180, 6);
    expect(hourly(laptop, 2)[8]).toBe(0);
    expect(energyWh(run('{ name: pump, power: 60 W, times: 12, lasts: 40 s }'))).toBeCloseTo(4 * 12 * (40 / 60), 6);
    const wash = run('{ name: wash, power: 100 W, hours: 1, everyDays: 3 }');
    expect([0, 1, 2, 3].map((day) => Math.round(hourly(wash, day).reduce((a, b) => a + b)))).toEqual([100, 0, 0, 100]);
    expect(energyWh(run('{ name: radio, power: 10 W, share: 25 % }'))).toBeCloseTo(240, 6);
  });

  test('times so much at a stop that says so', () => {
    const trip = readTrip(`
name: invented
weather: dull
stops:
  - { at: [0, 0], from: 2026-03-20, nights: 2 }
  - { at: [0, 1], nights: 2, use: { laptop: 1.5 } }`).trip;
    const rig = rigOf('{ name: laptop, power: 60 W, hours: 2 }');
    expect(simulate(rig, trip).loads[0]!.servedWh).toBeCloseTo(2 * 120 * (1 + 1.5), 6);
  });

  test('at random moments when asked: same energy, same seed same runs, and whole runs', () => {
    const rig = rigOf('{ name: laptop, power: 60 W, hours: 2, when: "08:00 to 20:00" }');
    const at = (seed: number) => simulate(rig, four, { randomLoads: true, seed });
    const [one, again, other] = [at(1), at(1), at(2)];
    expect(energyWh(one)).toBeCloseTo(4 * 120, 6);
    expect(one.trace.loads[0]!.servedW).toEqual(again.trace.loads[0]!.servedW);
    expect(one.trace.loads[0]!.servedW).not.toEqual(other.trace.loads[0]!.servedW);
    expect(Math.max(...one.trace.loads[0]!.servedW)).toBeCloseTo(60, 9);
    expect(one.conditions.notes.map(({ code }) => code)).toContain('random_loads');
  });
});

describe('what a load draws', () => {
  test('follows its expression of the cabin, the hour and the charge', () => {
    const heat = run('{ name: fan, power: "clamp(4 * (cabin - 24), 0, 30)" }');
    heat.trace.loads[0]!.servedW.forEach((watts, i) => {
      expect(watts).toBeCloseTo(Math.min(30, Math.max(0, 4 * (heat.trace.cabinC[i]! - 24))), 9);
    });
    const late = run('{ name: lamp, power: "hour >= 20 ? 12 : 0" }');
    expect(hourly(late, 1)[21]).toBeCloseTo(12, 9);
    expect(hourly(late, 1)[19]).toBe(0);
    const shy = run('{ name: lamp, power: "soc > 0.5 ? 100 : 5" }');
    shy.trace.loads[0]!.servedW.forEach((watts, i) => {
      if (i > 0) expect(watts).toBeCloseTo(shy.trace.soc[i - 1]! > 0.5 ? 100 : 5, 6);
    });
  });

  test('passes an inverter that takes its share, and standby only as it is switched', () => {
    const behind = '{ name: laptop, power: 60 W, hours: 3, when: "09:00 to 12:00", inverter: true }';
    const always = run(behind, 'inverter: { rating: 300 W, standby: 6 W, on: always }');
    const used = run(behind, 'inverter: { rating: 300 W, standby: 6 W, on: with loads }');
    expect(energyWh(always)).toBeCloseTo(4 * 180, 6);
    expect(energyWh(used)).toBeCloseTo(4 * 180, 6);
    // Off when nothing runs behind it: 21 of 24 h of standby are saved.
    expect(always.summary.lossWh.inverter! - used.summary.lossWh.inverter!).toBeCloseTo(4 * 21 * 6, 6);
    expect(used.summary.lossWh.inverter!).toBeGreaterThan(4 * 3 * 6);
  });

  test('is no business of the house battery on the starter side, a fridge included', () => {
    const rest = run(`{ name: winch, current: 200 A, hours: 1, starterSide: true }
  - { name: ice box, kind: fridge, starterSide: true }
  - { name: lamp, power: 10 W }`);
    expect(rest.summary.loadWh).toBeCloseTo(4 * 240, 6);
    expect(rest.loads.map(({ name }) => name)).toEqual(['lamp']);
    expect(rest.warnings.filter(({ code }) => code === 'starter_side').map(({ component }) => component)).toEqual([
      'winch',
      'ice box',
    ]);
  });
});
