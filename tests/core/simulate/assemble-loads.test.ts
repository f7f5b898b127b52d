import { describe, expect, test } from 'vitest';
import { assemble } from '../../../packages/core/src/simulate/inputs/assemble.js';
import { cableTerm } from '../../../packages/core/src/simulate/inputs/assemble-loads.js';
import { COOL_K, IDLE_C, KEEP, LOAD_WIDTH } from '../../../packages/core/src/simulate/loop/loop-rows.js';
import { layOutSteps } from '../../../packages/core/src/simulate/loop/loop-state.js';
import { assembledFor, copperOhm, madeHours, rigOf } from './made-hours.js';

const LFP = 'battery: { chemistry: LFP, capacity: 100 Ah }';
const HOURS = 24;
const loads = (list: string, rest = '') => `${LFP}\n${rest}\nloads: [${list}]`;
/** Each hour's value, from a function of the hour. */
const hourly = (value: (hour: number) => number) => Array.from({ length: HOURS }, (_, hour) => value(hour));
const evening = (hour: number, watts: number) => (hour >= 18 && hour < 20 ? watts : hour === 20 ? watts / 2 : 0);

describe('a load of its own', () => {
  const cable = 'cable: { length: 5 m, section: 2.5 mm2 }';
  const ohm = copperOhm(5, 7.98);

  test('asks for its watts, and for what its cable loses at them, while it is on', () => {
    const { input, plain } = assembledFor(loads(`{ name: lamp, power: 60 W, when: "18:00 to 20:30", ${cable} }`));
    expect(plain[0]!.ohm).toBeCloseTo(ohm, 9);
    const { plainW, plainQuad, plainCube, plainFourth, plainA } = input;
    for (let hour = 0; hour < HOURS; hour++) {
      const share = evening(hour, 1);
      expect(plainW[hour]!).toBeCloseTo(60 * share, 9);
      // in the half hour too it loses what 60 W lose, not what 30 W would: R·P², 2·R²·P³ and 5·R³·P⁴
      expect(plainQuad[hour]!).toBeCloseTo(ohm * 60 ** 2 * share, 6);
      expect(plainCube[hour]!).toBeCloseTo(2 * ohm ** 2 * 60 ** 3 * share, 6);
      expect(plainFourth[hour]!).toBeCloseTo(5 * ohm ** 3 * 60 ** 4 * share, 6);
      expect(plainA[hour]).toBe(0);
      expect(plain[0]!.runW![hour]).toBeCloseTo(share > 0 ? 60 : 0, 9);
    }
  });

  test('of amps takes them whatever the voltage', () => {
    const { input, plain } = assembledFor(loads(`{ name: pump, current: 4 A, when: "18:00 to 20:30", ${cable} }`));
    expect([...input.plainA]).toEqual(hourly((hour) => evening(hour, 4)));
    expect([...input.plainW]).toEqual(hourly(() => 0));
    expect(plain[0]!.runA).toBe(4);
    expect(plain[0]).not.toHaveProperty('meanW');
  });

  test('is joined by the others, each through its own cable', () => {
    const { input } = assembledFor(
      loads(
        `{ name: a, power: 60 W, ${cable} }, { name: b, power: 20 W }, { name: c, current: 4 A }, { name: d, current: 1 A }`,
      ),
    );
    expect(input.plainW[0]!).toBeCloseTo(80, 9);
    expect(input.plainA[0]!).toBeCloseTo(5, 9);
    const others = assembledFor(loads('{ name: b, power: 20 W }')).input;
    expect(input.plainQuad[0]!).toBeCloseTo(ohm * 60 ** 2 + others.plainQuad[0]!, 9);
    expect(input.plainFourth[0]!).toBeCloseTo(5 * ohm ** 3 * 60 ** 4 + others.plainFourth[0]!, 9);
  });

  test('follows the air, the cabin and the clock where it says so, and the charge in the loop', () => {
    const air = { ambientC: (hour: number) => hour, cabinC: (hour: number) => 2 * hour };
    const { input, socDraw } = assembledFor(loads('{ name: fan, power: "100 * ambient + 10 * cabin + hour" }'), air);
    expect([...input.plainW]).toEqual(hourly((hour) => 120 * hour + hour + 0.5));
    expect(socDraw).toBeUndefined();
    const bySoc = assembledFor(
      loads(`{ name: fan, power: "100 * ambient + 10 * cabin + hour + 1000 * soc", when: "18:00 to 20:30" },
        { name: lamp, power: "7 * soc" }, { name: radio, power: 3 W }`),
      air,
    );
    expect([...bySoc.input.plainW]).toEqual(hourly(() => 3));
    for (const hour of [0, 18, 20])
      expect(bySoc.socDraw!(hour, 0.5)).toBeCloseTo(evening(hour, 121 * hour + 0.5 + 500) + 3.5, 9);
    expect(bySoc.plain.map(({ byStep }) => byStep !== undefined)).toEqual([true, true, false]);
    // never below nothing
    expect(assembledFor(loads('{ name: odd, power: "100 * (soc - 0.5)" }')).socDraw!(3, 0.2)).toBe(0);
  });

  test('on the starter side is named, and asks for nothing', () => {
    const { input, starterSide, plain, fridges } = assembledFor(
      loads(
        `{ name: winch, current: 200 A, starterSide: true }, { name: cool box, kind: fridge, starterSide: true }, { name: lamp, power: 5 W }`,
      ),
    );
    expect(starterSide).toEqual(['winch', 'cool box']);
    expect([plain.length, fridges.length, input.fridges]).toEqual([1, 0, 0]);
    expect([...input.plainW]).toEqual(hourly(() => 5));
    expect([...input.plainA]).toEqual(hourly(() => 0));
  });
});

