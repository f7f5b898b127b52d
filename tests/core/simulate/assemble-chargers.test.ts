import { describe, expect, test } from 'vitest';
import { CONVERTER, PWM, RELAY } from '../../../packages/core/src/simulate/loop/loop.js';
import { assembledFor, copperOhm } from './made-hours.js';

const LFP = 'battery: { chemistry: LFP, capacity: 100 Ah }';
const roof = (controller = 'kind: MPPT', rest = '') =>
  `solar: [{ name: roof, power: 200 W, controller: { ${controller}, current: 15 A }${rest} }]`;
/** 80 A on the road at 25 °C, of which the vehicle takes 20; held at 14.4 V. */
const alternator = (rest: string) =>
  `alternator: { rating: 100 A, hotShare: 80 %, vehicle: 20 A, voltage: 14.4 V, ${rest} }`;
const drive = { ambientC: 25, driving: (hour: number) => (hour === 9 ? 1 : hour === 10 ? 0.3 : 0) };
const HOURS = 24;
/** The part of a lane column that is of one lane. */
const lane = (column: Float64Array, j: number) => column.subarray(j * HOURS, (j + 1) * HOURS);

describe('a DC-DC charger', () => {
  const dcdc = (rest = '', cable = '') =>
    alternator(`charger: { kind: dcdc, current: 30 A, efficiency: 90 %, inputCutOut: 12 V${rest} }${cable}`);

  test('has what the alternator has left, less its cable and its own loss, for the share of the hour that it is driven', () => {
    const { input, engine } = assembledFor(
      `${LFP}\n${dcdc('', ', cable: { length: 4 m, section: 16 mm2 }, outputCable: { length: 1 m, section: 10 mm2 }')}`,
      drive,
    );
    expect(input.chargers).toBe(1);
    expect(input.chargerKind[0]).toBe(CONVERTER);
    const ohm = copperOhm(4, 1.21);
    expect(engine!.inputOhm).toBeCloseTo(ohm, 9);
    const watts = 0.9 * (14.4 - 60 * ohm) * 60;
    for (const hour of [9, 10]) expect(input.drive[hour]!).toBeCloseTo(watts, 6);
    expect([8, 11].map((hour) => input.drive[hour])).toEqual([0, 0]);
    expect([8, 9, 10, 11].map((hour) => input.chargerShare[hour])).toEqual([0, 1, 0.3, 0]);
    expect([...input.limitA]).toEqual(Array(HOURS).fill(30));
    expect(input.chargerOhm[0]!).toBeCloseTo(copperOhm(1, 1.91), 9);
    expect(input.sharesWith[0]).toBe(-1);
  });

  test('takes through a thin cable no more than leaves it its cut-out voltage', () => {
    const { input } = assembledFor(`${LFP}\n${dcdc('', ', cable: { length: 6 m, section: 2.5 mm2 }')}`, drive);
    // 2.4 V of drop over 6 m of 7.98 Ω/km
    const amps = 2.4 / copperOhm(6, 7.98);
    expect(amps).toBeLessThan(60);
    expect(input.drive[9]!).toBeCloseTo(0.9 * 12 * amps, 6);
  });

  test('shares its rating with the first panel’s lane when both are in one box, and only where there is a panel', () => {
    const shares = (yaml: string) => [...assembledFor(`${LFP}\n${yaml}`, drive).input.sharesWith];
    expect(shares(`${roof()}\n${dcdc(', sharedWithSolar: true')}`)).toEqual([-1, 0]);
    expect(shares(`${roof()}\n${dcdc()}`)).toEqual([-1, -1]);
    expect(shares(dcdc(', sharedWithSolar: true'))).toEqual([-1]);
  });
});

