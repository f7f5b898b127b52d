import { readRig, recoveryOf, simulate, withoutTrip } from '@stayput/core';
import { batteryModel, circuitLoopOhm, ocvAt } from '@stayput/core/model';
import { describe, expect, test } from 'vitest';
import { tableAt } from '../../../packages/core/src/battery/model.js';
import { engineMinutesToRecover } from '../../../packages/core/src/study/run/recover.js';

const rigOf = (battery: string, alternator: string) =>
  readRig(`
battery: { capacity: 100 Ah, selfDischarge: 0 %, ${battery} }
alternator: { rating: 150 A, ${alternator} }
cabin: { gain: 0 K }
loads: [{ name: lamp, power: 30 W }]`).rig;
const DCDC = 'charger: { kind: dcdc, current: 30 A }';
const lfp = rigOf('chemistry: LFP', DCDC);

/** ∫ C dQ / (efficiency·I): minutes to bring the battery from one state of charge to another at the current I(soc). */
function minutesAt(rig: typeof lfp, from: number, to: number, currentA: (soc: number) => number): number {
  const model = batteryModel(rig.battery);
  const PARTS = 2000;
  let hours = 0;
  for (let i = 0; i < PARTS; i++) {
    const soc = from + ((to - from) * (i + 0.5)) / PARTS;
    hours += ((to - from) * model.capacityAh) / PARTS / (tableAt(model.chargeEfficiency, soc) * currentA(soc));
  }
  return 60 * hours;
}

describe('engine minutes to recover', () => {
  test('through a DC-DC charger in bulk: charge over rated current (coulomb counting)', () => {
    const found = engineMinutesToRecover(lfp, { fromSoc: 0.2, toSoc: 0.5, ambientC: 20 })!;
    // 30 Ah at 30 A is an hour, and 0.5 % more for what the charge reaction wastes.
    expect(found.minutes).toBeCloseTo(
      minutesAt(lfp, 0.2, 0.5, () => 30),
      2,
    );
    expect(found.minutes).toBeGreaterThan(60);
    expect(found.minutes).toBeLessThan(61);
    expect(found.limit).toBe('rating');
  });

  test('through a relay: the current by Ohm’s law at each state of charge', () => {
    const relay = rigOf('chemistry: AGM, maxCharge: 100 A', 'charger: { kind: relay, resistance: 100 mohm }');
    const model = batteryModel(relay.battery);
    // The relay, and terminals alone for the three runs without a cable: before it, behind it, at the battery.
    const loopOhm = 0.1 + 3 * circuitLoopOhm(undefined, 30);
    const found = engineMinutesToRecover(relay, { fromSoc: 0.5, toSoc: 0.7, ambientC: 25 })!;
    const byOhm = minutesAt(relay, 0.5, 0.7, (soc) => {
      // the voltage lies above the rested one by the lesser of two lines
      const aboveV = 14.2 - ocvAt(model, soc);
      const [steepOhm, bendV, ohm] = [model.chargeSteepOhm, model.chargeBendV, model.chargeOhm].map((table) =>
        tableAt(table, soc),
      ) as [number, number, number];
      return Math.max(aboveV / (loopOhm + steepOhm), (aboveV - bendV) / (loopOhm + ohm));
    });
    // in steps of a minute the run takes the taper of a voltage held at the terminals; here it is held behind 0.1 Ω: 0.2 %
    expect(Math.abs(found.minutes / byOhm - 1)).toBeLessThan(3e-3);
    expect(found.limit).toBe('voltage');
  });

  test('never: an alternator held low over a relay, or LFP below freezing', () => {
    const low = rigOf('chemistry: LFP', 'lowVoltage: 12.4 V, charger: { kind: relay }');
    expect(engineMinutesToRecover(low, { fromSoc: 0.5, toSoc: 0.9, ambientC: 20 })!.minutes).toBe(Infinity);
    expect(engineMinutesToRecover(lfp, { fromSoc: 0.5, toSoc: 0.9, ambientC: -10 })).toEqual({
      minutes: Infinity,
      limit: 'cold',
    });
  });

  test('idling never beats the road, loads never help, and half the way twice is the whole way', () => {
    const big = rigOf('chemistry: LFP, count: 3, maxCharge: 200 A', 'charger: { kind: dcdc, current: 100 A }');
    const way = { fromSoc: 0.2, toSoc: 0.8, ambientC: 20 };
    const road = engineMinutesToRecover(big, way)!.minutes;
    expect(engineMinutesToRecover(big, { ...way, engine: 'idling' })!.minutes).toBeGreaterThan(road);
    expect(engineMinutesToRecover(big, { ...way, loadsW: 100 })!.minutes).toBeGreaterThan(road);
    const first = engineMinutesToRecover(big, { ...way, toSoc: 0.5 })!.minutes;
    const second = engineMinutesToRecover(big, { ...way, fromSoc: 0.5 })!.minutes;
    expect(first + second).toBeCloseTo(road, 1);
  });

  test('no alternator, no answer', () => {
    const { alternator: _, ...without } = lfp;
    expect(engineMinutesToRecover(without, { fromSoc: 0.2, toSoc: 0.5, ambientC: 20 })).toBeUndefined();
  });

  test.each([
    { fromSoc: 0.5, toSoc: 0.5, ambientC: 20 },
    { fromSoc: -0.1, toSoc: 0.5, ambientC: 20 },
    { fromSoc: 0.2, toSoc: 1.1, ambientC: 20 },
    { fromSoc: 0.2, toSoc: 0.5, ambientC: Number.NaN },
    { fromSoc: 0.2, toSoc: 0.5, ambientC: 20, loadsW: -1 },
  ])('%o is refused', (options) => {
    expect(() => engineMinutesToRecover(lfp, options)).toThrow(RangeError);
  });
});

