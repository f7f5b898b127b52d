import { readRig } from '@stayput/core';
import { describe, expect, test } from 'vitest';
import { assemble, whenDriven } from '../../../packages/core/src/simulate/inputs/assemble.js';
import { partMemo, withoutMemo } from '../../../packages/core/src/simulate/inputs/memo.js';
import { madeHours } from './made-hours.js';

const TEXT = `
name: invented
battery: { chemistry: AGM, capacity: 100 Ah, thermalLag: 0 h, charge: { absorption: 14.4 V, perDegree: -24 mV/K } }
solar: [{ name: roof, power: 200 W, tilt: 30 deg, azimuth: 180 deg, controller: { kind: MPPT, current: 15 A, standby: 0.5 W, startMargin: 2 V } }]
albedo: 20 %
alternator: { rating: 100 A, hotShare: 80 %, vehicle: 20 A, voltage: 14.4 V, charger: { kind: dcdc, current: 30 A } }
mains: { current: 10 A }
inverter: { rating: 500 W, standby: 6 W, on: always }
loads:
  - { name: lamp, power: 10 W }
  - { name: radio, power: 5 W, inverter: true }
  - { name: fridge, kind: fridge, volume: 45 L, setpoint: 4 degC, openings: 0, standby: 0 W }
`;
const rigWith = (...set: string[]) => readRig(TEXT, { set }).rig;
const AIR = {
  ambientC: (hour: number) => hour - 5,
  cabinC: 20,
  driving: (hour: number) => (hour === 9 ? 1 : 0),
  mains: 0.5,
};
const conditions = madeHours(rigWith(), AIR);

/** What stands assembled first, and then what the variant makes of it, by one memory. */
function beside(...set: string[]) {
  const memo = partMemo();
  const base = assemble(rigWith(), conditions, 0.5, memo);
  const variant = assemble(rigWith(...set), conditions, 0.5, memo);
  return { base, variant, again: assemble(rigWith(), conditions, 0.5, memo) };
}
const [NOON, LAST] = [12, 23];