test('a relay joins both batteries through its own resistance and both cables, at the alternator’s voltage', () => {
  const cables = ', cable: { length: 4 m, section: 16 mm2 }, outputCable: { length: 1 m, section: 10 mm2 }';
  const { input, engine } = assembledFor(
    `${LFP.replace(' }', ', charge: { absorption: 14.3 V } }')}\n${alternator(`charger: { kind: relay, resistance: 3 mohm }${cables}`)}`,
    drive,
  );
  expect(input.chargerKind[0]).toBe(RELAY);
  expect(input.chargerOhm[0]!).toBeCloseTo(0.003 + copperOhm(4, 1.21) + copperOhm(1, 1.91), 9);
  expect([input.drive[9], input.drive[10], input.drive[11]]).toEqual([14.4, 14.4, 0]);
  expect([input.limitA[9], input.limitA[10], input.limitA[11]]).toEqual([60, 60, 0]);
  expect([input.chargerShare[9], input.chargerShare[10], input.chargerShare[11]]).toEqual([1, 0.3, 0]);
  expect(input.absorptionV[0]).toBe(14.3);
  expect(engine!.charger.kind).toBe('relay');
});

test('mains give their rating while plugged in, whatever the battery’s voltage', () => {
  const mains = { mains: (hour: number) => (hour === 2 ? 0.5 : hour === 3 ? 1 : 0) };
  const of = (battery: string) =>
    assembledFor(`${battery}\nmains: { current: 10 A, cable: { length: 3 m, section: 4 mm2 } }`, mains).input;
  for (const [battery, nominalV] of [
    [LFP, 12],
    [LFP.replace(' }', ', series: 2 }'), 24],
  ] as const) {
    const input = of(battery);
    expect(input.chargerKind[0]).toBe(CONVERTER);
    expect([1, 2, 3, 4].map((hour) => input.limitA[hour])).toEqual([0, 10, 10, 0]);
    expect([1, 2, 3, 4].map((hour) => input.chargerShare[hour])).toEqual([0, 0.5, 1, 0]);
    // no bank comes to twice its nominal voltage, nor the cable to as much again: the current binds, not the power
    expect(input.drive[3]!).toBeGreaterThanOrEqual(10 * 2 * nominalV);
    expect(input.drive[4]).toBe(0);
    expect(input.chargerOhm[0]!).toBeCloseTo(copperOhm(3, 4.95), 9);
  }
  expect(assembledFor(LFP, mains).input.chargers).toBe(0);
});

describe('set points', () => {
  const AGM =
    'battery: { chemistry: AGM, capacity: 100 Ah, stands: outside, thermalLag: 0 h, charge: { absorption: 14.6 V, float: 13.7 V, holdFor: 3 h, fullBelow: 2 %, restartBelow: 12.8 V, perDegree: -24 mV/K } }';
  const own =
    'charge: { absorption: 14.1 V, float: 13.4 V, holdFor: 1 h, fullBelow: 5 %, restartBelow: 12.5 V, perDegree: -12 mV/K }';
  const air = { ambientC: (hour: number) => hour };

  test('are the charger’s own where it has any, lane by lane in the order panels, engine, mains', () => {
    const dcdc = alternator('charger: { kind: dcdc, current: 30 A }');
    const { input } = assembledFor(`${AGM}\n${roof(`kind: MPPT, ${own}`)}\n${dcdc}\nmains: { current: 10 A }`, air);
    expect(input.chargers).toBe(3);
    expect([...input.absorptionV]).toEqual([14.1, 14.6, 14.6]);
    expect([...input.floatV]).toEqual([13.4, 13.7, 13.7]);
    expect([...input.holdH]).toEqual([1, 3, 3]);
    expect([...input.tailA]).toEqual([5, 2, 2]);
    expect([...input.restartBelowV]).toEqual([12.5, 12.8, 12.8]);
    expect([0, 1, 2].map((j) => lane(input.limitA, j)[12])).toEqual([15, 30, 0]);
    const others = assembledFor(
      `${AGM}\n${alternator(`charger: { kind: dcdc, current: 30 A, ${own} }`)}\nmains: { current: 10 A, ${own} }`,
      air,
    ).input;
    expect([...others.absorptionV]).toEqual([14.1, 14.1]);
  });

  test('follow the cells: so many millivolts for each kelvin away from 25 °C, no higher than 15 V', () => {
    const { input } = assembledFor(`${AGM}\n${roof(`kind: MPPT, ${own}`)}\nmains: { current: 10 A }`, air);
    for (let hour = 0; hour < HOURS; hour++) {
      expect(lane(input.compensationV, 0)[hour]!).toBeCloseTo(Math.min(0.9, 0.012 * (25 - hour)), 9);
      expect(lane(input.compensationV, 1)[hour]!).toBeCloseTo(Math.min(0.4, 0.024 * (25 - hour)), 9);
    }
    const bank = assembledFor(
      `${AGM.replace('}', '}, series: 2').replace(/charge: {.*?}, /, '')}\nmains: { current: 10 A }`,
      air,
    ).input;
    expect(bank.absorptionV[0]).toBeCloseTo(28.8, 9);
    expect(bank.compensationV[20]!).toBeCloseTo(0.048 * 5, 9);
    expect([...assembledFor(`${LFP}\nmains: { current: 10 A }`, air).input.compensationV]).toEqual(
      Array(HOURS).fill(0),
    );
  });

  test('the tail current grows with the bank', () => {
    const { tailA } = assembledFor(`${AGM.replace('100 Ah', '100 Ah, count: 3')}\nmains: { current: 10 A }`, air).input;
    expect(tailA[0]).toBeCloseTo(6, 9);
  });
});