test('a run below its floor says what the engine would take back to it; one above says nothing', () => {
  const days = (startSoc: number) => ({
    ...withoutTrip({ at: '0, 20', from: '2026-03-10', days: 1 }),
    weather: { kind: 'dull' as const },
    startSoc,
  });
  const low = recoveryOf(lfp, simulate(lfp, days(0.5)))!;
  expect(low.toSoc).toBe(lfp.battery.floor);
  expect(low.fromSoc).toBeLessThan(lfp.battery.floor);
  expect(low.loadsW).toBeGreaterThan(20);
  expect(low.driving.minutes).toBeGreaterThan(0);
  expect(recoveryOf(lfp, simulate(lfp, days(1)))).toBeUndefined();
});

describe('engine minutes every morning', () => {
  const trip = {
    ...withoutTrip({ at: '0, 20', from: '2026-03-10', days: 6 }),
    weather: { kind: 'dull' as const },
    startSoc: 0.5,
  };

  test('make good what the loads take: charge over current, to the five minutes that the answer is given in', () => {
    const { minutesADay } = recoveryOf(lfp, simulate(lfp, trip))!;
    // Lowest just before the last of six mornings, after 130 h of 30 W at 12.8 to 13.4 V: what the battery gives above
    // its floor (30 Ah) and five mornings of 30 A must hold against that, 0.5 % of the charge being wasted.
    const minutes = (volts: number) => (60 * ((130 * 30) / volts - 30)) / (5 * 30);
    expect(minutesADay! % 5).toBe(0);
    expect(minutesADay!).toBeGreaterThanOrEqual(minutes(13.4));
    expect(minutesADay!).toBeLessThan(minutes(12.8) / 0.995 + 5);
    const short = { ...lfp, loads: [{ ...lfp.loads[0]!, name: 'small' }] };
    expect(recoveryOf(short, simulate(short, { ...trip, startSoc: 0.9 }))!.minutesADay).toBeLessThan(minutesADay!);
  });

  test('are without end when it begins below the floor', () => {
    expect(recoveryOf(lfp, simulate(lfp, { ...trip, startSoc: 0.15 }))!.minutesADay).toBe(Infinity);
  });
});