describe('behind the inverter', () => {
  const behind =
    '{ name: kettle, power: 300 W, when: "18:00 to 20:30", inverter: true }, { name: fan, power: "2 * hour", inverter: true }';
  const inverter = (on: string) =>
    `inverter: { rating: 500 W, standby: 6 W, efficiency: 90 %, on: ${on}, cable: { length: 1 m, section: 16 mm2 } }`;

  test('loads add up, and the battery feeds them with the inverter’s loss', () => {
    const { input, inverter: lane } = assembledFor(loads(behind, inverter('always')));
    expect([...lane!.askedW]).toEqual(hourly((hour) => 2 * hour + 1 + evening(hour, 300)));
    expect(lane!.loads.map(({ load }) => load.name)).toEqual(['kettle', 'fan']);
    expect(lane!.ohm).toBeCloseTo(copperOhm(1, 1.21), 9);
    // a load whose own cable and cut-out the loop solves exactly
    expect([...input.plainW]).toEqual(hourly(() => 0));
    expect([input.heavies, input.heavyOhm[0], input.heavyCutOutV[0]]).toEqual([1, lane!.ohm, 10.5]);
    for (const hour of [0, 19]) {
      const watts = lane!.columns.inputW[hour]!;
      expect(watts).toBeGreaterThan(lane!.askedW[hour]! / 0.9);
      expect(input.heavyW[hour]! * input.heavyRuns[hour]!).toBeCloseTo(watts, 9);
    }
  });

  test('amps, which no file can give, are read as watts at 12 V', () => {
    const rig = rigOf(loads(behind, inverter('always')));
    const amps = rig.loads.map((load) => ({ ...load, draw: { kind: 'current' as const, currentA: 3 } }) as typeof load);
    const { inverter: lane } = assemble({ ...rig, loads: amps }, madeHours(rig), 0.5);
    expect([...lane!.askedW]).toEqual(hourly((hour) => 36 + evening(hour, 36)));
  });

  test('nothing is on with loads only while none runs', () => {
    const one = '{ name: kettle, power: 300 W, when: "18:00 to 20:30", inverter: true }';
    const drawn = (on: string, list: string) => {
      const { plainW, heavyW, heavyRuns } = assembledFor(loads(list, inverter(on))).input;
      return [...plainW.map((watts, i) => watts + (heavyW[i] ?? 0) * (heavyRuns[i] ?? 0))];
    };
    expect(drawn('with loads', one)[3]).toBe(0);
    expect(drawn('always', one)[3]).toBe(6);
    expect(drawn('with loads', one)[20]! - drawn('with loads', one)[3]!).toBeCloseTo(
      drawn('with loads', one)[19]! / 2,
      9,
    );
    // one without any load takes its standby when always on
    expect(drawn('always', '{ name: lamp, power: 10 W }')).toEqual(hourly(() => 16));
    expect(drawn('with loads', '{ name: lamp, power: 10 W }')).toEqual(hourly(() => 10));
    expect(assembledFor(loads('{ name: lamp, power: 10 W }'))).not.toHaveProperty('inverter');
  });
});