describe('panels', () => {
  const cables = ', cable: { length: 5 m, section: 6 mm2 }, outputCable: { length: 2 m, section: 4 mm2 }';

  test('behind MPPT drive what the controller can put out, up to its rating', () => {
    const { input, solar } = assembledFor(`${LFP}\n${roof('kind: MPPT', cables)}`);
    expect(input.chargerKind[0]).toBe(CONVERTER);
    expect([...input.drive]).toEqual([...solar[0]!.maxOutputW]);
    expect(input.drive[12]!).toBeGreaterThan(100);
    expect(input.drive[0]).toBe(0);
    expect([...input.limitA]).toEqual(Array(HOURS).fill(15));
    expect([...input.chargerShare]).toEqual(Array(HOURS).fill(1));
    expect(input.chargerOhm[0]!).toBeCloseTo(copperOhm(2, 4.95), 9);
    expect(input.pwmA[0]).toHaveLength(0);
  });

  test.each([1, 2])(
    'behind PWM, a bank of %i times 12 V, are a table of currents over the voltages about the bank’s',
    (series) => {
      const { input, solar } = assembledFor(
        `${LFP.replace(' }', `, series: ${series} }`)}\n${roof('kind: PWM', `, count: ${series}, series: ${series}${cables}`)}\nmains: { current: 10 A }`,
      );
      expect([...input.chargerKind]).toEqual([PWM, CONVERTER]);
      const table = solar[0]!.columns.currentAtV!;
      expect(input.pwmA[0]).toEqual(table.currentA);
      expect(input.pwmA[1]).toHaveLength(0);
      expect(table.currentA).toHaveLength(HOURS * input.pwmPoints);
      // 10 to 16 V for each 12 V
      expect(input.pwmFromV).toBeCloseTo(10 * series, 9);
      expect(input.pwmFromV + (input.pwmPoints - 1) * input.pwmStepV).toBeCloseTo(16 * series, 9);
      expect(input.pwmDropV).toBeCloseTo(0.25 * series, 9); // common practice, no source
      const lit = [...solar[0]!.columns.availableW].map((watts) => (watts > 0 ? 1 : 0));
      expect([...lane(input.drive, 0)]).toEqual(lit);
      expect(new Set(lit)).toEqual(new Set([0, 1]));
      expect([...input.pwmOhm]).toEqual([solar[0]!.cableOhm, 0]);
      expect(solar[0]!.cableOhm).toBeCloseTo(copperOhm(5, 3.3), 9);
    },
  );

  test('a loop without PWM has a table of two points that gives nothing', () => {
    const { input } = assembledFor(`${LFP}\n${roof()}`);
    expect(input.pwmPoints).toBeGreaterThanOrEqual(2);
    expect(input.pwmStepV).toBeGreaterThan(0);
    expect([...input.pwmOhm]).toEqual([0]);
  });
});