describe('a variant shows what it changes, by what is remembered of others', () => {
  test('twice the panels have twice the power, under the same light', () => {
    const { base, variant, again } = beside('solar[0].count=2');
    expect(variant.solar[0]!.columns.availableW[NOON]!).toBeCloseTo(2 * base.solar[0]!.columns.availableW[NOON]!, 6);
    expect(variant.input.drive[NOON]!).toBeGreaterThan(1.9 * base.input.drive[NOON]!);
    expect(variant.solar[0]!.plane).toBe(base.solar[0]!.plane);
    expect(again.solar[0]).toBe(base.solar[0]);
    expect(again.input.drive).toBe(base.input.drive);
  });

  test('brighter ground and a steeper panel: ρ · GHI · (1 − cos tilt)/2, Liu & Jordan 1963', () => {
    const ground = (...set: string[]) => {
      const { base, variant } = beside(...set);
      return variant.solar[0]!.plane.groundWm2[NOON]! / base.solar[0]!.plane.groundWm2[NOON]!;
    };
    expect(ground('albedo=60 %')).toBeCloseTo(3, 9);
    expect(ground('solar[0].tilt=60 deg')).toBeCloseTo(0.5 / (1 - Math.cos(Math.PI / 6)), 9);
    const bright = beside('albedo=60 %');
    expect(bright.variant.input.drive[NOON]!).toBeGreaterThan(bright.base.input.drive[NOON]!);
  });

  test('a bank of 24 V: one panel stands below it, and gives nothing', () => {
    const { base, variant } = beside('battery.series=2', 'battery.charge.absorption=28.8 V');
    expect(base.input.drive[NOON]!).toBeGreaterThan(50);
    expect(variant.input.drive[NOON]).toBe(0);
  });

  test('what charges it: alternator, DC-DC, mains, set points', () => {
    const engine = beside('alternator.rating=150 A');
    expect(engine.variant.engine!.availableA[9]!).toBeCloseTo((engine.base.engine!.availableA[9]! + 20) * 1.5 - 20, 9);
    expect(engine.variant.input.drive[24 + 9]!).toBeGreaterThan(1.5 * engine.base.input.drive[24 + 9]!);
    expect(beside('alternator.charger.current=12 A').variant.input.limitA[24 + 9]).toBe(12);
    expect(beside('mains.current=4 A').variant.input.limitA[48 + 9]).toBe(4);
    expect([...beside('battery.charge.absorption=14.1 V').variant.input.absorptionV]).toEqual([14.1, 14.1, 14.1]);
    // 20 °C in the cabin, hour − 5 outside
    const outside = beside('battery.stands=outside');
    expect(outside.base.input.compensationV[LAST]!).toBeCloseTo(0.024 * 5, 9);
    expect(outside.variant.input.compensationV[LAST]!).toBeCloseTo(0.024 * 7, 9);
    expect(outside.variant.input.resistanceFactor[LAST]).not.toBe(outside.base.input.resistanceFactor[LAST]);
  });

  test('what it feeds: loads, the inverter and what is behind it, fridges, controllers', () => {
    const plainW = (...set: string[]) => {
      const { base, variant } = beside(...set);
      const drawnW = ({ plainW, heavyW, heavyRuns }: typeof base.input) =>
        plainW[0]! + (heavyRuns[0] ?? 0) * (heavyW[0] ?? 0);
      return drawnW(variant.input) - drawnW(base.input);
    };
    expect(plainW('loads.lamp.power=17 W')).toBeCloseTo(7, 9);
    expect(plainW('inverter.standby=9 W')).toBeCloseTo(3, 0);
    expect(beside('loads.radio.power=8 W').variant.inverter!.askedW[0]).toBe(8);
    expect(plainW('loads.radio.power=8 W')).toBeGreaterThan(3);
    expect(plainW('loads.fridge.standby=2 W')).toBeCloseTo(2, 9);
    expect([...beside('loads.fridge.setpoint=8 degC').variant.input.fridgeSetC]).toEqual([8]);
    expect(beside('solar[0].controller.standby=2 W').variant.input.unswitchedW[0]).toBe(2);
  });

  test('its chemistry, its own limit of cold, its heater', () => {
    const lfp = ['battery.chemistry=LFP', 'battery.charge.perDegree=0 V/K', 'battery.stands=outside'];
    const memo = partMemo();
    const of = (...set: string[]) => assemble(rigWith(...lfp, ...set), conditions, 0.5, memo).input;
    const asRead = of();
    // hours − 5 °C: none below 0 °C; a tenth of C below 5 °C, common data-sheet limits, from memory
    expect([4, 5, LAST].map((hour) => asRead.chargeLimitA[hour])).toEqual([0, 10, 50]);
    expect([4, 5].map((hour) => of('battery.noChargeBelow=-5 degC').chargeLimitA[hour])).toEqual([10, 10]);
    expect(Math.max(...of('battery.heater={ power: 60 W, below: 5 degC }').unswitchedW)).toBeGreaterThan(0.5);
    expect(of().chargeLimitA[4]).toBe(0);
    expect(beside(...lfp).variant.input.chargeEfficiency).not.toEqual(beside().base.input.chargeEfficiency);
    // another heater is another draw, on the same loads
    const heated = (belowC: number) => of(`battery.heater={ power: 60 W, below: ${belowC} degC }`).unswitchedW;
    const sum = (column: Float64Array) => column.reduce((total, watts) => total + watts, 0);
    expect(sum(heated(12))).toBeGreaterThan(1.2 * sum(heated(5)));
  });

  test('a battery that stands elsewhere shares what loads ask for', () => {
    const { base, variant } = beside('battery.stands=outside');
    expect(variant.input.plainW).toBe(base.input.plainW);
    expect(variant.batteryC).not.toEqual(base.batteryC);
  });

  test('mains are there with a charger for them alone', () => {
    const { base } = beside();
    expect(base.mainsShare![NOON]).toBe(0.5);
    const { mains: _, ...without } = rigWith();
    expect(assemble(without, conditions, 0.5)).not.toHaveProperty('mainsShare');
  });
});