describe('a fridge', () => {
  const fridge = (name: string, rest = '') =>
    `{ name: ${name}, kind: fridge, volume: 45 L, setpoint: 4 degC, insulation: 40 mm, contents: 9 kg, openings: 0, standby: 0 W, cutOut: 10.5 V, cutIn: 11.8 V${rest} }`;
  const air = { ambientC: 10, cabinC: (hour: number) => 20 + hour / 4 };
  const of = (...list: string[]) => assembledFor(loads(list.join(', ')), air);

  test('meets the air it stands in, by its walls, and has its compressor’s watts', () => {
    const { input, fridges } = of(fridge('inside'));
    const { model, columns } = fridges[0]!;
    input.fridgeInflowW.forEach((watts, hour) => {
      expect(input.fridgeLossWPerK[hour]).toBeCloseTo(model.uaWPerK, 12);
      expect(watts).toBeCloseTo(model.uaWPerK * (20 + hour / 4), 9);
      expect(input.fridgeCoolingW[hour]).toBe(columns.coolingW[hour]);
      expect(input.fridgeRunW[hour]).toBe(columns.electricW[hour]);
    });
    expect([input.fridgeContentKg[0], input.fridgeLinerWhPerK[0], input.fridgePartner[0]]).toEqual([9, 0.03 * 45, -1]);
    const out = of(fridge('out', ', stands: outside'));
    for (const watts of out.input.fridgeInflowW) expect(watts).toBeCloseTo(10 * model.uaWPerK, 9);
  });

  test('in rows tends to that air without its compressor, with food to what air and food mix to, and below it by its cooling', () => {
    const food = of(fridge('fed', ', warmFood: [{ mass: 3 kg, at: "18:00", temperature: 30 degC }]'));
    const { uaWPerK } = food.fridges[0]!.model;
    const rows = layOutSteps(food.input);
    const width = rows.length / HOURS;
    const row = (hour: number, place: number) => rows[hour * width + LOAD_WIDTH + place]!;
    const kgW = 4.186 / 3.6; // a kilogram of water an hour
    for (const hour of [17, 18, 20, 21]) {
      const eaten = hour >= 18 && hour < 21 ? kgW : 0;
      const air = 20 + hour / 4;
      expect(row(hour, IDLE_C)).toBeCloseTo((uaWPerK * air + eaten * 30) / (uaWPerK + eaten), 9);
      expect(row(hour, COOL_K)).toBeCloseTo(food.input.fridgeCoolingW[hour]! / (uaWPerK + eaten), 9);
      expect(row(hour, KEEP)).toBeCloseTo(Math.exp(-(uaWPerK + eaten) / (9 * kgW + 0.03 * 45)), 9);
    }
  });

  test('with a second zone is two rooms on one compressor', () => {
    const { input, fridges } = of(fridge('zoned', ', secondZone: { volume: 15 L, setpoint: -16 degC }'));
    expect([...input.fridgeSetC]).toEqual([4, -16]);
    expect([...input.fridgePartner]).toEqual([1, 0]);
    expect(input.fridgeLossWPerK[0]!).toBeCloseTo(3 * input.fridgeLossWPerK[HOURS]!, 9);
    expect(fridges.map(({ standbyW, load }) => [standbyW, load.name])).toEqual([
      [0, 'zoned'],
      [0, 'zoned'],
    ]);
  });

  test('begins as it is told, or at its set point, and keeps its own limits', () => {
    const cable = ', cable: { length: 4 m, section: 2.5 mm2 }';
    const { input } = of(
      fridge('a', ', start: 18 degC'),
      fridge('b', `${cable}, cover: 20 %`).replace('4 degC', '-15 degC').replace('10.5', '10.8'),
    );
    expect(input.fridges).toBe(2);
    expect([...input.fridgeStartC]).toEqual([18, -15]);
    expect([...input.fridgeSetC]).toEqual([4, -15]);
    expect([...input.fridgeCutOutV]).toEqual([10.5, 10.8]);
    expect([...input.fridgeCutInV]).toEqual([11.8, 11.8]);
    expect(input.fridgeOhm[1]!).toBeCloseTo(copperOhm(4, 7.98), 9);
    expect(input.fridgeOhm[0]!).toBeLessThan(input.fridgeOhm[1]!);
    // lane by lane: the freezer takes out less heat for its watts
    expect(input.fridgeRunW).toHaveLength(2 * HOURS);
    expect(input.fridgeRunW[HOURS]!).toBeGreaterThan(0);
    expect(input.fridgeCoolingW[HOURS]!).toBeLessThan(input.fridgeCoolingW[0]! - 1);
  });

  test('has electronics that draw all day, behind the disconnect', () => {
    const { input } = of(
      fridge('a').replace('standby: 0 W', 'standby: 1.5 W'),
      fridge('b').replace('standby: 0 W', 'standby: 0.5 W'),
    );
    expect([...input.plainW]).toEqual(hourly(() => 2));
    expect([...input.unswitchedW]).toEqual(hourly(() => 0));
  });
});

