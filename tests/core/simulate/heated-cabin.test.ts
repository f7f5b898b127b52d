import { readRig, recoveryOf, simulate, withoutTrip } from '@stayput/core';
import { describe, expect, test } from 'vitest';
import { engineMinutesToRecover } from '../../../packages/core/src/study/index.js';

/** Invented: a heater's fan, and a battery that it empties in the second night. */
const rigOf = (cabin: string) =>
  readRig(`
name: invented
battery: { chemistry: LFP, capacity: 60 Ah }
cabin: { gain: 8 degC, ${cabin} }
alternator: { rating: 100 A, charger: { kind: dcdc, current: 30 A } }
loads: [{ name: heater fan, power: 25 W }]`).rig;
const base = withoutTrip({ place: 'Munich', from: '2026-01-10', days: 4 });
const trip = { ...base, weather: { kind: 'dull' as const }, startSoc: 1 };
const run = (cabin: string) => simulate(rigOf(cabin), trip);

describe('a heated cabin', () => {
  const off = run('heated: 18 degC');
  const { trace, summary } = off;
  const cut = trace.loads[0]!.servedW.indexOf(0);

  test('cools down once its battery is empty, and so does the battery in it', () => {
    expect(summary.hoursOff).toBeGreaterThan(24);
    expect(trace.cabinC[cut - 3]).toBeCloseTo(18, 6);
    expect(trace.cabinC[cut + 36]!).toBeLessThan(trace.ambientC[cut + 36]! + 3);
    expect(off.battery.coldestC).toBeLessThan(10);
    expect(off.warnings.find(({ code }) => code === 'cabin_not_warm')!.args).toMatchObject({ heatedC: 18 });
  });

  test('does not with a heater that needs no power, and does when its fuel is out', () => {
    const free = run('heated: 18 degC, heater: { needsPower: false }');
    expect(Math.min(...free.trace.cabinC)).toBeCloseTo(18, 9);
    expect(free.warnings.map(({ code }) => code)).not.toContain('cabin_not_warm');
    const dry = run('heated: 18 degC, heater: { needsPower: false, fuel: 1 L }');
    // a litre of diesel gives 8 kWh: some 8 h of 17 of 35 K at 2 kW
    expect(dry.trace.cabinC[3 * 6]).toBeCloseTo(18, 6);
    expect(dry.trace.cabinC[20 * 6]!).toBeLessThan(8);
  });

  test('is driven back to its floor with the battery as warm as it stands', () => {
    const recovery = recoveryOf(
      rigOf('heated: 18 degC, heater: { needsPower: false }'),
      run('heated: 18 degC, heater: { needsPower: false }'),
    )!;
    expect(recovery.cabinC).toBeCloseTo(18, 6);
    expect(recovery.driving.limit).not.toBe('cold');
    const outside = engineMinutesToRecover(rigOf('heated: 18 degC'), { fromSoc: 0.1, toSoc: 0.2, ambientC: -2 })!;
    const inside = engineMinutesToRecover(rigOf('heated: 18 degC'), {
      fromSoc: 0.1,
      toSoc: 0.2,
      ambientC: -2,
      cabinC: 18,
    })!;
    expect(outside).toMatchObject({ limit: 'cold', minutes: Infinity });
    expect(inside.minutes).toBeLessThan(40);
  });

  test('with the night’s offset is warmer at night alone', () => {
    const [plain, warm] = [run('lag: 0 h'), run('lag: 0 h, warmer: { night: 4 degC }')];
    const more = warm.trace.cabinC.map((c, i) => c - plain.trace.cabinC[i]!);
    more.forEach((k, i) => {
      expect(k).toBeCloseTo(plain.trace.ghiWm2[i]! > 0 ? 0 : 4, 9);
    });
  });
});