test('a rig of many panels, loads and fridges is remembered whole', () => {
  const six = (of: (k: number) => string) => Array.from({ length: 6 }, (_, k) => of(k)).join(', ');
  const { rig } = readRig(`
name: invented
battery: { chemistry: LFP, capacity: 100 Ah }
solar: [${six((k) => `{ name: s${k}, power: ${100 + k} W, tilt: ${10 + k} deg }`)}]
loads: [${six((k) => `{ name: l${k}, power: ${1 + k} W }`)}, ${six((k) => `{ name: f${k}, kind: fridge, volume: ${30 + k} L }`)}]`);
  const memo = partMemo();
  const [first, second] = [0.5, 0.9].map((soc) => assemble(rig, conditions, soc, memo));
  for (let k = 0; k < 6; k++) {
    expect(second!.solar[k]).toBe(first!.solar[k]);
    expect(second!.plain[k]).toBe(first!.plain[k]);
    expect(second!.fridges[k]).toBe(first!.fridges[k]);
    expect(first!.plain[k]!.meanW![0]).toBe(1 + k);
    expect(first!.fridges[k]!.load.volumeL).toBe(30 + k);
    expect(first!.solar[k]!.array.powerW).toBe(100 + k);
  }
  // another controller on the first of them works under the light that is known
  const { solar } = rig;
  const changed = {
    ...rig,
    solar: [{ ...solar[0]!, controller: { ...solar[0]!.controller, currentA: 3 } }, ...solar.slice(1)],
  };
  const third = assemble(changed, conditions, 0.5, memo);
  expect(third.solar[0]!.plane).toBe(first!.solar[0]!.plane);
  expect(third.input.limitA[0]).toBe(3);
  expect(third.solar[4]).toBe(first!.solar[4]);
});

describe('with the engine run otherwise', () => {
  const driven = madeHours(rigWith(), { ...AIR, driving: (hour) => (hour === 15 ? 0.5 : 0) });

  test.each(['cabin', 'outside'])(
    'a memory gives the new hours of the engine, and the sun as it was: battery %s',
    (stands) => {
      const rig = rigWith(`battery.stands=${stands}`);
      const memo = partMemo();
      const before = assemble(rig, conditions, 0.5, memo);
      const after = assemble(rig, driven, 0.5, whenDriven(memo, rig));
      expect([before.engine!.share[9], before.engine!.share[15]]).toEqual([1, 0]);
      expect([after.engine!.share[9], after.engine!.share[15]]).toEqual([0, 0.5]);
      expect([after.input.chargerShare[24 + 9], after.input.chargerShare[24 + 15]]).toEqual([0, 0.5]);
      expect(after.solar[0]).toBe(before.solar[0]);
      expect(after.batteryC).toBe(before.batteryC);
      // and the first memory is as it was
      expect(assemble(rig, conditions, 0.5, memo).engine!.share[9]).toBe(1);
    },
  );

  test('a battery in the engine bay is as warm as it now gets', () => {
    const rig = rigWith('battery.stands=engine bay');
    const memo = partMemo();
    const before = assemble(rig, conditions, 0.5, memo);
    const after = assemble(rig, driven, 0.5, whenDriven(memo, rig));
    // 25 K while the engine runs, common practice, no source
    expect([before.batteryC[9], before.batteryC[15]]).toEqual([4 + 25, 10]);
    expect([after.batteryC[9], after.batteryC[15]]).toEqual([4, 10 + 12.5]);
  });
});

describe('a memory', () => {
  test('keeps the last few of each kind, the last ones used', () => {
    const memo = partMemo(2);
    let made = 0;
    const make = (reads: number, kind = 'kind') => memo(kind, reads, () => ++made);
    expect([1, 2, 1, 3, 1, 2].map((reads) => make(reads))).toEqual([1, 2, 1, 3, 1, 4]);
    expect([make(1, 'other'), make(1), make(1, 'other')]).toEqual([5, 1, 5]);
  });

  test('keeps four of a kind unless told otherwise', () => {
    const memo = partMemo();
    let made = 0;
    const make = (reads: number) => memo('kind', reads, () => ++made);
    expect([1, 2, 3, 4, 1, 5, 2].map(make)).toEqual([1, 2, 3, 4, 1, 5, 6]);
  });

  test('tells apart what JSON cannot', () => {
    const memo = partMemo(9);
    const values = [Infinity, -Infinity, null, undefined, ''];
    expect(values.map((value) => memo('kind', [value], () => value))).toEqual(values);
    expect(values.map((value) => memo('kind', [value], () => 'made again'))).toEqual(values);
  });

  test('of none makes everything anew', () => {
    let made = 0;
    const make = () => withoutMemo('kind', 1, () => ++made);
    expect([make(), make()]).toEqual([1, 2]);
  });
});