test('controllers draw day and night, ahead of the disconnect', () => {
  const solar =
    'solar: [{ power: 100 W, controller: { standby: 0.5 W } }, { power: 100 W, controller: { standby: 0.25 W } }]';
  const { input, standbyW } = assembledFor(loads('{ name: lamp, power: 5 W }', solar));
  expect(standbyW).toBe(0.75);
  expect([...input.unswitchedW]).toEqual(hourly(() => 0.75));
  expect([...input.plainW]).toEqual(hourly(() => 5));
  // a heater in the battery on top of them
  const heated = LFP.replace(' }', ', stands: outside, heater: { power: 60 W, below: 20 degC } }');
  const cold = assembledFor(`${heated}\n${solar}`, { ambientC: 0 });
  expect([...cold.input.unswitchedW]).toEqual([...cold.heaterW!].map((watts) => watts + 0.75));
  expect(Math.max(...cold.heaterW!)).toBeGreaterThan(1);
});

test('a cable’s loss as a series: to x³ it is what the exact current (V − √(V² − 4PR))/2R loses', () => {
  for (const [volts, watts, ohm] of [
    [12, 60, 0.05],
    [13, 200, 0.02],
    [25, 100, 0.3],
  ] as const) {
    const x = (watts * ohm) / volts ** 2;
    const amps = (volts - Math.sqrt(volts ** 2 - 4 * watts * ohm)) / (2 * ohm);
    const exact = (amps ** 2 * ohm) / watts;
    const series = ([1, 2, 3] as const).reduce((sum, n) => sum + cableTerm(n, ohm, watts) / volts ** (2 * n), 0);
    // what is left out is 14x⁴ and what follows, 42x⁵ …
    expect(exact - series).toBeGreaterThan(14 * x ** 4);
    expect(exact - series).toBeLessThan(14 * x ** 4 * (1 + 6 * x));
  }
});
